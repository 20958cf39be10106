#include "rules/seat_effect.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kSameMargin = 1e-9;

bool sameThing(const Finding& a, const Finding& b) {
    return a.table == b.table && a.rule == b.rule && a.subject == b.subject;
}

bool sameValue(const Finding& a, const Finding& b) {
    if (a.value.has_value() != b.value.has_value()) return false;
    if (!a.value) return a.found == b.found && a.missing == b.missing;
    return std::abs(*a.value - *b.value) <= kSameMargin * std::max(1.0, std::abs(*a.value));
}

/// Pairs findings of one rule on one thing; what has no partner stands alone.
std::vector<RuleChange> changesBetween(const CheckReport& before, const CheckReport& after) {
    std::vector<RuleChange> out;
    std::vector<char> taken(after.findings.size());
    for (std::size_t i = 0; i < before.findings.size(); ++i) {
        RuleChange change{static_cast<int>(i), -1, true};
        for (std::size_t k = 0; k < after.findings.size(); ++k) {
            if (taken[k] || !sameThing(before.findings[i], after.findings[k])) continue;
            taken[k] = 1;
            change.after = static_cast<int>(k);
            change.answer_changed = before.findings[i].answer != after.findings[k].answer;
            break;
        }
        const bool same =
            change.after >= 0 && !change.answer_changed &&
            sameValue(before.findings[i], after.findings[static_cast<std::size_t>(change.after)]);
        if (!same) out.push_back(change);
    }
    for (std::size_t k = 0; k < taken.size(); ++k)
        if (!taken[k]) out.push_back({-1, static_cast<int>(k), true});
    std::stable_partition(out.begin(), out.end(), [](const RuleChange& c) { return c.answer_changed; });
    return out;
}

}  // namespace

Expected<SeatEffect> seatEffect(std::span<const RuleTableRef> tables, const Job& job,
                                const CageGeometry& cage, const std::string& driver, const SeatMove& move) {
    Job after = job;
    const auto it = std::find_if(after.drivers.begin(), after.drivers.end(),
                                 [&](const Driver& d) { return d.id == driver; });
    if (it == after.drivers.end()) return Reason{"there is no driver '" + driver + "'"};
    Expected<MovedDriver> moved = seatMoved(*it, move);
    if (!moved) return Reason{moved.reason()};
    SeatEffect out;
    out.before = reportOn(*it, job.car, cage);
    out.rules_before = check(tables, job, cage);
    *it = moved->driver;
    out.after = reportOn(*it, job.car, cage);
    out.rules_after = check(tables, after, cage);
    out.changes = changesBetween(out.rules_before, out.rules_after);
    out.moved = *std::move(moved);
    return out;
}

}  // namespace hoopwright
