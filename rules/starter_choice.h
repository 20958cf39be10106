// A starter made for class tables: what tube each bar is of, what options the rules ask for, what is left.
#pragma once

#include <memory>
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
/// A rule by its place in its table.
struct RuleName {
    std::string table, rule, clause, title;
    bool required = true;
    friend bool operator==(const RuleName&, const RuleName&) = default;
};
/// What one option the starter may have does: to the mass, and to the rules.
struct OptionEffect {
    std::string option;
    bool has = false;
    /// With it less without it, or, of a group, less without any; tubes, plates, gussets.
    double adds_kg = 0;
    std::string why_not;             ///< it cannot be had in this car; empty: it can
    std::vector<RuleName> asked_by;  ///< fail without it (of a group: without any), and not with it
    std::vector<RuleName> against;   ///< fail with it, and not without
};

/// Starters for one site and its class tables. The bars it has fitted it keeps, so that a wish with another
/// option is quick. One thread at a time.
class StarterChooser {
public:
    StarterChooser(std::vector<RuleTableRef> tables, Job site);
    ~StarterChooser();
    /// Options the wish does not name may be added or exchanged within their group where that makes fewer
    /// required rules fail; tubes it does not name are the lightest that no required rule about tube refuses,
    /// of those the dies can bend where the bar is bent, else the usual one. Refuses as StarterMaker::make().
    Expected<StarterChoice> choose(const StarterWish& wish);
    /// Of each option the starter may have. @param wish  StarterChoice::wish
    Expected<std::vector<OptionEffect>> effects(const StarterWish& wish);

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace hoopwright
