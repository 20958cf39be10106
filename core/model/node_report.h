// What a look along the cage's nodes finds: axes that miss each other, openings nothing crosses, bends that
// stand alone, and ends that miss a node by a little. It judges nothing: a class table does that.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// How near a landing holds a bend, and how near an end is to a node it may have been meant for [mm]; common
/// practice, no source.
inline constexpr double kNearNode_mm = 100;

/// Two bars of a node.
struct AxisOffset {
    int member_a = -1, member_b = -1;  ///< indices into CageGeometry::members
    double offset_mm = 0;              ///< least distance of the two axes, each the tangent line at the node
};

struct NodeLine {
    std::string key;  ///< "belt_bar+main_hoop": its bars, and a number behind if others join the same
    int node = -1;    ///< index into CageGeometry::nodes
    std::vector<AxisOffset> offsets;  ///< of every two of its bars that have a joint there, greatest first
    double greatest_offset_mm = 0;
};

/// An opening of four corners or more, about flat, with nothing across it.
struct OpenBay {
    std::string key;
    std::vector<Vec3> corners;   ///< in order round it
    std::vector<int> members;    ///< the bars round it, ascending
    bool closed_by_car = false;  ///< one side of it is the car, between two feet
    /// The shortest bar that would cross it, from corner to corner.
    int across_from = 0, across_to = 0;  ///< indices into `corners`
    double across_mm = 0;
};

/// A bend with no landing on it or near it.
struct FreeBend {
    std::string key;
    int member = -1, piece = -1;
    Vec3 at = Vec3::Zero();  ///< its middle
    double station_mm = 0;   ///< of that
    double angle_rad = 0;
    std::optional<double> nearest_mm;  ///< from the bend, along the bar, to the nearest landing or foot
};

/// An end that is not on a node it is near.
struct NearEnd {
    std::string key;
    int member = -1, end = 0;
    int node = -1;           ///< the one it misses
    double distance_mm = 0;  ///< straight, from the end to that node
};

struct NodeReport {
    double near_mm = kNearNode_mm;
    std::vector<NodeLine> nodes;  ///< one for each of CageGeometry::nodes, in their order
    std::vector<OpenBay> bays;    ///< widest first
    std::vector<FreeBend> free_bends;
    std::vector<NearEnd> near_ends;
};

/// @param near_mm  > 0, finite
NodeReport nodeReport(const CageGeometry& now, double near_mm = kNearNode_mm);

/// Bays: corners are nodes, and bends of 20 degrees or more with no node on them; sides are the bars between,
/// taken straight, and the car between neighbouring feet. A bay is a ring with no shorter way across it, of
/// four corners or more (a place where the ring turns by less than 20 degrees is none), no corner of which is
/// off their mean plane by more than 8 % of the ring's greatest width. Cost for 60 bars: < 50 ms.
std::vector<OpenBay> openBays(const CageGeometry& now);

}  // namespace hoopwright
