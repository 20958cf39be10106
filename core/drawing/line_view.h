// A view a drawing is made in: parallel to a direction, as on a drawing board.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Axes of the paper in car axes; unit and square to each other.
struct LineView {
    std::string name;  ///< "From the left"
    Vec3 right = Vec3::UnitY();
    Vec3 up = Vec3::UnitZ();

    Vec3 towards() const { return right.cross(up); }  ///< unit, from the cage to whoever looks
    Vec2 flat(const Vec3& p) const { return {right.dot(p), up.dot(p)}; }  ///< mm, y up
};

/// "From the left", "From the front", "From above", "From behind", "From the right", "From ahead and above":
/// from the left and from above the front of the car is on the left.
const std::vector<LineView>& lineViews();
/// The view that shows a direction longest: of the first three, else (all short) the last.
const LineView& viewShowing(const Vec3& from, const Vec3& to);
/// From `towards`, with z as near to up as it can be. @pre not zero
LineView viewFrom(std::string name, const Vec3& towards);

}  // namespace hoopwright
