#include "rules/several_tables.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/base/text.h"
#include "rules/check_rule.h"
#include "rules/quantity.h"
#include "rules/quantity_of.h"
#include "rules/shared_tube.h"
#include "rules/table_reader.h"

namespace hoopwright {
namespace {

constexpr double kReadsAlike = 1e-9;

/// One rule on one thing.
struct Asked {
    const RuleTable* table = nullptr;
    const Rule* rule = nullptr;
    const Check* check = nullptr;
    Arguments plain;  ///< names of the table left out
    Measured read;
    std::string of;  ///< counts: what is counted
};

Arguments withoutNames(Arguments with) {
    for (int* name :
         {&with.members, &with.from, &with.to, &with.place, &with.above, &with.below, &with.reference_tube})
        *name = *name >= 0 ? 0 : -1;
    return with;
}

bool readsAlike(const Measured& a, const Measured& b) {
    const auto near = [](double x, double y) {
        return std::abs(x - y) <= kReadsAlike * std::max(1.0, std::abs(x));
    };
    return a.is == b.is && near(a.low, b.low) && near(a.high, b.high) && a.yes == b.yes && a.text == b.text;
}

bool sameMeasure(const Asked& a, const Asked& b) {
    return a.check->reading.quantity == b.check->reading.quantity && a.plain == b.plain && a.of == b.of &&
           readsAlike(a.read, b.read);
}

/// All that the tables ask of one thing, the same measures together.
struct OneThing {
    std::string id, name;
    std::vector<std::vector<Asked>> groups;
    void add(Asked asked) {
        for (std::vector<Asked>& group : groups)
            if (sameMeasure(group.front(), asked)) return group.push_back(std::move(asked));
        groups.emplace_back();
        groups.back().push_back(std::move(asked));
    }
};

using Things = std::map<std::pair<int, std::string>, OneThing>;

void gather(const TableRun& run, const Rule& rule, Things& things) {
    if (!rule.check || rule.severity != Severity::required) return;
    const Check& check = *rule.check;
    const Comparison& against = check.reading.against;
    // A limit that leans on a fact is one number only for this entry.
    const bool plain = against.by != Comparison::By::tube_table && against.by != Comparison::By::parts;
    if (check.reading.quantity < 0 || !plain || !check.how_many.all) return;
    const Quantity& quantity = quantityOf(check);
    if (ruleApplies(run, rule).answer != Answer::meets) return;
    Asked asked{&run.table(), &rule, &check, withoutNames(check.reading.with), {}, {}};
    if (quantity.counts) {
        if (check.of >= 0) asked.of = run.table().selectors[static_cast<std::size_t>(check.of)].words;
        asked.of += check.per_side ? " on each side" : "";
        things[{-1, ""}].add(std::move(asked));
        return;
    }
    for (const Subject& what : run.subjects(quantity.kind, check.of)) {
        Asked one{asked.table, asked.rule, asked.check, asked.plain, run.measure(check.reading, what, false),
                  {}};
        if (one.read.is == Measured::Is::left_out || one.read.is == Measured::Is::unknown) continue;
        OneThing& thing = things[{static_cast<int>(what.kind), run.id(what)}];
        thing.id = run.id(what);
        thing.name = run.name(what);
        thing.add(std::move(one));
    }
}

bool ofSeveralTables(const std::vector<Asked>& group) {
    return std::ranges::any_of(group, [&](const Asked& one) { return one.table != group.front().table; });
}

std::string rangeText(const SharedLimit& limit, const Unit& unit) {
    const bool low = limit.low && std::isfinite(*limit.low), high = limit.high && std::isfinite(*limit.high);
    const auto rounded = [&](double base) { return shortest(std::round(base / unit.to_base * 1e4) / 1e4); };
    const std::string word = unit.word.empty() ? "" : " " + unit.word;
    if (low && high && *limit.low == *limit.high) return rounded(*limit.low) + word;
    if (low && high)
        return (limit.low_open ? "over " : "") + rounded(*limit.low) + " to " +
               (limit.high_open ? "under " : "") + rounded(*limit.high) + word;
    if (low) return (limit.low_open ? "more than " : "at least ") + rounded(*limit.low) + word;
    if (high) return (limit.high_open ? "less than " : "at most ") + rounded(*limit.high) + word;
    return "any";
}

/// Numbers: the overlap of all stretches; with a list of numbers, those of it inside.
void overlapNumbers(const std::vector<Asked>& group, SharedLimit& out) {
    double low = -INFINITY, high = INFINITY;
    double bends_low = -INFINITY, bends_high = INFINITY;  // with the tolerances
    std::set<const RuleTable*> low_by, high_by;
    std::optional<std::vector<double>> listed;
    for (const Asked& one : group) {
        const Comparison& c = one.check->reading.against;
        if (c.by == Comparison::By::numbers) {
            std::vector<double> both = c.numbers;
            if (listed)
                std::erase_if(both, [&](double n) { return std::ranges::find(*listed, n) == listed->end(); });
            listed = std::move(both);
            continue;
        }
        if (c.low > low || (c.low == low && c.low_open)) {
            if (c.low > low) low_by.clear();
            low = c.low;
            out.low_open = c.low_open;
        }
        if (c.low == low) low_by.insert(one.table);
        if (c.high < high || (c.high == high && c.high_open)) {
            if (c.high < high) high_by.clear();
            high = c.high;
            out.high_open = c.high_open;
        }
        if (c.high == high) high_by.insert(one.table);
        bends_low = std::max(bends_low, c.low - c.tolerance);
        bends_high = std::min(bends_high, c.high + c.tolerance);
    }
    out.low = low;
    out.high = high;
    const bool open = out.low_open || out.high_open;
    bool possible = open ? bends_low < bends_high : bends_low <= bends_high;
    if (quantityOf(*group.front().check).counts && possible) {
        const double least = out.low_open ? std::floor(low) + 1 : std::ceil(low);
        possible = out.high_open ? least < high : least <= high;
    }
    if (listed) {
        std::erase_if(*listed, [&](double n) { return n < bends_low || n > bends_high; });
        possible = !listed->empty();
    }
    const Unit& unit = group.front().check->reading.against.unit;
    if (possible) out.serves = rangeText(out, unit);
    if (listed && possible) {
        out.serves.clear();
        for (const double n : *listed) out.serves += (out.serves.empty() ? "" : " or ") + inUnit(n, unit);
    }
    const bool one_is_enough = std::ranges::any_of(group, [&](const Asked& a) {
        const bool all_low = !std::isfinite(low) || low_by.contains(a.table);
        const bool all_high = !std::isfinite(high) || high_by.contains(a.table);
        return all_low && all_high;
    });
    out.kind = !possible                  ? SharedLimit::Kind::never
               : one_is_enough && !listed ? SharedLimit::Kind::strictest
                                          : SharedLimit::Kind::both;
}

void overlapWords(const std::vector<Asked>& group, SharedLimit& out) {
    std::optional<std::vector<std::string>> allowed;
    std::set<std::string> refused;
    for (const Asked& one : group) {
        const Comparison& c = one.check->reading.against;
        if (c.by == Comparison::By::not_words) refused.insert(c.words.begin(), c.words.end());
        if (c.by != Comparison::By::words) continue;
        std::vector<std::string> both = c.words;
        if (allowed)
            std::erase_if(
                both, [&](const std::string& w) { return std::ranges::find(*allowed, w) == allowed->end(); });
        allowed = std::move(both);
    }
    if (allowed) std::erase_if(*allowed, [&](const std::string& w) { return refused.contains(w); });
    out.kind = allowed && allowed->empty() ? SharedLimit::Kind::never : SharedLimit::Kind::both;
    if (allowed) out.words = *allowed;
    for (const std::string& word : out.words) out.serves += (out.serves.empty() ? "" : " or ") + word;
    if (!allowed)
        for (const std::string& word : refused) out.serves += (out.serves.empty() ? "not " : " nor ") + word;
}

void overlap(const std::vector<Asked>& group, SharedLimit& out) {
    switch (group.front().check->reading.against.by) {
        case Comparison::By::words:
        case Comparison::By::not_words:
            return overlapWords(group, out);
        case Comparison::By::yes_no: {
            const bool yes = group.front().check->reading.against.yes;
            const bool agree = std::ranges::all_of(
                group, [&](const Asked& one) { return one.check->reading.against.yes == yes; });
            out.kind = agree ? SharedLimit::Kind::alike : SharedLimit::Kind::never;
            out.serves = agree ? (yes ? "yes" : "no") : "";
            return;
        }
        default:
            return overlapNumbers(group, out);
    }
}

SharedLimit limitOf(const OneThing& thing, const std::vector<Asked>& group) {
    SharedLimit out;
    const Quantity& quantity = quantityOf(*group.front().check);
    out.quantity = quantity.info.name;
    out.dimension = quantity.info.dimension;
    if (!thing.id.empty()) out.subjects = {thing.id};
    if (!thing.name.empty()) out.names = {thing.name};
    if (out.names.empty() && !group.front().of.empty()) out.names = {group.front().of};
    for (const Asked& one : group)
        out.asks.push_back({one.table->info.id, one.rule->id, one.rule->clause, one.rule->title,
                            one.check->reading.against.text});
    overlap(group, out);
    const bool alike = std::ranges::all_of(
        out.asks, [&](const TableAsk& ask) { return ask.limit_text == out.asks.front().limit_text; });
    if (alike && out.kind != SharedLimit::Kind::never) out.kind = SharedLimit::Kind::alike;
    return out;
}

/// Things of which the same rules ask the same are told together.
void addTogether(SharedLimit one, std::vector<SharedLimit>& out) {
    const auto same = std::ranges::find_if(out, [&](const SharedLimit& known) {
        return known.asks == one.asks && known.quantity == one.quantity && known.serves == one.serves;
    });
    if (same == out.end()) return out.push_back(std::move(one));
    same->subjects.insert(same->subjects.end(), one.subjects.begin(), one.subjects.end());
    same->names.insert(same->names.end(), one.names.begin(), one.names.end());
}

std::string joined(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i)
        out += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    return out;
}

std::string titleOf(std::span<const RuleTableRef> tables, const std::string& id) {
    for (const RuleTableRef& table : tables)
        if (table && table->info.id == id) return table->info.title;
    return id;
}

void putInWords(SharedLimit& limit, std::span<const RuleTableRef> tables) {
    std::string quantity = limit.quantity;
    std::ranges::replace(quantity, '_', ' ');
    const std::size_t shown = std::min<std::size_t>(limit.names.size(), 4);
    std::vector<std::string> names(limit.names.begin(), limit.names.begin() + static_cast<long>(shown));
    if (limit.names.size() > shown) names.push_back(std::to_string(limit.names.size() - shown) + " more");
    limit.says = quantity + (names.empty() ? "" : " of " + joined(names)) + ": ";
    limit.says[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(limit.says[0])));
    std::vector<std::string> parts;
    for (const TableAsk& ask : limit.asks)
        parts.push_back(titleOf(tables, ask.table) + (ask.clause.empty() ? "" : " " + ask.clause) +
                        " asks for " + ask.limit_text);
    limit.says += joined(parts);
    const std::string all = limit.asks.size() > 2 ? "all" : "both";
    if (limit.kind == SharedLimit::Kind::never)
        limit.says += ". These cannot " + all + " be met.";
    else
        limit.says += ": " + limit.serves + " serves " + all + ".";
}

}  // namespace

std::string_view sharedLimitKey(SharedLimit::Kind kind) {
    switch (kind) {
        case SharedLimit::Kind::alike:
            return "alike";
        case SharedLimit::Kind::strictest:
            return "strictest";
        case SharedLimit::Kind::both:
            return "both";
        case SharedLimit::Kind::never:
            return "never";
    }
    return "";
}

std::vector<SharedLimit> sharedLimits(std::span<const RuleTableRef> tables, const Job& job,
                                      const CageGeometry& cage) {
    std::vector<SharedLimit> out;
    if (std::ranges::count_if(tables, [](const RuleTableRef& t) { return t != nullptr; }) < 2) return out;
    const CheckScene scene(job, cage);
    Things things;
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        const TableRun run(*table, scene);
        for (const Rule& rule : table->rules) gather(run, rule, things);
    }
    for (SharedLimit& one : sharedTube(tables, job, cage)) addTogether(std::move(one), out);
    for (const auto& [key, thing] : things)
        for (const std::vector<Asked>& group : thing.groups)
            if (ofSeveralTables(group)) addTogether(limitOf(thing, group), out);
    for (SharedLimit& one : out) putInWords(one, tables);
    // std::ranges::stable_partition does not compile with clang 14 and this standard library.
    std::stable_partition(out.begin(), out.end(),
                          [](const SharedLimit& one) { return one.kind == SharedLimit::Kind::never; });
    return out;
}

std::vector<const SharedLimit*> sharedWith(const std::vector<SharedLimit>& limits, const Finding& finding) {
    std::vector<const SharedLimit*> out;
    for (const SharedLimit& limit : limits) {
        const bool asks = std::ranges::any_of(limit.asks, [&](const TableAsk& ask) {
            return ask.table == finding.table && ask.rule == finding.rule;
        });
        const bool of_it = limit.subjects.empty() || finding.subject.empty() ||
                           std::ranges::find(limit.subjects, finding.subject) != limit.subjects.end();
        if (asks && of_it) out.push_back(&limit);
    }
    return out;
}

}  // namespace hoopwright
