// What can be seen from where: named views of a job, and what the driver's body hides.
#pragma once

#include <string_view>

#include "core/model/cage_geometry.h"
#include "render/view.h"

namespace hoopwright {

/// A standard view of this job. The two three-quarter views are taken near enough that the cage fills them,
/// "driver" is from the first driver's own eyes; all others show the whole of `bounds`.
View viewNamed(std::string_view name, const Job& job, const CageGeometry& cage, const Box& bounds,
               double aspect, bool upright = false);

/// Does the body of the driver stand between the two points? The body is taken as capsules round trunk and
/// limbs and the helmet's ellipsoid: good to a few centimetres, enough to choose where a label points.
bool hiddenByDriver(const Driver& driver, const Vec3& from, const Vec3& to);

/// Least distance between two straight lines from a to b and from c to d.
double segmentDistance_mm(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d);

}  // namespace hoopwright
