#include "render/tube_nodes.h"

#include <algorithm>
#include <cmath>
#include <osg/Uniform>

#include "core/shop/joint_cope.h"
#include "render/graph.h"
#include "render/tube_ends.h"
#include "render/tube_welds.h"

namespace hoopwright {
namespace {

constexpr int kFullSides = 24, kDraftSides = 12;
constexpr float kBead = 2;  // kinds of surface of the shader: see shaders.cpp

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
    welds_->getOrCreateStateSet()->addUniform(
        new osg::Uniform("material", osg::Vec4(0.95f, 0.24f, kBead, 1)));
    lit->addChild(tubes_);
    lit->addChild(welds_);
}

void TubeNodes::keepRecords(const CageGeometry& cage) {
    std::map<std::string, std::size_t> at;
    for (std::size_t i = 0; i < tubes_now_.size(); ++i) at[tubes_now_[i].id] = i;
    std::vector<Tube> next(cage.members.size());
    for (std::size_t i = 0; i < next.size(); ++i) {
        const auto found = at.find(cage.members[i].id);
        if (found != at.end()) {
            next[i] = std::move(tubes_now_[found->second]);
            at.erase(found);
        } else {
            next[i] = newTube(cage.members[i].id);
        }
    }
    for (const auto& [id, index] : at) {
        const Tube& gone = tubes_now_[index];
        tubes_->removeChild(gone.node);
        outlines_->removeChild(gone.outline_node);
        welds_->removeChild(gone.weld_node);
        unshaded_.push_back(gone.reach);
    }
    tubes_now_ = std::move(next);
}

TubeNodes::Tube TubeNodes::newTube(const std::string& id) {
    Tube tube;
    tube.id = id;
    tube.node = new osg::Geode;
    tube.outline_node = new osg::Geode;
    tube.weld_node = new osg::Geode;
    for (osg::Geode* node : {tube.node.get(), tube.outline_node.get(), tube.weld_node.get()})
        node->setName(id);
    tubes_->addChild(tube.node);
    outlines_->addChild(tube.outline_node);
    welds_->addChild(tube.weld_node);
    return tube;
}

namespace {

/// A tube's own print, what its ends are cut to, and where others land on it.
ShapePrint wholePrint(const CageGeometry& cage, const std::vector<ShapePrint>& prints, std::size_t index) {
    ShapePrint whole = prints[index];
    for (const ResolvedEnd& end : cage.members[index].ends) {
        for (const int host : hostsOf(end)) append(whole, prints[static_cast<std::size_t>(host)]);
        if (end.plate < 0) continue;
        const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(end.plate)];
        note(whole, plate.at);
        note(whole, plate.axes.col(2));
        for (const int face : end.flaps) {
            const PlacedFlap& flap = plate.flaps[static_cast<std::size_t>(face)];
            note(whole, flap.front_from);
            note(whole, flap.along);
            note(whole, flap.front());
        }
    }
    append(whole, landingsOn(cage, static_cast<int>(index)));
    return whole;
}

}  // namespace

void TubeNodes::set(const CageGeometry& cage) {
    std::vector<ShapePrint> prints;
    for (const ResolvedMember& member : cage.members)
        prints.push_back(drawable(member) ? printOf(member) : ShapePrint{});
    keepRecords(cage);
    capsules_.clear();
    first_capsule_.clear();
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const ResolvedMember& member = cage.members[i];
        Tube& tube = tubes_now_[i];
        first_capsule_.push_back(capsules_.size());
        if (prints[i] != tube.own) {
            // What the tube shaded and what it will shade both change.
            if (!tube.reach.isEmpty()) unshaded_.push_back(tube.reach);
            tube.own = prints[i];
            makeDraft(tube, member);
            if (!tube.reach.isEmpty()) unshaded_.push_back(tube.reach);
        }
        tube.whole.clear();
        if (!drawable(member)) continue;
        tube.whole = wholePrint(cage, prints, i);
        const std::vector<ShadeRod> own = shadeRodsOf(member.line, member.radius_mm(), static_cast<int>(i));
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
    tube.weld = weldsOf(cage, index, sweep);
    tube.weld_geometry = tube.weld.triangles.empty() ? nullptr : toGeometry(tube.weld, kWeldColour);
    tube.baked = tube.whole;
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
    std::vector<ShadeRod> near;
    for (std::size_t j = 0; j < tubes_now_.size(); ++j) {
        const Tube& other = tubes_now_[j];
        if (static_cast<int>(j) == index || !other.shown || !other.reach.intersects(tube.reach)) continue;
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

std::vector<ShadeRod> TubeNodes::capsules() const {
    std::vector<ShadeRod> shown;
    for (std::size_t i = 0; i < tubes_now_.size(); ++i)
        if (tubes_now_[i].shown)
            shown.insert(shown.end(), capsules_.begin() + static_cast<std::ptrdiff_t>(first_capsule_[i]),
                         capsules_.begin() + static_cast<std::ptrdiff_t>(first_capsule_[i + 1]));
    return shown;
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

}  // namespace hoopwright
