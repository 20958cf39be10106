#include "core/starter/fitted.h"

#include <algorithm>
#include <cmath>

namespace hoopwright::starting {
namespace {

constexpr int kMostPushes = 25;
constexpr double kEnough_mm = 0.2;
constexpr double kRounding_mm = 1;  ///< corners are rounded to whole millimetres or sixteenths

/// The roof's corner of an outline: the point farthest out and up at 45 degrees.
Vec2 roofCorner(const std::vector<Vec2>& outline) {
    return *std::ranges::max_element(outline, {}, [](const Vec2& p) { return p.x() + p.y(); });
}

/// The outline's point at a height on the side of the car.
Vec2 sideAt(const std::vector<Vec2>& outline, double z) {
    for (std::size_t i = 0; i + 1 < outline.size(); ++i) {
        const Vec2 &a = outline[i], &b = outline[i + 1];
        if (a.y() <= z && b.y() > z) return a + (z - a.y()) / (b.y() - a.y()) * (b - a);
    }
    return outline.front();
}

}  // namespace

double setback(const Vec3& before, const Vec3& corner, const Vec3& after, double radius_mm) {
    const Vec3 in = (corner - before).normalized(), out = (after - corner).normalized();
    return radius_mm * std::tan(std::atan2(in.cross(out).norm(), in.dot(out)) / 2);
}

Centreline bent(const std::vector<Vec3>& path, double radius_mm) {
    std::vector<PathPoint> points;
    for (const Vec3& p : path) points.push_back({p, radius_mm});
    return makeCentreline(points).line;
}

HoopCorners hoopCorners(const CarPlaces& places, const BentTube& tube, const Vec3& left_foot, double gap_mm) {
    const double x = left_foot.x(), off = gap_mm + tube.half_mm();
    const std::vector<Vec2> outline = places.outlineAt(x);
    Vec2 waist_skin, corner_skin;
    double roof = 0;
    if (outline.empty()) {
        const Vec3 rail = places.point("b_pillar_top.left");
        corner_skin = {rail.y(), rail.z()};
        waist_skin = {places.point("sill_b.left").y(), places.beltAt(x)};
        roof = rail.z();
    } else {
        corner_skin = roofCorner(outline);
        waist_skin = sideAt(outline, places.beltAt(x));
        roof = outline.back().y();
    }
    double off_side = off, off_roof = off;
    HoopCorners best;
    for (int i = 0; i < kMostPushes; ++i) {
        // The side's line moved in, cut by the level of the top.
        const Vec2 up = (corner_skin - waist_skin).normalized();
        const Vec2 in(-up.y(), up.x());
        const double z = std::min(corner_skin.y() + 0.5 * (roof - corner_skin.y()), roof) - off_roof;
        const Vec2 waist = waist_skin + off_side * in;
        const Vec2 top = waist + (z - waist.y()) / up.y() * up;
        best = {Vec3(x, waist.x(), waist.y()), Vec3(x, top.x(), top.y())};
        const Centreline line = bent(
            {left_foot, best.waist, best.top, mirrored(best.top), mirrored(best.waist), mirrored(left_foot)},
            tube.radius_mm);
        const auto gap = places.gap(line, tube.half_mm());
        if (!gap || gap->gap_mm >= gap_mm - kEnough_mm) break;
        const double more = gap_mm - gap->gap_mm + kEnough_mm;
        const bool over = gap->on_line.z() > best.top.z() - 0.35 * tube.radius_mm;
        (over ? off_roof : off_side) += more;
    }
    return best;
}

PillarCorners pillarCorners(const CarPlaces& places, const BentTube& tube, const Vec3& from, const Vec3& foot,
                            double gap_mm) {
    const Vec3 head = places.point("windshield_top.left"), base = places.point("a_pillar_foot.left");
    const Vec3 along = (base - head).normalized();
    // How much the right pillar, seen in the mirror, was measured elsewhere.
    const Vec3 head_off = places.rightOf("windshield_top") - head,
               base_off = places.rightOf("a_pillar_foot") - base;
    double side = 0.75 * (gap_mm + tube.half_mm()), down = 0.6 * (gap_mm + tube.half_mm());
    // Ahead of the pillar's foot as far as a bend needs, never ahead of the foot on the floor.
    const double knee_x = std::min(base.x() + tube.od_mm, foot.x());
    PillarCorners best;
    for (int i = 0; i < kMostPushes; ++i) {
        best.top = head + Vec3(0, -side, -down);
        best.knee = best.top + (knee_x - best.top.x()) / along.x() * along;
        // Of a hoop the other corner moves too.
        const Vec3 start = from.y() < 0 ? mirrored(best.top) : from;
        // The knee stays inside the leg's way down.
        double gap = 1e300;
        if (const auto left =
                places.gap(bent({start, best.top, best.knee, foot}, tube.radius_mm), tube.half_mm()))
            gap = left->gap_mm;
        if (const auto right = places.gap(bent({mirrored(start), mirrored(best.top + head_off),
                                                mirrored(best.knee + base_off), mirrored(foot)},
                                               tube.radius_mm),
                                          tube.half_mm()))
            gap = std::min(gap, right->gap_mm);
        const double wanted = gap_mm + kRounding_mm;
        if (gap >= wanted - kEnough_mm) break;
        const double more = wanted - gap + kEnough_mm;
        side += 0.7 * more;
        down += 0.7 * more;
    }
    return best;
}

}  // namespace hoopwright::starting
