#include "rules/starter_choice.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/model/resolve.h"
#include "rules/about_tube.h"
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

bool isAskedFor(const Finding& finding) {
    return finding.severity == Severity::required;
}

}  // namespace

/// The work of one site and its tables.
class StarterChooser::Work {
public:
    Work(std::vector<RuleTableRef> tables, Job site)
        : tables_(std::move(tables)),
          tube_tables_(onlyTubeRules(tables_)),
          site_(std::move(site)),
          job_(site_),
          maker_(site_),
          about_tube_(rulesAboutTube(tables_)) {}

    /// Roles the wish gives no tube get the one last chosen for them: a good guess, and no bar is fitted in
    /// vain.
    Expected<Tried> attempt(const StarterWish& wish) {
        StarterWish full = wish;
        full.tubes.insert(last_tubes_.begin(), last_tubes_.end());
        const Expected<StarterCage> made = maker_.make(full);
        if (!made) return Reason{made.reason()};
        job_.cage = made->cage;
        Tried tried{*made, resolve(job_), {}};
        tried.report = check(tables_, job_, tried.geometry);
        return tried;
    }

    /// How far a cage is from what is required, tube aside: rules that fail, and ends that do not fit.
    std::size_t shortfall(const Tried& tried) const {
        const auto fails = std::ranges::count_if(tried.report.findings, [&](const Finding& f) {
            return isAskedFor(f) && f.answer == Answer::fails && !about_tube_.contains({f.table, f.rule});
        });
        return static_cast<std::size_t>(fails) + tried.geometry.problems.size();
    }

    Expected<StarterChoice> choose(const StarterWish& wish);
    Expected<std::vector<OptionEffect>> effects(const StarterWish& wish);

private:
    Expected<StarterChoice> chosen(const StarterWish& wish);
    void chooseOptions(StarterWish& wish, Tried& now, std::vector<std::string>& taken);
    std::vector<TubeChoice> chooseTubes(StarterWish& wish, const StarterCage& now);
    Tried retubed(const StarterCage& now, const std::map<std::string, std::string>& said,
                  const std::string& stock);
    bool accepts(const Tried& tried, const std::string& role) const;
    void findLeftOut(const std::vector<OptionEffect>& effects, StarterChoice& choice) const;
    void findOtherStarters(const StarterWish& asked, StarterChoice& choice);

    std::vector<RuleTableRef> tables_, tube_tables_;
    Job site_, job_;  ///< job_: with the cage that is tried
    StarterMaker maker_;
    Rules about_tube_;
    std::map<std::string, std::string> last_tubes_;  ///< by role
};

namespace {

/// May the tables' wishes change this option?
bool isOpen(const StarterWish& wish, const StarterOption& option) {
    if (std::ranges::find(wish.without, option.id) != wish.without.end()) return false;
    return std::ranges::none_of(wish.with, [&](const std::string& said) {
        return said == option.id ||
               (!option.group.empty() && starterOptionNamed(said)->group == option.group);
    });
}

}  // namespace

void StarterChooser::Work::chooseOptions(StarterWish& wish, Tried& now, std::vector<std::string>& taken) {
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
bool StarterChooser::Work::accepts(const Tried& tried, const std::string& role) const {
    const CageGeometry& cage = tried.geometry;
    for (const ResolvedMember& member : cage.members) {
        if (member.role != role) continue;
        if (member.line.bendCount() > 0 && !job_.dies.forOd(member.section.od_mm)) return false;
    }
    return std::ranges::none_of(tried.report.findings, [&](const Finding& f) {
        if (!isAskedFor(f) || !about_tube_.contains({f.table, f.rule})) return false;
        if (f.answer != Answer::fails && f.answer != Answer::cannot_tell) return false;
        const int member = cage.member(f.subject);
        return member >= 0 && cage.members[static_cast<std::size_t>(member)].role == role;
    });
}

/// The same bars of another tube, but for the roles that were said, and what the rules about tube say of it.
/// Nothing is fitted anew: those rules ask for tube and radius, not for places.
Tried StarterChooser::Work::retubed(const StarterCage& now, const std::map<std::string, std::string>& said,
                                    const std::string& stock) {
    Tried tried{now, {}, {}};
    for (Member& member : tried.made.cage.members)
        if (!said.contains(member.role)) member.stock = stock;
    job_.cage = tried.made.cage;
    tried.geometry = resolve(job_);
    tried.report = check(tube_tables_, job_, tried.geometry);
    return tried;
}

std::vector<TubeChoice> StarterChooser::Work::chooseTubes(StarterWish& wish, const StarterCage& now) {
    std::vector<std::string> roles;
    for (const Member& member : now.cage.members)
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
        const Tried tried = retubed(now, said, tube->id);
        for (const std::string& role : roles)
            if (!lightest.contains(role) && accepts(tried, role)) lightest[role] = tube->id;
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
        last_tubes_[role] = choice.stock;
        choices.push_back(std::move(choice));
    }
    return choices;
}

namespace {

std::vector<RuleName> failing(const CheckReport& report) {
    std::vector<RuleName> rules;
    for (const Finding& f : report.findings) {
        if (f.answer != Answer::fails) continue;
        RuleName name{f.table, f.rule, f.clause, f.title, isAskedFor(f)};
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

double cageMass(const CageGeometry& cage) {
    return cage.totals.tube_mass_kg + cage.totals.plate_mass_kg;
}

}  // namespace

Expected<std::vector<OptionEffect>> StarterChooser::Work::effects(const StarterWish& wish) {
    const Expected<std::vector<std::string>> has = optionsOf(wish, site_.car);
    if (!has) return Reason{has.reason()};
    std::vector<OptionEffect> effects;
    for (const std::string& option : starterNamed(wish.starter)->may) {
        OptionEffect effect;
        effect.option = option;
        effect.has = std::ranges::find(*has, option) != has->end();
        const Expected<Tried> with = attempt(withOption(wish, option)),
                              without = attempt(withoutOption(wish, option));
        if (!with || !without) {
            effect.why_not = with ? without.reason() : with.reason();
        } else {
            effect.adds_kg = cageMass(with->geometry) - cageMass(without->geometry);
            for (const std::string& note : with->made.notes)
                if (std::ranges::find(without->made.notes, note) == without->made.notes.end())
                    effect.why_not = note;
            effect.asked_by = onlyIn(failing(without->report), failing(with->report));
            effect.against = onlyIn(failing(with->report), failing(without->report));
        }
        effects.push_back(std::move(effect));
    }
    return effects;
}

/// Tubes and options chosen, cage made; not yet why something falls short.
Expected<StarterChoice> StarterChooser::Work::chosen(const StarterWish& wish) {
    StarterChoice choice;
    choice.wish = wish;
    const Expected<StarterCage> rough = maker_.makeRoughly(wish);
    if (!rough) return Reason{rough.reason()};
    choice.tubes = chooseTubes(choice.wish, *rough);
    Expected<Tried> now = attempt(choice.wish);
    if (!now) return Reason{now.reason()};
    chooseOptions(choice.wish, *now, choice.for_rules);
    if (!choice.for_rules.empty()) {
        // New bars want tube too.
        choice.wish.tubes = wish.tubes;
        choice.tubes = chooseTubes(choice.wish, now->made);
        now = attempt(choice.wish);
        if (!now) return Reason{now.reason()};
    }
    choice.made = now->made;
    choice.geometry = std::move(now->geometry);
    choice.report = std::move(now->report);
    return choice;
}

namespace {

bool isShort(const Finding& finding) {
    return isAskedFor(finding) && (finding.answer == Answer::fails || finding.answer == Answer::cannot_tell);
}

/// Is nothing that rule says of the cage short?
bool meets(const CheckReport& report, const Finding& asked) {
    return std::ranges::none_of(report.findings, [&](const Finding& f) {
        return f.table == asked.table && f.rule == asked.rule && isShort(f);
    });
}

}  // namespace

void StarterChooser::Work::findLeftOut(const std::vector<OptionEffect>& effects,
                                       StarterChoice& choice) const {
    for (ShortRule& one : choice.falls_short) {
        const Finding& finding = choice.report.findings[static_cast<std::size_t>(one.finding)];
        for (const OptionEffect& effect : effects) {
            const bool asks = std::ranges::any_of(effect.asked_by, [&](const RuleName& rule) {
                return rule.table == finding.table && rule.rule == finding.rule;
            });
            if (!asks || effect.has || one.why == ShortRule::Why::left_out) continue;
            one.why = ShortRule::Why::left_out;
            one.option = effect.option;
        }
    }
}

void StarterChooser::Work::findOtherStarters(const StarterWish& asked, StarterChoice& choice) {
    for (const Starter& other : starters()) {
        const bool any = std::ranges::any_of(
            choice.falls_short, [](const ShortRule& one) { return one.why == ShortRule::Why::fit; });
        if (!any) return;
        if (other.id == asked.starter) continue;
        StarterWish wish = asked;
        wish.starter = other.id;
        wish.with.clear();
        wish.without.clear();
        const Expected<StarterChoice> tried = chosen(wish);
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

Expected<StarterChoice> StarterChooser::Work::choose(const StarterWish& wish) {
    Expected<StarterChoice> choice = chosen(wish);
    if (!choice) return choice;
    for (std::size_t i = 0; i < choice->report.findings.size(); ++i) {
        if (!isShort(choice->report.findings[i])) continue;
        ShortRule one;
        one.finding = static_cast<int>(i);
        choice->falls_short.push_back(std::move(one));
    }
    if (choice->falls_short.empty()) return choice;
    if (const auto all = effects(choice->wish)) findLeftOut(*all, *choice);
    findOtherStarters(wish, *choice);
    return choice;
}

StarterChooser::StarterChooser(std::vector<RuleTableRef> tables, Job site)
    : work_(std::make_unique<Work>(std::move(tables), std::move(site))) {}
StarterChooser::~StarterChooser() = default;

Expected<StarterChoice> StarterChooser::choose(const StarterWish& wish) {
    return work_->choose(wish);
}

Expected<std::vector<OptionEffect>> StarterChooser::effects(const StarterWish& wish) {
    return work_->effects(wish);
}

}  // namespace hoopwright
