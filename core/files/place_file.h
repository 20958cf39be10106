// A place in the car as a cage file says it: by coordinates, on a named point, on another member, on a plate.
#pragma once

#include <string>
#include <utility>

#include "core/files/out_node.h"
#include "core/model/plate.h"

namespace hoopwright {

MemberPoint readMemberPoint(const YamlValue& value);
OutNode outMemberPoint(const MemberPoint& point, LengthUnit unit);
/// A plate sits by coordinates or on a point of the car, nowhere else.
Place3 readPlatePlace(const YamlValue& value);
/// Any place: by coordinates, on a point of the car, on a plate or on a bar.
Place3 readAnyPlace(const YamlValue& value);
OutNode outPlace(const Place3& place, LengthUnit unit);
/// `[a, b]`
std::pair<std::string, std::string> readTwoNames(const YamlValue& value);
OutNode outTwoNames(const std::pair<std::string, std::string>& names, LengthUnit unit);

}  // namespace hoopwright
