// What a seat move does to every clearance and every rule.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/driver/driver_report.h"
#include "core/driver/seat_move.h"
#include "rules/check.h"

namespace hoopwright {

/// A rule and thing whose finding the move changes, before and after; an index of -1 is: there was none.
struct RuleChange {
    int before = -1, after = -1;  ///< into SeatEffect::rules_before.findings and rules_after.findings
    bool answer_changed = false;
};
struct SeatEffect {
    MovedDriver moved;
    DriverReport before, after;
    CheckReport rules_before, rules_after;
    std::vector<RuleChange> changes;  ///< those whose answer or value changed; changed answers first
};
/// The job with that driver moved against the job as it is. The reason where there is no such driver, or the
/// back cannot lean that far.
Expected<SeatEffect> seatEffect(std::span<const RuleTableRef> tables, const Job& job,
                                const CageGeometry& cage, const std::string& driver, const SeatMove& move);

}  // namespace hoopwright
