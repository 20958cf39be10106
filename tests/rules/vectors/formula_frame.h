// A small student formula frame of round numbers, dialled to a limit.
#pragma once

#include "core/model/resolve.h"

namespace hoopwright::test {

/// What is varied, each at a value that meets.
struct FormulaFrame {
    double half_width = 300, lean_deg = 0, front_lean_deg = 0;
    double lower_height = 40, upper_side_height = 330, brace_height = 900, brace_off_deg = 45,
           front_brace_height = 580;
    double belt_fall_deg = 5, belt_spacing = 200, lap_deg = 55, back_deg = 20, helmet_under_line = 200;
    double radius = 3 * 25.4;
    int brace_bends = 0;
    TubeSection main{25.4, 2.413}, front{25.4, 2.413}, brace{25.4, 1.651}, side{25.4, 1.651},
        support{25.4, 1.2446};
};

Job jobOf(const FormulaFrame& frame);

}  // namespace hoopwright::test
