#include "rules/shared_tube.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/model/resolve.h"
#include "rules/about_tube.h"
#include "rules/check_rule.h"

namespace hoopwright {
namespace {

/// Of one bar and one table: the first rule that has a say, and the tube it takes.
struct Takes {
    const Rule* rule = nullptr;
    std::set<std::string> refused;
};

}  // namespace

std::vector<SharedLimit> sharedTube(std::span<const RuleTableRef> tables, const Job& job,
                                    const CageGeometry& cage) {
    std::vector<RuleTableRef> about = onlyTubeRules(tables);
    std::erase_if(about, [](const RuleTableRef& table) { return table->rules.empty(); });
    if (about.size() < 2) return {};
    std::map<std::pair<std::string, const RuleTable*>, Takes> said;  // by bar and table
    Job tried = job;
    for (const TubeStock& tube : job.stock.tubes) {
        if (!tube.section.valid()) continue;
        for (Member& member : tried.cage.members) member.stock = tube.id;
        const CageGeometry made = resolve(tried);
        const CheckScene scene(tried, made);
        for (const RuleTableRef& table : about) {
            const TableRun run(*table, scene);
            for (const Rule& rule : table->rules) {
                if (!rule.check || rule.severity != Severity::required) continue;
                if (ruleApplies(run, rule).answer != Answer::meets) continue;
                for (const JudgedThing& thing : answerCheck(run, *rule.check, std::nullopt).things) {
                    if (thing.what.kind != SubjectKind::member) continue;
                    Takes& takes = said[{scene.member(thing.what.first).id, table.get()}];
                    if (!takes.rule) takes.rule = &rule;
                    if (thing.judged.answer != Answer::meets) takes.refused.insert(tube.id);
                }
            }
        }
    }
    std::vector<SharedLimit> out;
    for (const ResolvedMember& member : cage.members) {
        SharedLimit limit;
        limit.quantity = "tube";
        limit.subjects = {member.id};
        limit.names = {member.name};
        std::vector<std::string> all;
        for (const TubeStock& tube : job.stock.tubes)
            if (tube.section.valid()) all.push_back(tube.id);
        limit.words = all;
        std::set<std::vector<std::string>> lists;
        for (const RuleTableRef& table : about) {
            const auto takes = said.find({member.id, table.get()});
            if (takes == said.end() || !takes->second.rule) continue;
            std::vector<std::string> taken = all;
            std::erase_if(taken, [&](const std::string& id) { return takes->second.refused.contains(id); });
            std::erase_if(limit.words,
                          [&](const std::string& id) { return takes->second.refused.contains(id); });
            std::string text;
            for (const std::string& id : taken) text += (text.empty() ? "" : ", ") + id;
            const Rule& rule = *takes->second.rule;
            limit.asks.push_back({table->info.id, rule.id, rule.clause, rule.title,
                                  taken.empty() ? "tube the shop's list has not" : text});
            lists.insert(std::move(taken));
        }
        if (limit.asks.size() < 2) continue;
        for (const std::string& id : limit.words) limit.serves += (limit.serves.empty() ? "" : " or ") + id;
        limit.kind = limit.words.empty()           ? SharedLimit::Kind::never
                     : lists.size() == 1           ? SharedLimit::Kind::alike
                     : lists.contains(limit.words) ? SharedLimit::Kind::strictest
                                                   : SharedLimit::Kind::both;
        out.push_back(std::move(limit));
    }
    return out;
}

}  // namespace hoopwright
