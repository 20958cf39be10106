// What would meet a rule, in words, where it can be said simply.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "rules/check_rule.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

/// Rounded up, so that doing what it says is enough: 12.31 mm -> "12.4 mm".
std::string roundedUp(double base, const Unit& unit) {
    double step = 0.01;
    if (unit.word == "mm" || unit.word == "deg" || unit.word == "cm2") step = 0.1;
    if (unit.word == "in") step = 0.001;
    if (unit.dimension == Dimension::none) step = 1e-4;
    const double shown = std::ceil(base / unit.to_base / step - 1e-6) * step;
    return shortest(std::round(shown * 1e6) / 1e6) + (unit.word.empty() ? "" : " " + unit.word);
}

std::string lacking(const Judged& judged, const Comparison& against) {
    if (!judged.margin || !judged.value || !judged.limit) return {};
    const double lack = -*judged.margin;
    const bool too_little =
        *judged.value < *judged.limit || against.high == std::numeric_limits<double>::infinity();
    if (!(lack > 0))
        return too_little ? "It must be more than the limit itself."
                          : "It must be less than the limit itself.";
    const std::string amount = roundedUp(lack, against.unit);
    return too_little ? amount + " more is needed." : amount + " less is needed.";
}

std::string tubesThatWouldDo(const TableRun& run, int tube_table, const Judged& judged) {
    if (judged.row < 0) return {};
    const TubeRow& row =
        run.table().tubes[static_cast<std::size_t>(tube_table)].rows[static_cast<std::size_t>(judged.row)];
    std::string out;
    for (const TubeAlternative& alternative : row.any_of)
        out += (out.empty() ? "" : "; or ") + alternative.text;
    return "A tube that would do: " + out + ".";
}

}  // namespace

std::string wayOut(const TableRun& run, const Reading& reading, const JudgedThing& thing) {
    const Comparison& against = reading.against;
    switch (against.by) {
        case Comparison::By::stretch:
        case Comparison::By::numbers:
        case Comparison::By::parts:
            return lacking(thing.judged, against);
        case Comparison::By::words:
        case Comparison::By::not_words:
            return "It must be " + against.text + ".";
        case Comparison::By::tube_table:
            return tubesThatWouldDo(run, against.tube_table, thing.judged);
        case Comparison::By::yes_no:
            break;
    }
    return {};
}

std::string wayOutOfCount(const Check& check, const CheckAnswer& found) {
    const Comparison& against = check.reading.against;
    const double count = found.whole.value.value_or(0);
    const double least = against.low_open ? against.low + 1 : against.low,
                 most = against.high_open ? against.high - 1 : against.high;
    if (count < least)
        return shortest(least - count) + " more " + (least - count > 1 ? "are" : "is") + " needed.";
    if (count > most) return shortest(count - most) + " too many.";
    return {};
}

}  // namespace hoopwright
