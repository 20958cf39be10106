// Solids as a STEP file: ISO 10303-21, application protocol 214 (automotive design).
#pragma once

#include <array>
#include <string>
#include <vector>

#include "core/solid/solid.h"

namespace hoopwright {

struct StepPart {
    std::string id, name;                   ///< UTF-8
    std::array<double, 3> colour{1, 1, 1};  ///< red, green, blue; 0 to 1, as shown
    SolidBody solid;
};

/// One assembly that holds each part once, where it is. mm, car axes. The same parts give the same text.
/// Source of the entities: ISO 10303-42, -43, -44, -46 and the recommended practices of the implementor
/// forums, from memory; read back by another kernel in tests/outside/opencascade.
std::string stepText(const std::string& assembly, const std::vector<StepPart>& parts);

}  // namespace hoopwright
