// Limits that are facts of the entry, or the smaller or larger of several.
#include <algorithm>
#include <cmath>
#include <optional>

#include "rules/judge.h"

namespace hoopwright {
namespace {

std::optional<double> valueOf(const TableRun& run, const LimitPart& part, Dimension dimension) {
    if (part.fact.empty()) return part.plus;
    const Fact* fact = run.scene().fact(part.fact);
    const double* value = fact ? std::get_if<double>(&fact->value) : nullptr;
    if (!value || fact->dimension != dimension) return std::nullopt;
    return part.times * *value + part.plus;
}

}  // namespace

Judged judgeParts(const TableRun& run, const Measured& measured, const Comparison& against,
                  Dimension dimension) {
    std::optional<double> limit;
    std::string missing;
    for (const LimitPart& part : against.parts) {
        const std::optional<double> value = valueOf(run, part, dimension);
        if (!value)
            missing = "the fact '" + part.fact + "' is not given";
        else if (!limit)
            limit = value;
        else
            limit = against.larger ? std::max(*limit, *value) : std::min(*limit, *value);
    }
    Judged unknown;
    unknown.found = missing;
    if (!limit) return unknown;
    Comparison known = against;
    known.by = Comparison::By::stretch;
    known.parts.clear();
    const bool from_below = !std::isinf(against.low), from_above = !std::isinf(against.high);
    if (from_below) known.low = *limit;
    if (from_above) known.high = *limit;
    Judged out = judgeNumber(measured, known, dimension);
    if (missing.empty()) return out;
    // The limit itself can only be smaller (larger) than what is known of it.
    const bool only_easier = from_below != from_above && from_below != against.larger;
    const bool sure = from_below != from_above && out.answer == (only_easier ? Answer::meets : Answer::fails);
    return sure ? out : unknown;
}

}  // namespace hoopwright
