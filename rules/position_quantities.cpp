// Where a bar is.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "rules/car_lines.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Farthest reach of a tube's outside along n, over the plane through p.
double reach(const ResolvedMember& m, const Vec3& p, const Vec3& n) {
    return -tubeOverPlane_mm(m.line, m.radius_mm(), p, -n);
}

const PlacePoint& extreme(std::span<const PlacePoint> place, const Vec3& d) {
    return *std::max_element(place.begin(), place.end(),
                             [&](const auto& a, const auto& b) { return a.at.dot(d) < b.at.dot(d); });
}

Measured height(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    Vec3 datum = Vec3::Zero();
    if (with.above >= 0) {
        if (run.place(with.above).empty()) return Measured::unknown(run.placeMissing(with.above));
        datum = extreme(run.place(with.above), -Vec3::UnitZ()).outside();
    }
    const double low = tubeOverPlane_mm(m.line, m.radius_mm(), datum, Vec3::UnitZ());
    Measured out = Measured::stretch(low, reach(m, datum, Vec3::UnitZ()));
    if (!show) return out;
    const Vec3 at = m.line.point(m.line.length_mm() / 2);
    const auto level = [&](double h) { return Vec3(at.x(), at.y(), datum.z() + h); };
    const double high = out.high;
    return std::move(out).with(
        {{ShownBand{level(low), level(high)}, ShownLine{level(0), level(low), true}}, {}, at});
}

Measured topHeight(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    Measured whole = height(run, what, with, show);
    if (whole.is != Measured::Is::number) return whole;
    whole.low = whole.high;
    if (!show) return whole;
    const auto& band = std::get<ShownBand>(whole.shown->shapes.front());
    const auto& rise = std::get<ShownLine>(whole.shown->shapes.back());
    return Measured::number(whole.high).with(shownLine(rise.from, band.high));
}

/// Over each point of the place, where the centreline passes its x.
Measured heightAt(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    double low = 1e300, high = -1e300;
    Shown shown;
    int missed = 0;
    for (const PlacePoint& point : run.place(with.place)) {
        const std::vector<double> passes = m.line.crossings(point.at, Vec3::UnitX());
        if (passes.empty()) ++missed;
        for (double station : passes) {
            const Vec3 at = m.line.point(station);
            const double over = at.z() - point.at.z();
            if (over < low) shown = shownLine({at.x(), at.y(), point.at.z()}, at);
            low = std::min(low, over);
            high = std::max(high, over);
        }
    }
    if (low > high) return Measured::leftOut();
    if (missed > 0) return Measured::unknown("it passes only some of the places");
    Measured out = Measured::stretch(low, high);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

Measured beyond(const TableRun& run, const Subject& what, const Arguments& with, bool show, const Vec3& way) {
    const ResolvedMember& m = memberOf(run, what);
    if (m.line.empty()) return Measured::leftOut();
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const PlacePoint& limit = extreme(run.place(with.place), way);
    Measured out = Measured::number(reach(m, limit.at, way));
    if (!show) return out;
    // Where the axis reaches farthest that way, out to where the tube's outside is.
    const Vec3 axis = nearestToPlane(m.line, limit.at, -way).on_a;
    const Vec3 on_plane = axis - (axis - limit.at).dot(way) * way, at = on_plane + out.low * way;
    return std::move(out).with({{ShownPlane{limit.at, way}, ShownLine{on_plane, at, true}}, {}, at});
}
Measured aheadOf(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return beyond(run, what, with, show, Vec3::UnitX());
}
Measured behind(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    return beyond(run, what, with, show, -Vec3::UnitX());
}

/// Where it crosses the car's middle plane: from a place forward to its rear face, level.
Measured rearFaceAhead(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const double from = extreme(run.place(with.place), Vec3::UnitX()).at.x();
    double low = 1e300, high = -1e300;
    Shown shown;
    for (const double station : m.line.crossings(Vec3::Zero(), Vec3::UnitY())) {
        const Vec3 p = m.line.point(station), t = m.line.tangent(station);
        // The ring a plane square to y cuts out of the tube is the one a level plane does with y and z
        // changed.
        const double face = p.x() - levelHalfWidth_x(m.radius_mm(), {t.x(), t.z(), t.y()});
        if (face - from > high) shown = shownLine({from, 0, p.z()}, {face, 0, p.z()});
        low = std::min(low, face - from);
        high = std::max(high, face - from);
    }
    if (low > high) return Measured::leftOut();
    Measured out = Measured::stretch(low, high);
    return show ? std::move(out).with(std::move(shown)) : std::move(out);
}

Measured insideWidth(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    double z = with.height_mm;
    if (with.above >= 0) {
        if (run.place(with.above).empty()) return Measured::unknown(run.placeMissing(with.above));
        z += extreme(run.place(with.above), -Vec3::UnitZ()).at.z();
    }
    const std::vector<double> at = m.line.crossings({0, 0, z}, Vec3::UnitZ());
    if (at.size() < 2) return Measured::unknown("it has no two legs at that height");
    const auto inside = [&](double station, double way) {
        const Vec3 p = m.line.point(station);
        return Vec3(p.x(), p.y() + way * levelHalfWidth_y(m.radius_mm(), m.line.tangent(station)), z);
    };
    const bool first_is_left = m.line.point(at.front()).y() > m.line.point(at.back()).y();
    const double left = first_is_left ? at.front() : at.back(),
                 right = first_is_left ? at.back() : at.front();
    const Vec3 from = inside(left, -1), to = inside(right, 1);
    Measured out = Measured::number(from.y() - to.y());
    return show ? std::move(out).with(shownLine(from, to)) : std::move(out);
}

Measured gapToLine(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    const ResolvedMember& m = memberOf(run, what);
    const auto lines = carLines(run.scene().job().car, with.line);
    if (lines.empty()) return Measured::unknown("the car has no line '" + with.line + "'");
    Nearest least;
    least.distance_mm = 1e300;
    for (const auto& line : lines) {
        for (std::size_t i = 1; i < line.size(); ++i) {
            const Nearest now = nearestToSegment(m.line, line[i - 1], line[i]);
            if (now.distance_mm < least.distance_mm) least = now;
        }
    }
    if (least.distance_mm > 1e299)
        return Measured::unknown("the car's line '" + with.line + "' has fewer than two points");
    Measured out = Measured::number(least.distance_mm - m.radius_mm());
    return show ? std::move(out).with(shownGap(least.on_a, m.radius_mm(), least.on_b)) : std::move(out);
}

}  // namespace

std::vector<Quantity> positionQuantities() {
    constexpr auto m = SubjectKind::member;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    return {
        {{"height", L, "member",
          "Height of the whole tube, lowest to highest outside, over a place or the datum.", "the place"},
         m,
         num,
         0,
         only(Arg::above),
         height,
         {}},
        {{"top_height", L, "member", "Height of the top of the tube's outside over a place or the datum.",
          "the place"},
         m,
         num,
         0,
         only(Arg::above),
         topHeight,
         {}},
        {{"height_at", L, "member",
          "Height of its centreline over a place, where it passes the place's distance along the car; a bar "
          "that does not pass there is left out.",
          "the place"},
         m,
         num,
         only(Arg::place),
         0,
         heightAt,
         {}},
        {{"ahead_of", L, "member",
          "How far its outside reaches ahead of a place; negative if it stops short.", "the place"},
         m,
         num,
         only(Arg::place),
         0,
         aheadOf,
         {}},
        {{"behind", L, "member", "How far its outside reaches behind a place; negative if it stops short.",
          "the place"},
         m,
         num,
         only(Arg::place),
         0,
         behind,
         {}},
        {{"rear_face_ahead", L, "member",
          "In the middle of the car, level from a place forward to its rear face; negative behind the place; "
          "a "
          "bar that does not cross the middle is left out.",
          "the place"},
         m,
         num,
         only(Arg::place),
         0,
         rearFaceAhead,
         {}},
        {{"inside_width", L, "member", "Between the insides of its two legs at a height, level across.",
          "two legs at that height"},
         m,
         num,
         0,
         Arg::above | Arg::height,
         insideWidth,
         {}},
        {{"gap_to_line", L, "member", "From its outside to the nearest point of a line of the car.",
          "the car's line"},
         m,
         num,
         only(Arg::line),
         0,
         gapToLine,
         {}},
    };
}

}  // namespace hoopwright
