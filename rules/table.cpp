// From a file or a text to a compiled table.
#include "core/files/yaml_map.h"
#include "rules/check.h"
#include "rules/table_reader.h"

namespace hoopwright {

RuleTableResult readRuleTableText(std::string text, const std::string& name) {
    YamlFile file(std::move(text), name);
    RuleTable table = TableReader(file).read();
    RuleTableResult out;
    out.problems = file.problems();
    // Shared: the window, its worker and its undo states all hold the same table, which never changes.
    if (out.problems.empty()) out.table = std::make_shared<const RuleTable>(std::move(table));
    return out;
}

RuleTableResult readRuleTable(const std::filesystem::path& file) {
    WholeText whole = readWholeFile(file.string());
    if (!whole.text) return {nullptr, std::move(whole.problems)};
    return readRuleTableText(std::move(*whole.text), file.string());
}

const RuleTableInfo& info(const RuleTable& table) {
    return table.info;
}

}  // namespace hoopwright
