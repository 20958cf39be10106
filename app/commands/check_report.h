// A check as people read it and as programs do.
#pragma once

#include <iosfwd>

#include "core/model/cage_geometry.h"
#include "rules/check.h"

namespace hoopwright {

struct CheckedJob {
    const Job& job;
    const CageGeometry& cage;
    const CheckReport& report;
};

/// Worst first; what needs doing in full, what meets in one line each.
void writeCheckText(std::ostream& out, const CheckedJob& checked);
/// See app/commands/JSON.md.
void writeCheckJson(std::ostream& out, const CheckedJob& checked);

}  // namespace hoopwright
