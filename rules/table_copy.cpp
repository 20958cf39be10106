#include "rules/table_copy.h"

#include <algorithm>

#include "core/files/job_file.h"
#include "core/files/yaml_tree.h"
#include "rules/table_outline.h"

namespace hoopwright {
namespace {

bool isIdentifier(const std::string& word) {
    const auto small = [](char c) { return c >= 'a' && c <= 'z'; };
    const auto fits = [&](char c) { return small(c) || (c >= '0' && c <= '9') || c == '_'; };
    return !word.empty() && small(word.front()) && std::all_of(word.begin(), word.end(), fits);
}

bool isBlank(const std::string& words) {
    return words.find_first_not_of(" \t") == std::string::npos;
}

}  // namespace

Problems copyTable(const std::string& text, const TableCopy& copy) {
    Problems out;
    const FileMark at{copy.file.string(), 0, 0};
    if (!isIdentifier(copy.id))
        out.push_back({at, "'" + copy.id + "' is no id",
                       "begin with a small letter, then small letters, digits and underscores"});
    if (isBlank(copy.title)) out.push_back({at, "the copy has no title", "write what it is called"});
    if (isBlank(copy.written_by)) out.push_back({at, "nobody answers for the copy", "write who types it in"});
    std::error_code none;
    if (std::filesystem::exists(std::filesystem::symlink_status(copy.file, none)))
        out.push_back({at, "there is such a file already", "choose another name"});
    if (!outlineTable(text))
        out.push_back({at, "what was to be copied does not read as YAML", "mend it first"});
    if (!out.empty()) return out;
    if (const auto problem = saveText(copy.file, renamedTable(text, copy.id, copy.title, copy.written_by)))
        out.push_back(*problem);
    return out;
}

Problems copyTableFile(const std::filesystem::path& from, const TableCopy& copy) {
    WholeText whole = readWholeFile(from.string());
    if (!whole.text) return std::move(whole.problems);
    return copyTable(*whole.text, copy);
}

}  // namespace hoopwright
