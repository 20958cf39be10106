// What a pinned dimension reads on the cage of now.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

struct MeasuredDimension {
    Dimension dimension = Dimension::length;
    double value = 0;  ///< mm or rad; a gap is negative where the tubes run into each other
    /// Where the dimension line runs, car axes [mm]. A gap goes from skin to skin; of an angle `apex` is
    /// where the two axes come nearest, and from and to are the places it was taken at.
    Vec3 from = Vec3::Zero(), to = Vec3::Zero(), apex = Vec3::Zero();
    std::vector<std::string> members;  ///< resolved ids of the bars it is about
    std::string trouble;               ///< why it reads nothing, a whole sentence; empty: it does
    explicit operator bool() const { return trouble.empty(); }
};

/// Lengths are straight. A gap is the least distance of the centrelines less both radii: of a tube's square
/// end the rounded one counts. An angle is taken between the tangents at the two places, each drawn from
/// where the axes come nearest towards its place: 0 to 180 degrees.
MeasuredDimension measureDimension(const Job& job, const CageGeometry& now, const PinnedDimension& pinned);
/// One for each of job.cage.dimensions.
std::vector<MeasuredDimension> measureDimensions(const Job& job, const CageGeometry& now);

/// The name people read: its own, else "Belt bar over the ground", "Gap, main hoop to rear brace, left".
std::string shownName(const PinnedDimension& pinned, const CageGeometry& now);
/// "distance", "gap", "centres", "angle", "height"; "ground", "sill", "floor".
std::string_view dimensionKindWord(PinnedDimension::Kind kind);
std::string_view overWord(PinnedDimension::Over over);

/// The height of the highest floor of the car at or below a point, straight under it; nothing where there is
/// none. Floors are the closed lines of kind floor, filled between their measured points.
std::optional<double> floorUnder_mm(const Car& car, const Vec3& at);

}  // namespace hoopwright
