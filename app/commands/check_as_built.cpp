// What was measured on the built cage, as a check tells it.
#include <algorithm>
#include <ostream>

#include "app/commands/check_report.h"
#include "app/commands/text_table.h"
#include "app/view/finding_text.h"

namespace hoopwright {
namespace {

std::string stretchWords(const AsBuilt& one, double low, double high, const LengthStyle& style) {
    LengthStyle fine = style;
    fine.decimals = 2;  // a wall is read to a hundredth
    const auto words = [&](double value) {
        return showQuantity(value, one.dimension, baseUnit(one.dimension), fine);
    };
    return words(low) == words(high) ? words(low) : words(low) + " to " + words(high);
}

}  // namespace

void writeAsBuiltText(std::ostream& out, const CheckedJob& checked, const LengthStyle& style) {
    if (checked.as_built.empty()) return;
    const auto resting = [&](RestsOn what) {
        return std::to_string(std::ranges::count(checked.rests, what));
    };
    out << "\nAS BUILT (" << checked.as_built.size() << ")\n";
    out << wrapped("Answers that rest on measurement: " + resting(RestsOn::measured) + "; on the plan: " +
                       resting(RestsOn::plan) + "; on a person's word: " + resting(RestsOn::person) + ".",
                   2);
    TextTable figures({Align::right, Align::right, Align::right, Align::left});
    figures.add({"planned", "measured", "drift", ""});
    for (const AsBuilt& one : checked.as_built) {
        std::string what = one.quantity;
        std::ranges::replace(what, '_', ' ');
        if (!one.how.empty()) what += ", " + one.how;
        if (one.rules.empty()) what += " (no rule asks for it so)";
        figures.add(
            {one.planned ? stretchWords(one, *one.planned, one.planned_to, style) : "",
             one.low ? stretchWords(one, *one.low, *one.high, style) : "",
             one.drift ? (*one.drift > 0 ? "+" : "") + stretchWords(one, *one.drift, *one.drift, style) : "",
             one.of_name + ": " + what});
    }
    out << figures.text(2);
}

}  // namespace hoopwright
