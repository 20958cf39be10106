#include "rules/editions.h"

#include <algorithm>
#include <map>

#include "rules/rule_table.h"
#include "rules/rule_words.h"

namespace hoopwright {
namespace {

std::vector<EditionChange> changesOf(const FrozenTable& was, const RuleTable& now) {
    std::vector<EditionChange> out;
    std::map<std::string, const FrozenRule*> before;
    for (const FrozenRule& rule : was.rules) before[rule.rule] = &rule;
    for (const Rule& rule : now.rules) {
        std::string says = ruleWords(now, rule);
        const auto known = before.find(rule.id);
        if (known == before.end()) {
            out.push_back({EditionChange::Kind::added, rule.id, rule.title, {}, std::move(says)});
            continue;
        }
        if (known->second->says != says)
            out.push_back(
                {EditionChange::Kind::changed, rule.id, rule.title, known->second->says, std::move(says)});
        before.erase(known);
    }
    for (const FrozenRule& rule : was.rules)
        if (before.contains(rule.rule))
            out.push_back({EditionChange::Kind::gone, rule.rule, {}, rule.says, {}});
    return out;
}

}  // namespace

FrozenTable frozenFrom(const RuleTable& table, std::string when) {
    FrozenTable out{table.info.id, table.info.edition, std::move(when), {}};
    for (const Rule& rule : table.rules) out.rules.push_back({rule.id, ruleWords(table, rule)});
    return out;
}

std::string_view editionChangeKey(EditionChange::Kind kind) {
    switch (kind) {
        case EditionChange::Kind::added:
            return "added";
        case EditionChange::Kind::gone:
            return "gone";
        case EditionChange::Kind::changed:
            return "changed";
    }
    return "";
}

std::vector<EditionNews> editionNews(std::span<const RuleTableRef> tables, const CageLayout& cage) {
    std::vector<EditionNews> out;
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        EditionNews news;
        news.table = table->info.id;
        news.title = table->info.title;
        news.edition = table->info.edition;
        const auto kept = std::ranges::find(cage.frozen, news.table, &FrozenTable::table);
        if (kept != cage.frozen.end()) {
            news.kept = true;
            news.was_edition = kept->edition;
            news.kept_when = kept->when;
            news.changes = changesOf(*kept, *table);
        }
        out.push_back(std::move(news));
    }
    return out;
}

void keepEditions(CageLayout& cage, std::span<const RuleTableRef> tables, const std::string& when) {
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        FrozenTable now = frozenFrom(*table, when);
        const auto kept = std::ranges::find(cage.frozen, now.table, &FrozenTable::table);
        if (kept == cage.frozen.end()) {
            cage.frozen.push_back(std::move(now));
        } else if (kept->edition != now.edition || kept->rules != now.rules) {
            *kept = std::move(now);
        }
    }
}

}  // namespace hoopwright
