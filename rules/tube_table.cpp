// A tube against a tube table: any row that applies, any alternative, all of its parts.
#include <optional>

#include "rules/judge.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

/// Whether a row is for this bar.
FactAnswer rowApplies(const TableRun& run, const TubeRow& row, const Subject& what) {
    if (row.bracket) {
        FactAnswer bracket = holds(run, *row.bracket);
        if (bracket.answer != Answer::meets) return bracket;
    }
    if (FactAnswer facts = holdAll(run, row.when); facts.answer != Answer::meets) return facts;
    return {run.picks(row.for_bars, what.first, what) ? Answer::meets : Answer::does_not_apply, {}};
}

/// The worst part of an alternative. A part that fails outweighs one that can't be told.
Judged judgeAlternative(const TableRun& run, const TubeAlternative& alternative, const Subject& what) {
    std::optional<Judged> worst;
    const auto rank = [](const Judged& j) {
        return j.answer == Answer::fails ? 0 : j.answer == Answer::cannot_tell ? 1 : 2;
    };
    for (std::size_t i = 0; i < alternative.all.size(); ++i) {
        Judged now = judge(run, alternative.all[i], what);
        if (now.answer == Answer::does_not_apply) continue;
        now.reading = static_cast<int>(i);
        const bool worse = !worst || rank(now) < rank(*worst) ||
                           (rank(now) == rank(*worst) && now.relative < worst->relative);
        if (worse) worst = now;
    }
    return worst.value_or(Judged{});
}

bool better(const Judged& a, const Judged& b) {
    const auto rank = [](const Judged& j) {
        return j.answer == Answer::meets ? 0 : j.answer == Answer::cannot_tell ? 1 : 2;
    };
    return rank(a) != rank(b) ? rank(a) < rank(b) : a.relative > b.relative;
}

bool hasBrackets(const TubeTable& table) {
    for (const TubeRow& row : table.rows)
        if (row.bracket) return true;
    return false;
}

}  // namespace

Judged judgeTube(const TableRun& run, int tube_table, const Subject& what) {
    const TubeTable& table = run.table().tubes[static_cast<std::size_t>(tube_table)];
    std::optional<Judged> best;
    bool in_bracket = false;
    Judged out;
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        const TubeRow& row = table.rows[r];
        const FactAnswer applies = rowApplies(run, row, what);
        if (applies.answer == Answer::cannot_tell) {
            out.found = applies.missing;
            return out;
        }
        if (row.bracket && holds(run, *row.bracket).answer == Answer::meets) in_bracket = true;
        if (applies.answer != Answer::meets) continue;
        for (std::size_t a = 0; a < row.any_of.size(); ++a) {
            Judged now = judgeAlternative(run, row.any_of[a], what);
            now.row = static_cast<int>(r);
            now.alternative = static_cast<int>(a);
            if (!best || better(now, *best)) best = now;
        }
    }
    if (best) return *best;
    if (hasBrackets(table) && !in_bracket) {
        out.found = "the '" + table.by + "' of this entry is in none of the brackets of tube table '" +
                    table.name + "'";
        return out;
    }
    out.answer = Answer::fails;
    out.found = "no row of tube table '" + table.name + "' is for this bar";
    out.relative = -1;
    return out;
}

}  // namespace hoopwright
