// Small things every quantity needs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/quantity.h"
#include "rules/table_run.h"

namespace hoopwright {

/// v as seen in a view: the axis one looks along is 0.
Vec3 seen(const Vec3& v, SeenFrom view);
/// "in side view", or "".
std::string viewWords(SeenFrom view);

/// Angle of a direction to an axis, 0 to 90 degrees [rad], in a view; nothing if it is seen end-on.
std::optional<double> angleToAxis(const Vec3& direction, const Vec3& axis, SeenFrom view);
/// Angle between two lines, 0 to 90 degrees [rad], in a view; nothing if either is seen end-on.
std::optional<double> angleBetween(const Vec3& a, const Vec3& b, SeenFrom view);

/// Half the extent along y (or x) of the ring a level plane cuts out of a tube.
double levelHalfWidth_y(double radius_mm, const Vec3& tangent);
double levelHalfWidth_x(double radius_mm, const Vec3& tangent);

Shown shownLine(const Vec3& from, const Vec3& to);
Shown shownAngle(const Vec3& apex, const Vec3& from, const Vec3& to);
Shown shownPoint(const Vec3& at);
/// Along a centreline from one station to another: together as long as that run, to a part in a hundred.
Shown shownRun(const Centreline& line, double from_mm, double to_mm);
/// Halfway along a bar; the datum's origin for an empty one.
Vec3 middleOf(const ResolvedMember& m);
/// Each of these bars, lit up and marked in its middle.
Shown shownMiddles(const TableRun& run, const std::vector<int>& members);
/// From end to end, without a figure; nothing of an empty one.
Shown shownChord(const Centreline& line);
/// From the outside of a round thing, its axis at `axis_at`, to a point: as long as the gap there.
Shown shownGap(const Vec3& axis_at, double radius_mm, const Vec3& to);

/// The member a subject is, and its facts.
const ResolvedMember& memberOf(const TableRun& run, const Subject& what);
const MemberFacts& factsOf(const TableRun& run, const Subject& what);
/// "the stock list has no tube '45x2'"
Measured noStock(const TableRun& run, int member);

}  // namespace hoopwright
