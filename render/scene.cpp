#include "render/scene.h"

#include <algorithm>
#include <future>
#include <osg/BlendFunc>
#include <osg/CullFace>
#include <osg/Depth>
#include <osg/Uniform>

#include "render/car_nodes.h"
#include "render/graph.h"
#include "render/kept_part.h"
#include "render/plate_nodes.h"
#include "render/scan_nodes.h"
#include "render/section_nodes.h"
#include "render/stage.h"
#include "render/tube_nodes.h"

namespace hoopwright {

namespace {

/// All that the shadow on the ground depends on.
struct GroundCasters {
    std::vector<ShadeRod> tubes;
    std::vector<Footprint> body;
    double ground_z_mm = 0;
    friend bool operator==(const GroundCasters&, const GroundCasters&) = default;
};

/// What is shown of the things that throw shadow.
bool sameCasters(const SceneLook& a, const SceneLook& b) {
    return a.show_drivers == b.show_drivers && a.show_plates == b.show_plates &&
           a.hidden_members == b.hidden_members && a.only == b.only;
}

}  // namespace

struct CageScene::Parts {
    Parts()
        : outlines(makeOutlines(stage)),
          tubes(stage.lit(), outlines),
          plates(stage.lit()),
          car(stage.lit(), stage.root(), stage.programs()),
          scans(stage.root(), stage.programs()),
          drivers(stage.lit(), stage.root(), stage.programs()),
          section(stage.root(), stage.programs()),
          evidence(makeEvidence(stage)) {}

    static osg::ref_ptr<osg::Group> makeOutlines(Stage& stage) {
        osg::ref_ptr<osg::Group> group = new osg::Group;
        group->setName("outlines");
        group->setNodeMask(kOutline);
        auto* state = group->getOrCreateStateSet();
        state->setAttributeAndModes(stage.programs().outline);
        state->setAttributeAndModes(new osg::CullFace(osg::CullFace::FRONT));
        stage.root()->addChild(group);
        return group;
    }

    static osg::ref_ptr<osg::Group> makeEvidence(Stage& stage) {
        osg::ref_ptr<osg::Group> group = new osg::Group;
        group->setName("evidence");
        group->setNodeMask(kEvidence);
        auto* state = group->getOrCreateStateSet();
        state->setAttributeAndModes(stage.programs().flat);
        state->setMode(GL_DEPTH_TEST, osg::StateAttribute::OFF);
        state->setAttributeAndModes(new osg::Depth(osg::Depth::ALWAYS, 0, 1, false));
        state->setAttributeAndModes(
            new osg::BlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
        state->setRenderBinDetails(60, "RenderBin");
        stage.root()->addChild(group);
        return group;
    }

    void dress() {
        tubes.dress(cage, {look, marks, gaps, paints, selected});
        plates.dress(selected, look);
        scans.dress(selected, look.dark);
        stage.setDark(look.dark);
        stage.showGround(look.show_ground);
        car.setDark(look.dark);
        car.show(carShown());
        scans.show(carShown() && look.show_scans);
        drivers.show(look.show_drivers && look.only.empty());
        plates.show(look.show_plates);
    }

    /// What draft leaves out.
    void applyQuality() {
        const bool full = quality == Quality::full;
        stage.setDraft(!full);
        tubes.setQuality(quality);
        drivers.setQuality(quality);
        scans.setQuality(quality);
        outlines->setNodeMask(full ? kOutline : 0u);
        car.show(carShown());
        car.drawSkin(full && carShown());
        if (look.section || cut_before) cutNow();
        cut_before = look.section.has_value();
    }

    /// After everything it cuts.
    void cutNow() {
        stage.setSection(look.section);
        SectionNodes::Parts parts;
        if (look.section) {
            parts.tubes = tubes.solids();
            parts.metal = {plates.node(), car.solid()};
            parts.body = {drivers.solid()};
            if (carShown() && car.skin()->getNumChildren() > 0)
                parts.skins.push_back(car.skin()->getChild(0));
            if (carShown() && look.show_scans) parts.skins.push_back(scans.node());
            parts.dark = look.dark;
        }
        section.set(look.section, parts);
    }

    bool carShown() const { return look.show_car && look.only.empty(); }

    Stage stage;
    osg::ref_ptr<osg::Group> outlines;
    TubeNodes tubes;
    PlateNodes plates;
    CarNodes car;
    ScanNodes scans;
    DriverNodes drivers;
    SectionNodes section;
    osg::ref_ptr<osg::Group> evidence;

    CageGeometry cage;
    double ground_z_mm = 0;
    std::vector<Footprint> footprints;
    SceneLook look;
    std::vector<Mark> marks;
    std::vector<GapProfile> gaps;
    std::vector<BarPaint> paints;
    std::vector<std::string> selected;
    Quality quality = Quality::full;
    Box bounds;
    GroundCasters on_ground;  // what the baked ground shadow was made of
    bool cut_before = false;
    bool lamp_stale = true;  // what throws shadow into the lamp's map changed
};

namespace {

constexpr double kBelt_mm = 480;  // of the skin that throws shadow, over the ground

/// What dims the ground: the floor of the body, its skin under the lamp, and the tyres where they stand.
std::vector<Footprint> footprintsOf(const Car& car, const Box& car_bounds) {
    std::vector<Footprint> prints;
    if (car_bounds.isEmpty()) return prints;
    if (!car.shell.empty() && car.shell.front().outline.size() > 0) {
        double x0 = 1e300, x1 = -1e300, half = 0, low = 1e300;
        for (const ShellStation& s : car.shell) {
            x0 = std::min(x0, s.x_mm);
            x1 = std::max(x1, s.x_mm);
            for (const Vec2& p : s.outline) {
                half = std::max(half, p.x());
                low = std::min(low, p.y());
            }
        }
        prints.push_back({x0 + 60, x1 - 60, -half, half, std::max(40.0, low - car.ground_z_mm), 0.38});
        // The lamp throws a pale, soft shadow of a skin that lets most light through.
        const Vec3 fall = -kBelt_mm / kKeyLight.z() * kKeyLight;
        prints.push_back({x0 + fall.x(), x1 + fall.x(), fall.y() - half, fall.y() + half, 300, 0.14});
    }
    for (const Wheel& wheel : car.wheels) {
        const double r = wheel.diameter_mm / 2, w = wheel.width_mm / 2;
        prints.push_back({wheel.centre.x() - 0.42 * r, wheel.centre.x() + 0.42 * r, wheel.centre.y() - w,
                          wheel.centre.y() + w, 26, 0.75});
        prints.push_back({wheel.centre.x() - r, wheel.centre.x() + r, wheel.centre.y() - w,
                          wheel.centre.y() + w, 110, 0.35});
    }
    return prints;
}

}  // namespace

CageScene::CageScene() : parts_(std::make_unique<Parts>()) {
    parts_->applyQuality();
    parts_->dress();
}

CageScene::~CageScene() = default;

void CageScene::set(const Job& job, const CageGeometry& cage) {
    Parts& p = *parts_;
    p.cage = cage;
    p.tubes.set(p.cage);
    p.plates.set(job.cage, p.cage);
    p.car.set(job.car);
    p.scans.set(job.car, job.scan_meshes);
    p.drivers.set(job.drivers, p.cage);
    p.ground_z_mm = job.car.ground_z_mm;
    p.footprints = footprintsOf(job.car, p.car.bounds());

    Box box = p.car.bounds(), lit;
    for (const ResolvedMember& member : p.cage.members) {
        if (member.line.empty()) continue;
        Box tube = member.line.bounds();
        tube.min() -= Vec3::Constant(member.radius_mm());
        tube.max() += Vec3::Constant(member.radius_mm());
        lit.extend(tube);
    }
    for (const ResolvedPlate& plate : p.cage.plates)
        for (const Vec2& corner : plate.outline)
            lit.extend(plate.at + plate.axes * Vec3(corner.x(), corner.y(), 0));
    for (const Driver& driver : job.drivers) {
        for (const Vec3& point : {driver.helmet.centre, driver.hip, driver.knee_left, driver.heel_left,
                                  driver.heel_right, driver.elbow_left, driver.elbow_right})
            lit.extend(Vec3(point - Vec3::Constant(180))).extend(Vec3(point + Vec3::Constant(180)));
    }
    box.extend(lit);
    if (!p.scans.bounds().isEmpty()) box.extend(p.scans.bounds());
    p.bounds = box;
    p.stage.setLitBox(lit.isEmpty() ? box : lit);
    p.stage.setGround(p.ground_z_mm, box.isEmpty() ? Vec3::Zero() : Vec3(box.center()));
    p.lamp_stale = true;
    p.dress();
    p.applyQuality();
}

void CageScene::setLook(const SceneLook& look) {
    parts_->lamp_stale = parts_->lamp_stale || !sameCasters(look, parts_->look);
    parts_->look = look;
    parts_->dress();
    parts_->applyQuality();
}

void CageScene::setMarks(std::vector<Mark> marks) {
    parts_->marks = std::move(marks);
    parts_->dress();
    parts_->applyQuality();
}

void CageScene::setGaps(std::vector<GapProfile> gaps) {
    if (parts_->gaps == gaps) return;
    parts_->gaps = std::move(gaps);
    parts_->dress();
    parts_->applyQuality();
}

void CageScene::setPaints(std::vector<BarPaint> paints) {
    if (parts_->paints == paints) return;
    parts_->paints = std::move(paints);
    parts_->dress();
    parts_->applyQuality();
}

void CageScene::setSelected(std::vector<std::string> ids) {
    parts_->selected = std::move(ids);
    parts_->dress();
    parts_->applyQuality();
}

void CageScene::setQuality(Quality quality) {
    if (parts_->quality == quality) return;
    parts_->quality = quality;
    parts_->applyQuality();
}

void CageScene::setViewport(int width_px, int height_px, double line_px) {
    parts_->stage.setViewport(width_px, height_px, line_px);
}

void CageScene::setPart(int below_px, int whole_px) {
    parts_->stage.setPart(below_px, whole_px);
}

bool CageScene::bake() {
    Parts& p = *parts_;
    const std::vector<ShadeRod> rods = p.tubes.capsules();
    GroundCasters casters{
        keptRods(rods, p.look.section),
        keptFootprints(p.carShown() ? p.footprints : std::vector<Footprint>{}, p.look.section, p.ground_z_mm),
        p.ground_z_mm};
    const bool ground_changed = casters != p.on_ground;
    std::future<GroundShadow> ground;  // worked out beside the tubes
    if (ground_changed)
        ground = std::async(std::launch::async, [&casters] {
            return groundShadow(casters.tubes, casters.body, casters.ground_z_mm, kKeyLight);
        });
    const bool tubes_changed = p.tubes.bake(p.cage, p.ground_z_mm);
    if (tubes_changed) p.plates.tubesChanged();
    const bool plates_changed = p.plates.bake(rods, p.ground_z_mm);
    if (!tubes_changed && !plates_changed && !ground_changed && !p.lamp_stale) return false;
    if (ground_changed) p.stage.setGroundShadow(ground.get());
    p.on_ground = std::move(casters);
    p.stage.redrawShadows();
    p.lamp_stale = false;
    p.applyQuality();
    return true;
}

void CageScene::contextRecreated() {
    parts_->stage.contextRecreated();
}

osg::Group* CageScene::root() const {
    return parts_->stage.root();
}

osg::Group* CageScene::evidence() const {
    return parts_->evidence;
}

Box CageScene::bounds() const {
    return parts_->bounds;
}

Box CageScene::boundsOfScan(const std::string& file) const {
    return parts_->scans.boundsOf(file);
}

std::size_t CageScene::triangles() const {
    return parts_->tubes.triangles() + parts_->scans.triangles();
}

}  // namespace hoopwright
