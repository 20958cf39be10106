// A place on a bar, said the way a landing says it.
#pragma once

#include <string>

#include "core/base/expected.h"
#include "core/model/cage_geometry.h"
#include "core/model/member.h"

namespace hoopwright {

/// Resolved id of the bar that a landing names, asked from a bar of `side`; empty: there is none.
std::string landingHost(const CageGeometry& now, const Landing& landing, Side side);

/// The landing with the value that says this station [mm]; of an end, by distance from that end. Not checked
/// to read back.
Landing saidExactly(Landing landing, const Centreline& host, double station_mm);

/// The same rounded to `grain_mm`, and if it does not read back there, by distance. The reason says what the
/// host has no place for.
Expected<Landing> saidAt(const Landing& landing, const Centreline& host, double station_mm, double grain_mm,
                         LengthUnit unit);

/// Where on its host a landing for the left or a single bar falls [mm], or a sentence.
Expected<double> stationSaid(const Landing& landing, const Centreline& host, LengthUnit unit);

}  // namespace hoopwright
