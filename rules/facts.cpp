// Conditions on what is known of the entry and the car.
#include <algorithm>

#include "rules/judge.h"

namespace hoopwright {
namespace {

FactAnswer cannotTell(std::string missing) {
    return {Answer::cannot_tell, std::move(missing)};
}

FactAnswer yes(bool holds, const FactTest& test) {
    if (holds) return {};
    return {Answer::does_not_apply, "it applies only with " + test.text};
}

/// Facts this one leans on: a mass without its basis says nothing.
FactAnswer basisHolds(const TableRun& run, const FactTest& test) {
    const FactWanted* wanted = run.table().fact(test.fact);
    if (!wanted) return {};
    for (const auto& [name, word] : wanted->stated_as) {
        const Fact* basis = run.scene().fact(name);
        const std::string* said = basis ? std::get_if<std::string>(&basis->value) : nullptr;
        if (!said)
            return cannotTell("the fact '" + name + "' is not given; '" + test.fact + "' must be stated " +
                              word);
        if (*said != word)
            return cannotTell("'" + test.fact + "' must be stated " + word + ", and is given " + *said);
    }
    return {};
}

FactAnswer numberHolds(const Fact& fact, const FactTest& test) {
    const double* value = std::get_if<double>(&fact.value);
    if (!value || fact.dimension != test.dimension)
        return cannotTell("the fact '" + test.fact + "' is of another kind");
    Comparison stretch;
    stretch.low = test.low;
    stretch.high = test.high;
    stretch.low_open = test.low_open;
    stretch.high_open = test.high_open;
    return yes(judgeNumber(Measured::number(*value), stretch, test.dimension).answer == Answer::meets, test);
}

FactAnswer dayHolds(const std::string& day, const FactTest& test) {
    const bool shaped = day.size() == 10 && day[4] == '-' && day[7] == '-';
    if (!shaped) return cannotTell("the fact '" + test.fact + "' is not a date");
    const bool after =
        test.first_day.empty() || (test.low_open ? day > test.first_day : day >= test.first_day);
    const bool before =
        test.last_day.empty() || (test.high_open ? day < test.last_day : day <= test.last_day);
    return yes(after && before, test);
}

}  // namespace

FactAnswer holds(const TableRun& run, const FactTest& test) {
    const Fact* fact = run.scene().fact(test.fact);
    if (!fact) return cannotTell("the fact '" + test.fact + "' is not given");
    if (FactAnswer basis = basisHolds(run, test); basis.answer != Answer::meets) return basis;
    if (test.number) return numberHolds(*fact, test);
    const std::string* word = std::get_if<std::string>(&fact->value);
    if (test.yes) {
        const bool* said = std::get_if<bool>(&fact->value);
        return said ? yes(*said == *test.yes, test)
                    : cannotTell("the fact '" + test.fact + "' is not yes or no");
    }
    if (!word) return cannotTell("the fact '" + test.fact + "' is of another kind");
    if (test.date) return dayHolds(*word, test);
    const bool among = std::find(test.words.begin(), test.words.end(), *word) != test.words.end();
    return yes(among != test.negated, test);
}

FactAnswer holdAll(const TableRun& run, const std::vector<FactTest>& tests) {
    FactAnswer out;
    for (const FactTest& test : tests) {
        FactAnswer now = holds(run, test);
        if (now.answer == Answer::does_not_apply) return now;
        if (now.answer == Answer::cannot_tell && out.answer == Answer::meets) out = std::move(now);
    }
    return out;
}

}  // namespace hoopwright
