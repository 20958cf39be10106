#include "rules/starter_choice.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/model/resolve.h"
#include "rules/quantity.h"
#include "rules/rule_table.h"

namespace hoopwright {
namespace {

using Rules = std::set<std::pair<std::string, std::string>>;  ///< table and rule

/// A made cage, resolved and checked.
struct Tried {
    StarterCage made;
    CageGeometry geometry;
    CheckReport report;
};

bool isRequired(const Finding& finding) {
    return finding.severity == Severity::required;
}

bool isAboutTube(const Rule& rule) {
    static const std::set<std::string> kNames = [] {
        std::set<std::string> names{"bend_radius_over_od"};
        for (const Quantity& quantity : tubeQuantities()) names.insert(quantity.info.name);
        return names;
    }();
    const auto about = [&](const Check& check) {
        return check.reading.quantity >= 0 &&
               kNames.contains(allQuantities()[static_cast<std::size_t>(check.reading.quantity)].info.name);
    };
    if (rule.check && about(*rule.check)) return true;
    return std::ranges::any_of(
        rule.either, [&](const Rule::Alternative& one) { return std::ranges::any_of(one.all, about); });
}

Rules tubeRules(std::span<const RuleTableRef> tables) {
    Rules all;
    for (const RuleTableRef& table : tables)
        for (const Rule& rule : table->rules)
            if (isAboutTube(rule)) all.emplace(table->info.id, rule.id);
    return all;
}

/// The work of one site and its tables.
class Chooser {
public:
    Chooser(std::span<const RuleTableRef> tables, const Job& site)
        : tables_(tables), job_(site), maker_(site), about_tube_(tubeRules(tables)) {}

    Expected<Tried> attempt(const StarterWish& wish) {
        const Expected<StarterCage> made = maker_.make(wish);
        if (!made) return Reason{made.reason()};
        job_.cage = made->cage;
        Tried tried{*made, resolve(job_), {}};
        tried.report = check(tables_, job_, tried.geometry);
        return tried;
    }

    /// How far a cage is from what is required, tube aside: rules that fail, and ends that do not fit.
    std::size_t shortfall(const Tried& tried) const {
        const auto fails = std::ranges::count_if(tried.report.findings, [&](const Finding& f) {
            return isRequired(f) && f.answer == Answer::fails && !about_tube_.contains({f.table, f.rule});
        });
        return static_cast<std::size_t>(fails) + tried.geometry.problems.size();
    }

    void chooseOptions(StarterWish& wish, Tried& now, std::vector<std::string>& taken);
    std::vector<TubeChoice> chooseTubes(StarterWish& wish, const Tried& now);
    const StarterMaker& maker() const { return maker_; }

private:
    bool accepts(const Tried& tried, const std::string& role) const;

    std::span<const RuleTableRef> tables_;
    Job job_;
    StarterMaker maker_;
    Rules about_tube_;
};

/// May the tables' wishes change this option?
bool isOpen(const StarterWish& wish, const StarterOption& option) {
    if (std::ranges::find(wish.without, option.id) != wish.without.end()) return false;
    return std::ranges::none_of(wish.with, [&](const std::string& said) {
        return said == option.id ||
               (!option.group.empty() && starterOptionNamed(said)->group == option.group);
    });
}

void Chooser::chooseOptions(StarterWish& wish, Tried& now, std::vector<std::string>& taken) {
    const StarterWish asked = wish;
    for (std::size_t least = shortfall(now); least > 0;) {
        std::optional<Tried> best;
        std::string chosen;
        for (const std::string& id : starterNamed(wish.starter)->may) {
            if (!isOpen(asked, *starterOptionNamed(id)) ||
                std::ranges::find(now.made.options, id) != now.made.options.end())
                continue;
            StarterWish with = wish;
            with.with.push_back(id);
            Expected<Tried> tried = attempt(with);
            if (!tried || shortfall(*tried) >= least) continue;
            least = shortfall(*tried);
            best = *std::move(tried);
            chosen = id;
        }
        if (!best) return;
        wish.with.push_back(chosen);
        taken.push_back(chosen);
        now = *std::move(best);
    }
}

/// Does no required rule about tube refuse the bars of a role, or fail to tell; and can they be bent?
bool Chooser::accepts(const Tried& tried, const std::string& role) const {
    const CageGeometry& cage = tried.geometry;
    for (const ResolvedMember& member : cage.members) {
        if (member.role != role) continue;
        if (member.line.bendCount() > 0 && !job_.dies.forOd(member.section.od_mm)) return false;
    }
    return std::ranges::none_of(tried.report.findings, [&](const Finding& f) {
        if (!isRequired(f) || !about_tube_.contains({f.table, f.rule})) return false;
        if (f.answer != Answer::fails && f.answer != Answer::cannot_tell) return false;
        const int member = cage.member(f.subject);
        return member >= 0 && cage.members[static_cast<std::size_t>(member)].role == role;
    });
}

std::vector<TubeChoice> Chooser::chooseTubes(StarterWish& wish, const Tried& now) {
    std::vector<std::string> roles;
    for (const Member& member : now.made.cage.members)
        if (std::ranges::find(roles, member.role) == roles.end()) roles.push_back(member.role);
    const std::map<std::string, std::string> said = wish.tubes;
    std::vector<const TubeStock*> light_first;
    for (const TubeStock& tube : job_.stock.tubes)
        if (tube.section.valid()) light_first.push_back(&tube);
    const auto mass = [&](const TubeStock* tube) {
        const Material* material = job_.stock.material(tube->material);
        return tube->section.mass_kg_per_m(material ? material->density_kg_per_m3 : 7850);
    };
    std::ranges::stable_sort(light_first, {}, mass);
    std::map<std::string, std::string> lightest;
    for (const TubeStock* tube : light_first) {
        if (tables_.empty() || lightest.size() == roles.size()) break;
        StarterWish all = wish;
        for (const std::string& role : roles)
            if (!said.contains(role)) all.tubes[role] = tube->id;
        const Expected<Tried> tried = attempt(all);
        if (!tried) continue;
        for (const std::string& role : roles)
            if (!lightest.contains(role) && accepts(*tried, role)) lightest[role] = tube->id;
    }
    std::vector<TubeChoice> choices;
    for (const std::string& role : roles) {
        TubeChoice choice{role, usualTube(job_.stock, job_.dies)->id, TubeChoice::Why::usual};
        if (const auto light = lightest.find(role); light != lightest.end()) {
            choice.stock = light->second;
            choice.why = TubeChoice::Why::lightest;
        }
        if (const auto by = said.find(role); by != said.end()) {
            choice.stock = by->second;
            choice.why = TubeChoice::Why::said;
        }
        wish.tubes[role] = choice.stock;
        choices.push_back(std::move(choice));
    }
    return choices;
}

std::vector<RuleName> failing(const CheckReport& report) {
    std::vector<RuleName> rules;
    for (const Finding& f : report.findings) {
        if (f.answer != Answer::fails) continue;
        RuleName name{f.table, f.rule, f.clause, f.title, isRequired(f)};
        if (std::ranges::find(rules, name) == rules.end()) rules.push_back(std::move(name));
    }
    return rules;
}

std::vector<RuleName> onlyIn(const std::vector<RuleName>& these, const std::vector<RuleName>& not_those) {
    std::vector<RuleName> rules;
    for (const RuleName& rule : these)
        if (std::ranges::find(not_those, rule) == not_those.end()) rules.push_back(rule);
    return rules;
}

Expected<std::vector<OptionEffect>> effectsOf(Chooser& chooser, const StarterWish& wish) {
    const Expected<std::vector<OptionMass>> masses = chooser.maker().optionMasses(wish);
    if (!masses) return Reason{masses.reason()};
    std::vector<OptionEffect> effects;
    for (const OptionMass& mass : *masses) {
        OptionEffect effect{mass, {}, {}};
        const Expected<Tried> with = chooser.attempt(withOption(wish, mass.option)),
                              without = chooser.attempt(withoutOption(wish, mass.option));
        if (with && without) {
            effect.asked_by = onlyIn(failing(without->report), failing(with->report));
            effect.against = onlyIn(failing(with->report), failing(without->report));
        }
        effects.push_back(std::move(effect));
    }
    return effects;
}

/// Tubes and options chosen, cage made; not yet why something falls short.
Expected<StarterChoice> chosen(Chooser& chooser, const StarterWish& wish) {
    StarterChoice choice;
    choice.wish = wish;
    Expected<Tried> now = chooser.attempt(wish);
    if (!now) return Reason{now.reason()};
    choice.tubes = chooser.chooseTubes(choice.wish, *now);
    now = chooser.attempt(choice.wish);
    if (!now) return Reason{now.reason()};
    chooser.chooseOptions(choice.wish, *now, choice.for_rules);
    if (!choice.for_rules.empty()) {
        // New bars want tube too.
        choice.wish.tubes = wish.tubes;
        choice.tubes = chooser.chooseTubes(choice.wish, *now);
        now = chooser.attempt(choice.wish);
        if (!now) return Reason{now.reason()};
    }
    choice.made = now->made;
    choice.geometry = std::move(now->geometry);
    choice.report = std::move(now->report);
    return choice;
}

bool isShort(const Finding& finding) {
    return isRequired(finding) && (finding.answer == Answer::fails || finding.answer == Answer::cannot_tell);
}

/// Is nothing that rule says of the cage short?
bool meets(const CheckReport& report, const Finding& asked) {
    return std::ranges::none_of(report.findings, [&](const Finding& f) {
        return f.table == asked.table && f.rule == asked.rule && isShort(f);
    });
}

void findLeftOut(const std::vector<OptionEffect>& effects, StarterChoice& choice) {
    for (ShortRule& one : choice.falls_short) {
        const Finding& finding = choice.report.findings[static_cast<std::size_t>(one.finding)];
        for (const OptionEffect& effect : effects) {
            const bool asks = std::ranges::any_of(effect.asked_by, [&](const RuleName& rule) {
                return rule.table == finding.table && rule.rule == finding.rule;
            });
            if (!asks || effect.mass.has || one.why == ShortRule::Why::left_out) continue;
            one.why = ShortRule::Why::left_out;
            one.option = effect.mass.option;
        }
    }
}

void findOtherStarters(Chooser& chooser, const StarterWish& asked, StarterChoice& choice) {
    for (const Starter& other : starters()) {
        const bool any = std::ranges::any_of(
            choice.falls_short, [](const ShortRule& one) { return one.why == ShortRule::Why::fit; });
        if (!any) return;
        if (other.id == asked.starter) continue;
        StarterWish wish = asked;
        wish.starter = other.id;
        wish.with.clear();
        wish.without.clear();
        const Expected<StarterChoice> tried = chosen(chooser, wish);
        if (!tried || !tried->geometry.problems.empty()) continue;
        // One that falls short elsewhere is no way out.
        const bool trades = std::ranges::any_of(
            tried->report.findings, [&](const Finding& f) { return isShort(f) && meets(choice.report, f); });
        if (trades) continue;
        for (ShortRule& one : choice.falls_short) {
            const Finding& finding = choice.report.findings[static_cast<std::size_t>(one.finding)];
            if (one.why != ShortRule::Why::fit || !meets(tried->report, finding)) continue;
            one.why = ShortRule::Why::other_starter;
            one.starter = other.id;
        }
    }
}

}  // namespace

std::string_view tubeChoiceWord(TubeChoice::Why why) {
    switch (why) {
        case TubeChoice::Why::said:
            return "said";
        case TubeChoice::Why::lightest:
            return "lightest";
        case TubeChoice::Why::usual:
            break;
    }
    return "usual";
}

std::string_view shortRuleWord(ShortRule::Why why) {
    switch (why) {
        case ShortRule::Why::left_out:
            return "left_out";
        case ShortRule::Why::other_starter:
            return "other_starter";
        case ShortRule::Why::fit:
            break;
    }
    return "fit";
}

Expected<StarterChoice> chooseStarter(std::span<const RuleTableRef> tables, const Job& site,
                                      const StarterWish& wish) {
    Chooser chooser(tables, site);
    Expected<StarterChoice> choice = chosen(chooser, wish);
    if (!choice) return choice;
    for (std::size_t i = 0; i < choice->report.findings.size(); ++i) {
        if (!isShort(choice->report.findings[i])) continue;
        ShortRule one;
        one.finding = static_cast<int>(i);
        choice->falls_short.push_back(std::move(one));
    }
    if (choice->falls_short.empty()) return choice;
    if (const auto effects = effectsOf(chooser, choice->wish)) findLeftOut(*effects, *choice);
    findOtherStarters(chooser, wish, *choice);
    return choice;
}

Expected<std::vector<OptionEffect>> optionEffects(std::span<const RuleTableRef> tables, const Job& site,
                                                  const StarterWish& wish) {
    Chooser chooser(tables, site);
    return effectsOf(chooser, wish);
}

}  // namespace hoopwright
