#include "rules/about_tube.h"

#include <algorithm>

#include "rules/quantity.h"
#include "rules/rule_table.h"

namespace hoopwright {

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

std::set<std::pair<std::string, std::string>> rulesAboutTube(std::span<const RuleTableRef> tables) {
    std::set<std::pair<std::string, std::string>> all;
    for (const RuleTableRef& table : tables)
        for (const Rule& rule : table->rules)
            if (isAboutTube(rule)) all.emplace(table->info.id, rule.id);
    return all;
}

std::vector<RuleTableRef> onlyTubeRules(std::span<const RuleTableRef> tables) {
    std::vector<RuleTableRef> out;
    for (const RuleTableRef& table : tables) {
        auto copy = std::make_shared<RuleTable>(*table);
        std::erase_if(copy->rules, [](const Rule& rule) { return !isAboutTube(rule); });
        out.push_back(std::move(copy));
    }
    return out;
}

}  // namespace hoopwright
