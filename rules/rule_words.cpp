#include "rules/rule_words.h"

#include <set>

#include "rules/rule_table.h"

namespace hoopwright {
namespace {

bool isOfName(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

/// Adds what the names in `text` stand for, and the names in that, each once.
void addMeanings(const RuleTable& table, const std::string& text, std::set<std::string>& known,
                 std::string& out) {
    for (std::size_t from = 0; from < text.size();) {
        if (!isOfName(text[from])) {
            ++from;
            continue;
        }
        std::size_t to = from;
        while (to < text.size() && isOfName(text[to])) ++to;
        const std::string name = text.substr(from, to - from);
        from = to;
        const auto meaning = table.written.find(name);
        if (meaning == table.written.end() || !known.insert(name).second) continue;
        out += "; " + name + ": " + meaning->second;
        addMeanings(table, meaning->second, known, out);
    }
}

}  // namespace

std::string ruleWords(const RuleTable& table, const Rule& rule) {
    std::string body = rule.written;
    if (body.size() >= 2 && body.front() == '{') body = body.substr(1, body.size() - 2);
    std::set<std::string> known;
    std::string meanings;
    addMeanings(table, body, known, meanings);
    return rule.clause + (rule.clause.empty() ? "" : " ") + rule.sentence +
           (rule.severity == Severity::recommended ? " (recommended)" : "") + " [" + body + meanings + "]";
}

}  // namespace hoopwright
