// A bar against the car: how far up an opening it is, and how far it shows inside one.
#include <algorithm>
#include <cmath>

#include "rules/car_lines.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Of a place with several points, the lowest on the bar's own side; else the lowest of all.
std::optional<Vec3> lowestFor(const TableRun& run, int place, Side side) {
    std::optional<Vec3> own, any;
    for (const PlacePoint& p : run.place(place)) {
        if (!any || p.at.z() < any->z()) any = p.at;
        if (sideOf(Box(p.at)) == side && (!own || p.at.z() < own->z())) own = p.at;
    }
    return own ? own : any;
}

Measured heightShare(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    const Side side = factsOf(run, what).side;
    const std::optional<Vec3> from = lowestFor(run, with.from, side), to = lowestFor(run, with.to, side);
    if (!from) return Measured::unknown(run.placeMissing(with.from));
    if (!to) return Measured::unknown(run.placeMissing(with.to));
    const double whole = to->z() - from->z();
    if (!(whole > 1e-6)) return Measured::unknown("the second place is not above the first");
    const double top = m.line.bounds().max().z();
    Measured out = Measured::number((top - from->z()) / whole);
    if (!show) return out;
    const auto at = m.line.crossings({0, 0, top - 1e-4}, Vec3::UnitZ());
    const Vec3 high = at.empty() ? (m.line.start().z() > m.line.end().z() ? m.line.start() : m.line.end())
                                 : m.line.point(at.front());
    const auto over = [&](double z) { return Vec3(high.x(), high.y(), z); };
    return std::move(out).with(
        {{ShownBand{over(from->z()), over(to->z())}, ShownLine{over(from->z()), high, true}}, {}, high});
}

Vec2 flat(const Vec3& p, SeenFrom view) {
    if (view == SeenFrom::side) return {p.x(), p.z()};
    if (view == SeenFrom::plan) return {p.x(), p.y()};
    return {p.y(), p.z()};
}

/// How far inside an outline a point lies, and the place of the edge that counts.
struct Inside {
    double depth = 1e300;
    Vec2 edge = Vec2::Zero();
};
/// Nothing if the point lies outside.
std::optional<Inside> depthInside(const std::vector<Vec2>& outline, const Vec2& p, Towards towards) {
    bool inside = false;
    Inside least;
    const auto offer = [&](const Vec2& edge) {
        if (const double d = (p - edge).norm(); d < least.depth) least = {d, edge};
    };
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const Vec2 ab = b - a;
        if ((a.y() > p.y()) != (b.y() > p.y())) {
            const double x = a.x() + ab.x() * (p.y() - a.y()) / ab.y();
            if (x > p.x()) inside = !inside;
            if (towards == Towards::sides || towards == Towards::sides_and_up) offer({x, p.y()});
        }
        if ((a.x() > p.x()) != (b.x() > p.x())) {
            const double y = a.y() + ab.y() * (p.x() - a.x()) / ab.x();
            if (y >= p.y() && (towards == Towards::up || towards == Towards::sides_and_up)) offer({p.x(), y});
        }
        if (towards == Towards::all && ab.squaredNorm() > 0) {
            const double along = std::clamp((p - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
            offer(a + along * ab);
        }
    }
    return inside ? std::optional(least) : std::nullopt;
}

/// The point of a view, at the depth of another.
Vec3 backInSpace(const Vec2& p, const Vec3& at, SeenFrom view) {
    if (view == SeenFrom::side) return {p.x(), at.y(), p.y()};
    if (view == SeenFrom::plan) return {p.x(), p.y(), at.z()};
    return {at.x(), p.x(), p.y()};
}

Measured seenInsideLine(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    const auto lines = carLines(run.scene().job().car, with.line);
    if (lines.empty()) return Measured::unknown("the car has no line '" + with.line + "'");
    const SeenFrom view = with.view == SeenFrom::in_space ? SeenFrom::front : with.view;
    double greatest = 0;
    Shown shown = shownPoint(m.line.point(m.line.length_mm() / 2));
    // A straight is looked along every 5 mm: the deepest place may be in its middle.
    std::vector<double> stations = m.line.sampleStations(0.1);
    for (double s = 0; s < m.line.length_mm(); s += 5) stations.push_back(s);
    for (const std::vector<Vec3>& line : lines) {
        std::vector<Vec2> outline;
        for (const Vec3& p : line) outline.push_back(flat(p, view));
        for (double station : stations) {
            const Vec3 at = m.line.point(station);
            const auto depth = depthInside(outline, flat(at, view), with.towards);
            if (!depth || depth->depth + m.radius_mm() <= greatest) continue;
            greatest = depth->depth + m.radius_mm();
            if (!show) continue;
            // From the edge to the far side of the tube: there it shows deepest.
            const Vec3 edge = backInSpace(depth->edge, at, view);
            const Vec3 way = depth->depth > 1e-9 ? Vec3((at - edge) / depth->depth) : Vec3(-Vec3::UnitZ());
            shown = shownLine(edge, edge + greatest * way);
            for (std::size_t i = 1; i < line.size(); ++i)
                shown.shapes.push_back(ShownLine{line[i - 1], line[i], false});
        }
    }
    Measured out = Measured::number(greatest);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

}  // namespace

std::vector<Quantity> shareQuantities() {
    constexpr auto m = SubjectKind::member;
    return {
        {{"height_share", Dimension::none, "member",
          "How far up from one place to another its centreline reaches: 0 at the first, 1 at the second.",
          "the places"},
         m,
         ValueKind::number,
         Arg::from_place | Arg::to_place,
         0,
         heightShare,
         {}},
        {{"seen_inside_line", Dimension::length, "member",
          "How far its inner edge shows inside a closed line of the car, seen from the front or in another "
          "view, to the nearest edge, the side edge or the top edge; 0 where it does not show.",
          "the car's line"},
         m,
         ValueKind::number,
         only(Arg::line),
         Arg::view | Arg::towards,
         seenInsideLine,
         {}},
    };
}

}  // namespace hoopwright
