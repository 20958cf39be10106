#include <algorithm>
#include <osg/BlendFunc>
#include <osg/Depth>
#include <osg/Uniform>

#include "core/driver/straps.h"
#include "render/car_nodes.h"
#include "render/driver_figure.h"
#include "render/graph.h"

namespace hoopwright {
namespace {

osg::ref_ptr<osg::Geode> part(const Mesh& mesh, float rough, float kind = 0) {
    if (mesh.triangles.empty()) return nullptr;
    auto geode = geodeOf(toGeometry(mesh, {0.5f, 0.5f, 0.5f}));
    geode->getOrCreateStateSet()->addUniform(new osg::Uniform("material", osg::Vec4(0.0f, rough, kind, 1)));
    return geode;
}

/// Two people who cannot both be there: hip points nearer than a seat is wide.
bool sameSeat(const Driver& a, const Driver& b) {
    constexpr double kSeat_mm = 320;
    return (a.hip - b.hip).norm() < kSeat_mm;
}

}  // namespace

DriverNodes::DriverNodes(osg::Group* lit, osg::Group* root, const Programs& programs)
    : programs_(programs),
      solid_(new osg::Group),
      fine_(new osg::Group),
      coarse_(new osg::Group),
      belts_(new osg::Group),
      ghosts_(new osg::Group) {
    solid_->setName("drivers");
    belts_->setName("belts");
    ghosts_->setName("other helmets");
    for (osg::Group* group : {solid_.get(), belts_.get(), ghosts_.get()}) group->setNodeMask(kDriver);
    lit->addChild(solid_);
    solid_->addChild(fine_);
    solid_->addChild(coarse_);
    setQuality(Quality::full);
    lit->addChild(belts_);
    root->addChild(ghosts_);
    auto* state = ghosts_->getOrCreateStateSet();
    state->setAttributeAndModes(programs_.shell);
    state->setRenderBinDetails(16, "RenderBin");
    state->setMode(GL_CULL_FACE, osg::StateAttribute::ON);
    state->setAttributeAndModes(
        new osg::BlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
    state->setAttributeAndModes(new osg::Depth(osg::Depth::LEQUAL, 0, 1, false));
    state->addUniform(new osg::Uniform("skin", osg::Vec4(0.30f, 0.33f, 0.38f, 0.02f)));
    state->addUniform(new osg::Uniform("skin_edge", osg::Vec3(0.30f, 0.18f, 0.5f)));
    state->addUniform(new osg::Uniform("nearer", 0.0f));
}

void DriverNodes::set(const std::vector<Driver>& drivers, const CageGeometry& cage) {
    std::vector<double> bars;
    for (const Driver& driver : drivers) {
        if (driver.belts.bar.empty()) continue;
        for (const int index : barsNamed(cage, driver.belts.bar)) {
            const ResolvedMember& bar = cage.members[static_cast<std::size_t>(index)];
            bars.push_back(bar.section.od_mm);
            for (const Piece& piece : bar.line.pieces())
                for (const Vec3& v : {piece.start, piece.tangent, piece.axis})
                    bars.insert(bars.end(), {v.x(), v.y(), v.z(), piece.length_mm});
        }
    }
    const bool people_changed = drivers != shown_;
    if (!people_changed && bars == bar_print_) return;
    shown_ = drivers;
    bar_print_ = bars;
    belts_->removeChildren(0, belts_->getNumChildren());
    if (people_changed) {
        fine_->removeChildren(0, fine_->getNumChildren());
        coarse_->removeChildren(0, coarse_->getNumChildren());
        ghosts_->removeChildren(0, ghosts_->getNumChildren());
    }
    for (std::size_t i = 0; i < drivers.size(); ++i) {
        const Driver& driver = drivers[i];
        const bool other = std::any_of(drivers.begin(), drivers.begin() + static_cast<std::ptrdiff_t>(i),
                                       [&](const Driver& first) { return sameSeat(first, driver); });
        const auto add = [](osg::Group& group, const osg::ref_ptr<osg::Geode>& geode) {
            if (geode) group.addChild(geode);
        };
        if (other) {
            if (people_changed) ghosts_->addChild(geodeOf(toGeometry(helmetShell(driver), {})));
            continue;
        }
        add(*belts_, part(beltStraps(driver, cage), 0.55f));
        if (!people_changed) continue;
        add(*fine_, part(driverBody(driver), 0.75f));
        constexpr double kCoarse_mm = 24;
        add(*coarse_, part(driverBody(driver, kCoarse_mm), 0.75f));
        add(*fine_, part(helmetShell(driver), 0.05f, 3));
        add(*coarse_, part(helmetShell(driver, 16), 0.05f));
        add(*fine_, part(helmetVisor(driver), 0.02f, 3));
        const auto seat = part(seatShell(driver), 0.35f), wheel = part(steeringWheel(driver), 0.5f);
        for (osg::Group* group : {fine_.get(), coarse_.get()}) {
            add(*group, seat);
            add(*group, wheel);
        }
    }
}

void DriverNodes::setQuality(Quality quality) {
    fine_->setNodeMask(quality == Quality::full ? ~0u : 0u);
    coarse_->setNodeMask(quality == Quality::full ? 0u : ~0u);
}

void DriverNodes::show(bool drivers) {
    for (osg::Group* group : {solid_.get(), belts_.get(), ghosts_.get()})
        group->setNodeMask(drivers ? kDriver : 0u);
}

}  // namespace hoopwright
