#include "render/tube_nodes.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <osg/BlendFunc>
#include <osg/CullFace>
#include <osg/Depth>
#include <osg/Uniform>

#include "core/shop/joint_cope.h"
#include "render/graph.h"
#include "render/tube_ends.h"
#include "render/weld_bead.h"

namespace hoopwright {
namespace {

constexpr int kFullSides = 24, kDraftSides = 12, kBeadStations = 48;
constexpr float kPaint = 3, kBareSteel = 1, kBead = 2;

void note(ShapePrint& print, const Vec3& v) {
    print.insert(print.end(), {v.x(), v.y(), v.z()});
}

ShapePrint printOf(const ResolvedMember& member) {
    ShapePrint print = {member.section.od_mm, member.section.wall_mm,
                        static_cast<double>(member.line.pieces().size())};
    for (const Piece& piece : member.line.pieces()) {
        print.insert(print.end(), {piece.length_mm, piece.radius_mm, piece.angle_rad});
        note(print, piece.start);
        note(print, piece.tangent);
        note(print, piece.axis);
    }
    return print;
}

bool drawable(const ResolvedMember& member) {
    return !member.line.empty() && member.section.valid() && member.line.length_mm() > 1e-3 &&
           member.line.bounds().sizes().allFinite();
}

void append(ShapePrint& print, const ShapePrint& more) {
    print.insert(print.end(), more.begin(), more.end());
}

osg::ref_ptr<osg::Uniform> material(float metal, float rough, float kind, float opacity) {
    return new osg::Uniform("material", osg::Vec4(metal, rough, kind, opacity));
}

/// Rings of stations round each landing, so that the shade of a joint has somewhere to lie.
std::vector<double> crowded(const std::vector<double>& landings, double length) {
    std::vector<double> stations;
    for (const double s : landings)
        for (const double step : {-60.0, -36.0, -18.0, 0.0, 18.0, 36.0, 60.0})
            if (s + step > 0 && s + step < length) stations.push_back(s + step);
    return stations;
}

}  // namespace

TubeNodes::TubeNodes(osg::Group* lit, osg::Group* outlines)
    : tubes_(new osg::Group), welds_(new osg::Group), outlines_(outlines) {
    tubes_->setName("tubes");
    tubes_->setNodeMask(kTubes);
    welds_->setName("welds");
    welds_->setNodeMask(kWelds);
    welds_->getOrCreateStateSet()->addUniform(material(0.95f, 0.24f, kBead, 1));
    lit->addChild(tubes_);
    lit->addChild(welds_);
}

void TubeNodes::set(const CageGeometry& cage) {
    const std::size_t count = cage.members.size();
    std::vector<ShapePrint> prints;
    for (const ResolvedMember& member : cage.members)
        prints.push_back(drawable(member) ? printOf(member) : ShapePrint{});

    // Tubes keep their record by id; what is gone is taken out of the graph.
    std::map<std::string, std::size_t> at;
    for (std::size_t i = 0; i < tubes_now_.size(); ++i) at[tubes_now_[i].id] = i;
    std::vector<Tube> next(count);
    for (std::size_t i = 0; i < count; ++i) {
        const auto found = at.find(cage.members[i].id);
        if (found == at.end()) continue;
        next[i] = std::move(tubes_now_[found->second]);
        at.erase(found);
    }
    for (const auto& [id, index] : at) {
        Tube& gone = tubes_now_[index];
        if (!gone.node) continue;
        tubes_->removeChild(gone.node);
        outlines_->removeChild(gone.outline_node);
        welds_->removeChild(gone.weld_node);
        unshaded_.push_back(gone.reach);
    }
    tubes_now_ = std::move(next);

    capsules_.clear();
    first_capsule_.clear();
    for (std::size_t i = 0; i < count; ++i) {
        const ResolvedMember& member = cage.members[i];
        Tube& tube = tubes_now_[i];
        tube.id = member.id;
        first_capsule_.push_back(capsules_.size());
        if (!tube.node) {
            tube.node = new osg::Geode;
            tube.outline_node = new osg::Geode;
            tube.weld_node = new osg::Geode;
            for (osg::Geode* node : {tube.node.get(), tube.outline_node.get(), tube.weld_node.get()})
                node->setName(member.id);
            tubes_->addChild(tube.node);
            outlines_->addChild(tube.outline_node);
            welds_->addChild(tube.weld_node);
        }
        if (prints[i] != tube.own) {
            if (!tube.reach.isEmpty()) unshaded_.push_back(tube.reach);
            tube.own = prints[i];
            makeDraft(tube, member);
            if (!tube.reach.isEmpty()) unshaded_.push_back(tube.reach);
        }
        tube.whole = prints[i];
        if (!drawable(member)) continue;
        for (const ResolvedEnd& end : member.ends) {
            for (const int host : hostsOf(end)) append(tube.whole, prints[static_cast<std::size_t>(host)]);
            if (end.plate >= 0) {
                const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(end.plate)];
                note(tube.whole, plate.at);
                note(tube.whole, plate.axes.col(2));
            }
        }
        append(tube.whole, landingsOn(cage, static_cast<int>(i)));
        const std::vector<Capsule> own = capsulesOf(member.line, member.radius_mm(), static_cast<int>(i));
        capsules_.insert(capsules_.end(), own.begin(), own.end());
        choose(tube);
    }
    first_capsule_.push_back(capsules_.size());
}

void TubeNodes::makeDraft(Tube& tube, const ResolvedMember& member) {
    tube.reach = Box();
    tube.draft = nullptr;
    tube.full = nullptr;
    tube.baked.clear();
    if (!drawable(member)) {
        choose(tube);
        return;
    }
    tube.reach = member.line.bounds();
    const Vec3 margin = Vec3::Constant(member.radius_mm() + static_cast<double>(kShadeReach_mm));
    tube.reach.min() -= margin;
    tube.reach.max() += margin;
    const TubeCut square = TubeCut::square(kDraftSides);
    TubeDetail detail;
    detail.sides = kDraftSides;
    detail.chord_error_mm = 2.0;
    detail.step_mm = 1e9;
    detail.bore = false;
    const TubeSweep sweep(member.line, tubeClock(member.line, 0));
    tube.draft = toGeometry(tubeMesh(sweep, member.section, square, square, detail), {1, 1, 1});
}

void TubeNodes::makeFull(Tube& tube, const CageGeometry& cage, int index) {
    const ResolvedMember& member = cage.members[static_cast<std::size_t>(index)];
    const TubeSweep sweep(member.line, tubeClock(member.line, 0));
    const std::array<TubeCut, 2> cuts = {endCut(cage, index, 0, kFullSides),
                                         endCut(cage, index, 1, kFullSides)};
    TubeDetail detail;
    detail.sides = kFullSides;
    detail.near_mm = crowded(landingsOn(cage, index), member.line.length_mm());
    tube.mesh = tubeMesh(sweep, member.section, cuts[0], cuts[1], detail);
    tube.full = toGeometry(tube.mesh, {1, 1, 1});
    // The outline needs the shape alone, not the rings that carry the baked shade.
    detail.near_mm.clear();
    detail.step_mm = 1e9;
    detail.bore = false;
    detail.chord_error_mm = 0.6;
    tube.outline = toGeometry(tubeMesh(sweep, member.section, cuts[0], cuts[1], detail), {});
    tube.weld = Mesh();
    const double leg = std::clamp(1.0 + 1.15 * member.section.wall_mm, 3.0, 6.0);
    for (int end = 0; end < 2; ++end)
        tube.weld.append(weldBead(sweep, member.radius_mm(), endCut(cage, index, end, kBeadStations), end,
                                  surfacesAt(cage, index, end), leg));
    tube.weld_geometry = tube.weld.triangles.empty() ? nullptr : toGeometry(tube.weld, {0.80f, 0.79f, 0.76f});
    tube.baked = tube.whole;
    ++made_;
}

bool TubeNodes::bake(const CageGeometry& cage, double ground_z_mm) {
    bool done = false;
    const bool all = ground_z_mm != baked_ground_z_;
    for (std::size_t i = 0; i < tubes_now_.size(); ++i) {
        Tube& tube = tubes_now_[i];
        if (tube.whole.empty()) continue;
        const bool stale = tube.baked != tube.whole;
        if (stale) makeFull(tube, cage, static_cast<int>(i));
        const bool near_change = std::any_of(unshaded_.begin(), unshaded_.end(),
                                             [&](const Box& b) { return b.intersects(tube.reach); });
        if (stale || all || near_change) {
            shadeTube(tube, static_cast<int>(i), ground_z_mm);
            done = true;
        }
        choose(tube);
    }
    done = done || !unshaded_.empty();
    unshaded_.clear();
    baked_ground_z_ = ground_z_mm;
    return done;
}

void TubeNodes::shadeTube(Tube& tube, int index, double ground_z_mm) {
    std::vector<Capsule> near;
    for (std::size_t j = 0; j < tubes_now_.size(); ++j) {
        if (static_cast<int>(j) == index || !tubes_now_[j].reach.intersects(tube.reach)) continue;
        for (std::size_t c = first_capsule_[j]; c < first_capsule_[j + 1]; ++c) {
            Box box;
            box.extend(capsules_[c].from.cast<double>()).extend(capsules_[c].to.cast<double>());
            if (box.intersects(tube.reach)) near.push_back(capsules_[c]);
        }
    }
    std::uint32_t skin = 0;  // corners of the skin come first; the bore keeps its own darkness
    for (std::uint32_t i = 0; i < tube.mesh.outer_triangles; ++i)
        skin = std::max(skin, tube.mesh.triangles[i] + 1);
    shade(tube.mesh, 0, skin, index, near, ground_z_mm);
    setLight(*tube.full, tube.mesh);
}

void TubeNodes::choose(Tube& tube) {
    const bool full = quality_ == Quality::full && tube.full;
    osg::Geometry* wanted = full ? tube.full.get() : tube.draft.get();
    const auto show = [](osg::Geode& geode, osg::Geometry* geometry) {
        if (geode.getNumDrawables() == 1 && geode.getDrawable(0) == geometry) return;
        geode.removeDrawables(0, geode.getNumDrawables());
        if (geometry) geode.addDrawable(geometry);
    };
    if (wanted) setColour(*wanted, tube.colour);
    show(*tube.node, wanted);
    show(*tube.outline_node, full ? tube.outline.get() : nullptr);
    show(*tube.weld_node, full ? tube.weld_geometry.get() : nullptr);
}

void TubeNodes::setQuality(Quality quality) {
    if (quality == quality_) return;
    quality_ = quality;
    for (Tube& tube : tubes_now_) choose(tube);
}

namespace {

Rgb colourOf(const ResolvedMember& member, const SceneLook& look, Mark mark) {
    switch (look.colouring) {
        case Colouring::by_place:
            return placeColour(roleOf(member.role).place);
        case Colouring::by_result:
            return markColour(mark);
        case Colouring::by_stock:
            return stockColour(member.stock);
        case Colouring::steel:
            break;
    }
    return {0.76f, 0.765f, 0.775f};
}

bool contains(const std::vector<std::string>& list, const std::string& id) {
    return std::find(list.begin(), list.end(), id) != list.end();
}

/// Blended, behind everything solid, without hiding what is inside.
void seeThrough(osg::StateSet& state, bool on) {
    if (!on) {
        state.removeAttribute(osg::StateAttribute::BLENDFUNC);
        state.setMode(GL_BLEND, osg::StateAttribute::OFF);
        state.removeAttribute(osg::StateAttribute::DEPTH);
        state.setRenderBinToInherit();
        return;
    }
    state.setAttributeAndModes(
        new osg::BlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA));
    state.setAttributeAndModes(new osg::Depth(osg::Depth::LEQUAL, 0, 1, false));
    state.setRenderBinDetails(12, "DepthSortedBin");
}

}  // namespace

void TubeNodes::dress(const CageGeometry& cage, const SceneLook& look, const std::vector<Mark>& marks,
                      const std::vector<std::string>& selected) {
    const bool steel = look.colouring == Colouring::steel;
    for (std::size_t i = 0; i < tubes_now_.size() && i < cage.members.size(); ++i) {
        Tube& tube = tubes_now_[i];
        const bool chosen = contains(selected, tube.id), clear = look.x_ray && !chosen;
        const Rgb colour = chosen ? selectedColour()
                                  : colourOf(cage.members[i], look, i < marks.size() ? marks[i] : Mark::none);
        tube.colour = colour;
        choose(tube);
        tube.shown = !contains(look.hidden_members, tube.id);
        const bool metal = steel && !chosen;
        auto* state = tube.node->getOrCreateStateSet();
        state->addUniform(material(metal ? 0.95f : 0.0f, metal ? 0.15f : 0.09f, metal ? kBareSteel : kPaint,
                                   clear ? 0.16f : 1.0f));
        seeThrough(*state, clear);
        tube.node->setNodeMask(tube.shown ? ~0u : 0u);
        tube.weld_node->setNodeMask(tube.shown && !clear ? ~0u : 0u);
        tube.outline_node->setNodeMask(tube.shown && !clear ? ~0u : 0u);
        auto* outline = tube.outline_node->getOrCreateStateSet();
        outline->addUniform(new osg::Uniform("outline_px", chosen ? 2.6f : 1.1f));
        outline->addUniform(new osg::Uniform(
            "outline_colour",
            chosen ? osg::Vec4(0.42f, 0.29f, 0.02f, 1)
                   : (look.dark ? osg::Vec4(0.02f, 0.02f, 0.025f, 1) : osg::Vec4(0.10f, 0.11f, 0.13f, 1))));
    }
}

std::size_t TubeNodes::triangles() const {
    std::size_t count = 0;
    for (const Tube& tube : tubes_now_) {
        if (!tube.shown) continue;
        const bool full = quality_ == Quality::full && tube.full;
        if (full)
            count += tube.mesh.triangleCount() + tube.weld.triangleCount();
        else if (tube.draft)
            count += triangleCount(*tube.draft);
    }
    return count;
}

}  // namespace hoopwright
