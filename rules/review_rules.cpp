// Rules no cage could meet, that every cage meets, or that can never apply.
#include "rules/review_rules.h"

#include <algorithm>
#include <set>

#include "rules/accepted.h"
#include "rules/quantity_of.h"
#include "rules/table_outline.h"

namespace hoopwright {
namespace {

using Kind = TableRemark::Kind;

std::string quoted(const std::string& word) {
    return "'" + word + "'";
}

/// Roles a selector keeps bars to; nothing: any.
std::optional<std::set<std::string>> rolesOf(const RuleTable& table, int selector) {
    if (selector < 0) return std::nullopt;
    const Selector& s = table.selectors[static_cast<std::size_t>(selector)];
    std::optional<std::set<std::string>> out;
    if (!s.roles.empty()) out.emplace(s.roles.begin(), s.roles.end());
    if (s.groups.empty()) return out;
    std::set<std::string> of_groups;
    for (int group : s.groups) {
        const auto roles = rolesOf(table, group);
        if (!roles) return out;
        of_groups.insert(roles->begin(), roles->end());
    }
    if (!out) return of_groups;
    std::set<std::string> both;
    std::set_intersection(out->begin(), out->end(), of_groups.begin(), of_groups.end(),
                          std::inserter(both, both.end()));
    return both;
}

/// Is a bar in it by its role alone?
bool byRoleAlone(const RuleTable& table, int selector) {
    const Selector& s = table.selectors[static_cast<std::size_t>(selector)];
    const bool groups =
        std::all_of(s.groups.begin(), s.groups.end(), [&](int group) { return byRoleAlone(table, group); });
    // Both lines given must hold: then neither alone says it.
    const bool one = s.roles.empty() != s.groups.empty();
    return one && groups && s.sides.empty() && !s.drivers_side && !s.passengers_side && !s.bent &&
           !s.optional_bar && !s.carries_belts && !s.on_plate && s.lands_on < 0 && s.not_these < 0 &&
           s.having.empty() && s.relative == Selector::Relative::no;
}

/// Nothing is said of what it picks.
bool picksAll(const Selector& s) {
    Selector all;
    all.kind = s.kind;
    all.words = s.words;
    return s == all;
}

std::string whyNothingHere(const RuleTable& table, const Selector& s, int selector) {
    if (s.not_these >= 0 && picksAll(table.selectors[static_cast<std::size_t>(s.not_these)]))
        return "its `not` names nothing and so leaves out every bar";
    const auto roles = rolesOf(table, selector);
    if (roles && roles->empty()) return "no bar has such a role and is in such a group at once";
    if (roles && s.not_these >= 0 && byRoleAlone(table, s.not_these)) {
        const auto barred = rolesOf(table, s.not_these);
        if (barred && std::includes(barred->begin(), barred->end(), roles->begin(), roles->end()))
            return "what it names is also left out by `not`";
    }
    for (std::size_t i = 0; i < s.having.size(); ++i) {
        const Reading& own = s.having[i];
        if (own.quantity < 0) continue;
        const std::string& name = quantityOf(own).info.name;
        if (lacksAll(own)) return quoted(name) + " is " + rangeWords(own) + " and never " + own.against.text;
        for (std::size_t j = 0; j < i; ++j)
            // Measured in two ways it may be two things.
            if (s.having[j].quantity == own.quantity && s.having[j].with == own.with &&
                apart(own, s.having[j]))
                return "no " + quoted(name) + " is " + s.having[j].against.text + " and " + own.against.text;
    }
    return "";
}

}  // namespace

std::string whyNothing(const RuleTable& table, int selector) {
    if (selector < 0) return "";
    const Selector& s = table.selectors[static_cast<std::size_t>(selector)];
    if (std::string why = whyNothingHere(table, s, selector); !why.empty()) return why;
    for (int inner : {s.lands_on, s.branch, s.host, s.first, s.second, s.under})
        if (std::string why = whyNothing(table, inner); !why.empty()) return why;
    if (s.groups.empty()) return "";
    std::string why;
    for (int group : s.groups) {
        why = whyNothing(table, group);
        if (why.empty()) return "";
    }
    return why;
}

const YamlNode& comparisonOf(const YamlNode& check) {
    for (const char* key : {"at_least", "more_than", "at_most", "less_than", "exactly", "between", "one_of",
                            "is", "is_not", "fits"})
        if (const YamlNode* value = childOf(&check, key)) return *value;
    return check;
}

namespace {

/// What one check comes to on its own.
struct Verdict {
    enum class Is { fair, impossible, never, always };
    Is is = Is::fair;
    const YamlNode* at = nullptr;
    std::string what, remedy;
};

bool leftAndRight(const Selector& s) {
    if (s.sides.empty()) return true;
    const auto has = [&](Side side) {
        return std::find(s.sides.begin(), s.sides.end(), side) != s.sides.end();
    };
    return has(Side::left) && has(Side::right);
}

Verdict verdictOn(const RuleTable& table, const Check& check, const YamlNode& node) {
    using Is = Verdict::Is;
    if (check.reading.quantity < 0) return {};
    const Quantity& quantity = quantityOf(check.reading);
    const std::string& name = quantity.info.name;
    const bool none = !check.how_many.all && check.how_many.greatest == 0;
    const YamlNode* limit = &comparisonOf(node);
    const std::string& asked = check.reading.against.text;
    if (lacksAll(check.reading))
        return {none ? Is::always : Is::impossible, limit,
                quoted(name) + " is " + rangeWords(check.reading) + " and never " + asked, "check the limit"};
    if (takesAll(check.reading))
        return {none ? Is::impossible : Is::always, limit,
                quoted(name) + " is " + rangeWords(check.reading) + " and so always " + asked,
                "check the limit"};
    const YamlNode* of = childOf(&node, "of");
    const bool wants = quantity.counts ? check.reading.against.by == Comparison::By::stretch &&
                                             check.reading.against.low - check.reading.against.tolerance > 0
                                       : check.none_fails;
    if (const std::string why = whyNothing(table, check.of); of && !why.empty())
        return {wants ? Is::impossible : Is::never, of, "`of` can match nothing: " + why, "check `of`"};
    if (of && check.per_side && wants && !leftAndRight(table.selectors[static_cast<std::size_t>(check.of)]))
        return {Is::impossible, of, "`per_side` judges left and right, and `of` leaves one side out",
                "leave `side` or `per_side` out"};
    return {};
}

const YamlNode* itemOf(const YamlNode* list, std::size_t i) {
    if (!list) return nullptr;
    if (list->kind != YamlNode::Kind::list) return i == 0 ? list : nullptr;
    return i < list->items.size() ? &list->items[i] : nullptr;
}

class RuleReview {
public:
    RuleReview(const ReviewedText& text, const Rule& rule, const YamlNode& node)
        : text_(text), rule_(rule), node_(node) {}

    std::vector<TableRemark> remarks() {
        conditions();
        if (rule_.check) plain(*rule_.check);
        if (!rule_.either.empty()) alternatives();
        if (const YamlNode* of = childOf(&node_, "of"); of && rule_.ask_of >= 0)
            if (const std::string why = whyNothing(text_.table, rule_.ask_of); !why.empty())
                say(Kind::never, *of, "`of` can match nothing: " + why, "check `of`");
        return std::move(out_);
    }

private:
    void say(Kind kind, const YamlNode& at, const std::string& what, const std::string& remedy) {
        out_.push_back({kind, text_.at(at), rule_.id, "", what, remedy});
    }

    void conditions() {
        for (const FactTest& test : rule_.when) {
            const FactWanted* fact = text_.table.fact(test.fact);
            const YamlNode* at = childOf(childOf(&node_, "when"), test.fact);
            if (fact && at && lacksAll(test, fact->words))
                say(Kind::never, *at, "'" + test.fact + "' says nothing that is left", "check `when`");
        }
        for (std::size_t i = 0; i < rule_.only_if.size(); ++i) {
            const YamlNode* at = itemOf(childOf(&node_, "only_if"), i);
            if (!at) continue;
            const Verdict verdict = verdictOn(text_.table, rule_.only_if[i], *at);
            if (verdict.is == Verdict::Is::impossible || verdict.is == Verdict::Is::never)
                say(Kind::never, *verdict.at, "its condition cannot hold: " + verdict.what, verdict.remedy);
        }
    }

    void plain(const Check& check) {
        const Verdict verdict = verdictOn(text_.table, check, node_);
        switch (verdict.is) {
            case Verdict::Is::fair:
                return;
            case Verdict::Is::impossible:
                return say(Kind::impossible, *verdict.at, "no cage could meet it: " + verdict.what,
                           verdict.remedy);
            case Verdict::Is::never:
                return say(Kind::never, *verdict.at, "it can never apply: " + verdict.what, verdict.remedy);
            case Verdict::Is::always:
                return say(Kind::always, *verdict.at, "every cage meets it: " + verdict.what, verdict.remedy);
        }
    }

    void alternatives() {
        const YamlNode* list = childOf(&node_, "either");
        std::size_t dead = 0;
        for (std::size_t i = 0; i < rule_.either.size(); ++i) {
            const Rule::Alternative& one = rule_.either[i];
            const YamlNode* all = childOf(itemOf(list, i), "all");
            bool fair = true;
            for (std::size_t j = 0; j < one.all.size() && fair; ++j) {
                const YamlNode* at = itemOf(all, j);
                if (!at) continue;
                const Verdict verdict = verdictOn(text_.table, one.all[j], *at);
                if (verdict.is != Verdict::Is::impossible) continue;
                say(Kind::impossible, *verdict.at,
                    "no cage could meet the alternative '" + one.name + "': " + verdict.what, verdict.remedy);
                fair = false;
            }
            dead += fair ? 0 : 1;
        }
        if (dead > 0 && dead == rule_.either.size())
            say(Kind::impossible, *list, "no cage could meet it: none of its alternatives can be met",
                "check their limits");
    }

    const ReviewedText& text_;
    const Rule& rule_;
    const YamlNode& node_;
    std::vector<TableRemark> out_;
};

/// Tubes that there cannot be.
void emptyTubes(const ReviewedText& text, std::vector<TableRemark>& out) {
    for (const TubeTable& tubes : text.table.tubes) {
        const YamlNode* node = childOf(childOf(&text.root, "tubes"), tubes.name);
        const YamlNode* rows = childOf(node, "rows");
        for (std::size_t i = 0; i < tubes.rows.size(); ++i) {
            const YamlNode* any_of = childOf(rows ? itemOf(rows, i) : node, "any_of");
            for (std::size_t j = 0; j < tubes.rows[i].any_of.size(); ++j) {
                const YamlNode* at = itemOf(any_of, j);
                for (const Reading& part : tubes.rows[i].any_of[j].all)
                    if (at && lacksAll(part))
                        out.push_back({TableRemark::Kind::impossible, text.at(*at), "", "",
                                       "no tube is so: '" + quantityOf(part).info.name + "' is " +
                                           rangeWords(part) + " and never " + part.against.text,
                                       "check the limit"});
            }
        }
    }
}

}  // namespace

std::vector<TableRemark> emptyRules(const ReviewedText& text) {
    std::vector<TableRemark> out;
    emptyTubes(text, out);
    for (const Rule& rule : text.table.rules) {
        const YamlNode* node = text.rule(rule.id);
        if (!node) continue;
        const std::vector<TableRemark> some = RuleReview(text, rule, *node).remarks();
        out.insert(out.end(), some.begin(), some.end());
    }
    return out;
}

}  // namespace hoopwright
