// From a file or a text to a compiled table.
#include <algorithm>
#include <string_view>

#include "core/files/yaml_map.h"
#include "rules/check.h"
#include "rules/table_reader.h"

namespace hoopwright {
namespace {

/// A table with far too many rules, one below the other, is refused before any of it is taken apart: that
/// alone would cost seconds.
std::optional<Problem> tooManyRules(std::string_view text, const std::string& name) {
    std::size_t indent = std::string_view::npos;
    bool within = false;
    int line = 0, count = 0;
    FileMark first_over{name, 0, 0};
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view one = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        ++line;
        const std::size_t at = one.find_first_not_of(' ');
        if (at == std::string_view::npos || one[at] == '#') continue;
        const bool item = one[at] == '-' && (at + 1 == one.size() || one[at + 1] == ' ');
        if (at == 0 && !item) within = one.starts_with("rules:");
        if (!within || !item || at > indent) continue;
        indent = at;
        if (++count == kMostRules + 1) first_over = {name, line, static_cast<int>(at) + 1};
    }
    if (count <= kMostRules) return std::nullopt;
    return Problem{first_over,
                   "the table has " + std::to_string(count) + " rules, and " + std::to_string(kMostRules) +
                       " are read at most",
                   "split it into several tables"};
}

}  // namespace

RuleTableResult readRuleTableText(std::string text, const std::string& name) {
    if (std::optional<Problem> many = tooManyRules(text, name)) return {nullptr, {*std::move(many)}};
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
