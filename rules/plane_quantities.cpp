// Two bars: against the plane one lies in, and on which side of a vertical they are.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "rules/bar_plane.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

Measured angleToPlane(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Centreline &line = run.scene().member(what.first).line,
                     &bent = run.scene().member(what.second).line;
    if (line.empty() || bent.empty()) return Measured::leftOut();
    const BarPlane plane = planeOf(bent);
    if (!plane.decided) return Measured::unknown("the second bar is straight and lies in no one plane");
    const Vec3 chord = line.end() - line.start();
    if (!(chord.norm() > 1e-6)) return Measured::unknown("the first bar's ends are in one place");
    const double across = chord.dot(plane.normal);
    const Vec3 in_plane = chord - across * plane.normal;
    Measured out = Measured::number(std::atan2(std::abs(across), in_plane.norm()));
    if (!show) return out;
    const Vec3 apex = nearest(line, bent).on_a;
    Shown shown = shownAngle(apex, apex + chord / 2, apex + in_plane / 2);
    shown.shapes.push_back(ShownPlane{plane.middle, plane.normal, 500});
    shown.members = {what.first, what.second};
    return std::move(out).with(std::move(shown));
}

/// The middle of its metal.
Vec3 middleOfMetal(const Centreline& line) {
    Vec3 sum = Vec3::Zero();
    const std::vector<double> stations = line.sampleStations(0.1);
    for (std::size_t i = 1; i < stations.size(); ++i)
        sum +=
            (stations[i] - stations[i - 1]) * 0.5 * (line.point(stations[i]) + line.point(stations[i - 1]));
    return sum / line.length_mm();
}

Measured sameSideOfVertical(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    constexpr double upright_mm = 1;
    if (run.place(with.place).empty()) return Measured::unknown(run.placeMissing(with.place));
    const Centreline &a = run.scene().member(what.first).line, &b = run.scene().member(what.second).line;
    if (a.empty() || b.empty()) return Measured::leftOut();
    const Vec3 at = run.place(with.place).front().at;
    const Vec3 middle_a = middleOfMetal(a), middle_b = middleOfMetal(b);
    const double off_a = middle_a.x() - at.x(), off_b = middle_b.x() - at.x();
    if (std::min(std::abs(off_a), std::abs(off_b)) <= upright_mm) return Measured::leftOut();
    Measured out = Measured::yesNo((off_a > 0) == (off_b > 0));
    if (!show) return out;
    const double low = std::min(a.bounds().min().z(), b.bounds().min().z());
    return std::move(out).with(
        {{ShownPlane{at, Vec3::UnitX(), 300}, ShownLine{at, {at.x(), at.y(), low}, false},
          ShownPoint{middle_a}, ShownPoint{middle_b}},
         {what.first, what.second},
         at});
}

}  // namespace

std::vector<Quantity> planeQuantities() {
    constexpr auto p = SubjectKind::pair;
    return {
        {{"angle_to_plane", Dimension::angle, "pair",
          "Of the first bar's chord to the plane the second bar is bent in, 0 to 90 degrees.",
          "a second bar with a bend"},
         p,
         ValueKind::number,
         0,
         0,
         angleToPlane,
         {}},
        {{"same_side_of_vertical", Dimension::none, "pair",
          "Seen from the side, the middles of both bars' metal lie on one side of the vertical through a "
          "place; left out where a bar is within 1 mm of it.",
          "the place"},
         p,
         ValueKind::yes_no,
         only(Arg::place),
         0,
         sameSideOfVertical,
         {}},
    };
}

}  // namespace hoopwright
