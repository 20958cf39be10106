#include "tests/rules/vectors/vectors.h"

#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace hoopwright::test {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> filesOf(const fs::path& folder, const std::string& ending) {
    std::vector<fs::path> out;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ending) out.push_back(entry.path());
    std::sort(out.begin(), out.end());
    return out;
}

std::string trimmed(const std::string& text) {
    const std::size_t from = text.find_first_not_of(" \t\r");
    return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(" \t\r") - from + 1);
}

std::vector<std::string> split(const std::string& text, char at) {
    std::vector<std::string> out;
    std::istringstream in(text);
    for (std::string part; std::getline(in, part, at);) out.push_back(trimmed(part));
    return out;
}

std::pair<std::string, std::string> parted(const std::string& text) {
    const std::size_t at = text.rfind('=');
    if (at == std::string::npos) throw std::runtime_error("'" + text + "' has no =");
    return {trimmed(text.substr(0, at)), trimmed(text.substr(at + 1))};
}

TableText cutUp(const fs::path& file) {
    TableText out;
    out.id = file.stem().string();
    std::ifstream in(file);
    bool in_rules = false;
    for (std::string line; std::getline(in, line);) {
        if (line.starts_with("  - id: ") && in_rules) out.rules.emplace_back(trimmed(line.substr(8)), "");
        if (out.rules.empty()) {
            out.head += line + "\n";
        } else if (!line.starts_with("  #")) {
            out.rules.back().second += line + "\n";
        }
        in_rules = in_rules || line == "rules:";
    }
    return out;
}

Vector vectorOf(const std::string& table, const std::string& line, const std::string& where) {
    const std::vector<std::string> cells = split(line, ';');
    if (cells.size() != 5) throw std::runtime_error(where + ": five cells wanted");
    Vector out{table, cells[0], cells[1], cells[2], {}, cells[4], where};
    for (const std::string& one : wordsOf(cells[3])) out.cases.push_back(parted(one));
    if (out.cases.empty()) throw std::runtime_error(where + ": no cases");
    return out;
}

Answer answerNamed(const std::string& word) {
    for (Answer a :
         {Answer::meets, Answer::fails, Answer::cannot_tell, Answer::does_not_apply, Answer::ask_person})
        if (word == answerKey(a)) return a;
    throw std::runtime_error("no answer '" + word + "'");
}

Held heldCase(const Vector& vector, const std::string& value, const std::string& wanted) {
    try {
        Bench bench = emptyBench();
        for (const std::string& one : split(vector.always, ',')) {
            const auto [knob, at] = parted(one);
            // "car" takes x/y/z, for the comma parts settings.
            std::string set = at;
            std::replace(set.begin(), set.end(), '/', knob.starts_with("car ") ? ',' : '/');
            turn(bench, knob, set);
        }
        turn(bench, vector.knob, value);
        Held out{&vector, value, bench.job, {}, answerNamed(wanted)};
        out.cage = resolve(out.job);
        return out;
    } catch (const std::exception& wrong) {
        throw std::runtime_error(vector.where + ": " + wrong.what());
    }
}

}  // namespace

const std::string& TableText::rule(const std::string& name) const {
    for (const auto& [one, text] : rules)
        if (one == name) return text;
    throw std::runtime_error("table " + id + " has no rule " + name);
}

bool TableText::has(const std::string& name) const {
    return std::any_of(rules.begin(), rules.end(), [&](const auto& rule) { return rule.first == name; });
}

const std::vector<TableText>& shippedTables() {
    static const std::vector<TableText> kAll = [] {
        std::vector<TableText> out;
        for (const fs::path& file : filesOf(fs::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules", ".yaml"))
            out.push_back(cutUp(file));
        return out;
    }();
    return kAll;
}

RuleTableRef readOne(const std::string& head, const std::string& rule) {
    return readRuleTableText(head + rule, "one.yaml").table;
}

const std::vector<Vector>& allVectors() {
    static const std::vector<Vector> kAll = [] {
        std::vector<Vector> out;
        for (const fs::path& file :
             filesOf(fs::path(HOOPWRIGHT_SOURCE_DIR) / "tests/rules/vectors", ".csv")) {
            std::ifstream in(file);
            int number = 0;
            for (std::string line; std::getline(in, line);) {
                ++number;
                if (trimmed(line).empty() || line.starts_with("#")) continue;
                out.push_back(vectorOf(file.stem().string(), line,
                                       file.filename().string() + ":" + std::to_string(number)));
            }
        }
        return out;
    }();
    return kAll;
}

const std::vector<Held>& heldCases(const std::string& table, const std::string& rule) {
    static std::map<std::pair<std::string, std::string>, std::vector<Held>> kept;
    const auto [at, is_new] = kept.try_emplace({table, rule});
    if (!is_new) return at->second;
    for (const Vector& vector : allVectors()) {
        if (vector.table != table || vector.rule != rule) continue;
        for (const auto& [value, wanted] : vector.cases)
            at->second.push_back(heldCase(vector, value, wanted));
    }
    return at->second;
}

Answer answerOf(const RuleTableRef& table, const Held& held) {
    const RuleTableRef tables[] = {table};
    Answer worst = Answer::does_not_apply;
    for (const Finding& f : check(tables, held.job, held.cage).findings) worst = std::min(worst, f.answer);
    return worst;
}

}  // namespace hoopwright::test
