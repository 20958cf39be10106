// A starter made for class tables: what tube each bar is of, what options the rules ask for, what is left.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/starter/starter.h"
#include "rules/check.h"

namespace hoopwright {

struct TubeChoice {
    std::string role, stock;
    /// said: by the wish. lightest: that every table accepts. usual: no table could say, or none accepts any.
    enum class Why { said, lightest, usual };
    Why why = Why::usual;
};
std::string_view tubeChoiceWord(TubeChoice::Why why);

/// A rule that falls short although tubes and options were tried.
struct ShortRule {
    int finding = -1;  ///< into StarterChoice::report.findings
    /// left_out: it asks for an option the wish leaves out. other_starter: another starter meets it in this
    /// car, and falls short of nothing that this one meets. fit: none does; car, people and the shop's tube
    /// leave no more.
    enum class Why { left_out, other_starter, fit };
    Why why = Why::fit;
    std::string option;   ///< left_out: which
    std::string starter;  ///< other_starter: the first that meets it
};
std::string_view shortRuleWord(ShortRule::Why why);

struct StarterChoice {
    StarterWish wish;  ///< as asked, with the options and tubes that were chosen
    StarterCage made;
    CageGeometry geometry;
    CheckReport report;
    std::vector<TubeChoice> tubes;       ///< of each role the cage has
    std::vector<std::string> for_rules;  ///< options taken because the tables ask for them
    std::vector<ShortRule> falls_short;  ///< of what is required: fails, or could not be told
};
/// Options the wish does not name may be added or exchanged within their group where that makes fewer
/// required rules fail; tubes it does not name are the lightest that no required rule about tube refuses, of
/// those the dies can bend where the bar is bent, else the usual one. Refuses as StarterMaker::make().
Expected<StarterChoice> chooseStarter(std::span<const RuleTableRef> tables, const Job& site,
                                      const StarterWish& wish);

/// A rule by its place in its table.
struct RuleName {
    std::string table, rule, clause, title;
    bool required = true;
    friend bool operator==(const RuleName&, const RuleName&) = default;
};
/// What one option does: mass, and to the rules.
struct OptionEffect {
    OptionMass mass;
    std::vector<RuleName> asked_by;  ///< fail without it (of a group: without any), and not with it
    std::vector<RuleName> against;   ///< fail with it, and not without
};
Expected<std::vector<OptionEffect>> optionEffects(std::span<const RuleTableRef> tables, const Job& site,
                                                  const StarterWish& wish);

}  // namespace hoopwright
