// From a bent tube to surfaces.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "core/geometry/centreline.h"
#include "core/mesh/placed_mesh.h"

namespace hoopwright {

/// Where a centreline comes nearest to the nearest of several meshes.
struct TubeOnMesh {
    double distance_mm = 0;  ///< from the centreline
    double station_mm = 0;
    Vec3 on_line = Vec3::Zero(), on_mesh = Vec3::Zero();
    int mesh = -1;  ///< which of them
    std::uint32_t triangle = 0;
};

/// All of a centreline.
inline constexpr Stretch kWholeLine{0, std::numeric_limits<double>::infinity()};

/// Straights exactly, bends to this.
inline constexpr double kTubeOnMeshError_mm = 0.01;
/// The nearest place of a stretch that is nearer than `within_mm`, or nothing. Method: the distance along a
/// line grows no faster than the way along it, so that one look in the middle of a straight or bend says how
/// near it may come; then those that may hold the best, nearest first: a straight as a segment, a bend by
/// chords halved where they stray too far.
/// @pre the line is not empty.
std::optional<TubeOnMesh> nearest(const Centreline& line, std::span<const PlacedMesh> meshes,
                                  double within_mm = MeshTree::kAnyDistance, Stretch part = kWholeLine);

/// The gap between a tube's outside and the nearest of several meshes, all along it. Negative where the mesh
/// is nearer to the centreline than its radius; at -radius the mesh goes through the centreline. A mesh has
/// no inside, so a tube beyond the skin has a gap like one within. At a cut end the rim is not asked, only
/// the line: there the gap may be less than drawn, by a radius at most.
struct TubeGap {
    double least_mm = 0;     ///< to kTubeOnMeshError_mm
    double greatest_mm = 0;  ///< to kGreatestGapError_mm
    double mean_mm = 0;      ///< along the centreline, from the stations
    double least_station_mm = 0, greatest_station_mm = 0;
    Vec3 on_tube = Vec3::Zero();  ///< nearest place of the tube's outside
    Vec3 on_mesh = Vec3::Zero();
    int mesh = -1;  ///< which of them is nearest there
    std::uint32_t triangle = 0;
    std::vector<double> stations_mm,
        gaps_mm;  ///< evenly along each straight and bend, ends and tangent points kept
};
inline constexpr double kGreatestGapError_mm = 0.5;
inline constexpr double kGapStep_mm = 20;  ///< greatest distance of two stations, unless said

/// Along a stretch of it. Nothing where no mesh has a triangle that is kept.
/// @pre the stretch has a length.
std::optional<TubeGap> gapAlong(const Centreline& line, double radius_mm, std::span<const PlacedMesh> meshes,
                                double step_mm = kGapStep_mm, Stretch part = kWholeLine);

}  // namespace hoopwright
