// In which order the points of a car can be placed.
#pragma once

#include <vector>

#include "core/model/car.h"

namespace hoopwright {

struct SurveyOrder {
    std::vector<int> order;               ///< every point that does not hang on a loop, its datums before it
    std::vector<std::vector<int>> loops;  ///< each: points taped from one another in a ring
};

/// @param datums for each point, the points it is taped from
SurveyOrder surveyOrder(const std::vector<std::vector<int>>& datums);

}  // namespace hoopwright
