// What the grip command tells.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "core/edit/grip.h"
#include "rules/grip_range.h"

namespace hoopwright {

struct GripReport {
    const Job& job;
    std::string part;
    struct Line {
        Grip grip;
        std::vector<GripNumber> numbers;
        std::optional<GripRange> range;
        std::vector<GripNumber> low, high;           ///< numbers at the ends of the range; empty without one
        std::vector<std::vector<GripNumber>> mends;  ///< at each place of GripRange::mends
    };
    std::vector<Line> grips;
    int taken = 0;  ///< from 1; 0: nothing was pulled
    std::vector<GripNumber> pulled_to;
    Vec3 pulled_at = Vec3::Zero();
    std::vector<std::string> worse;  ///< titles of required rules that fail now and did not before
    std::string written;
};

std::string_view gripKey(Grip::Kind kind);  ///< "landing", "node", ...
void writeGripText(std::ostream& out, const GripReport& report);
void writeGripJson(std::ostream& out, const GripReport& report);

}  // namespace hoopwright
