#include "rules/rule_words.h"

#include <cmath>
#include <set>
#include <string_view>

#include "core/base/text.h"
#include "rules/quantity.h"
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

/// A figure a table may assign to materials, and what it is called there.
struct Figure {
    std::optional<double> AssignedFigures::*value;
    const char* called;
};
constexpr Figure kFigures[] = {
    {&AssignedFigures::modulus_mpa, "modulus"},
    {&AssignedFigures::yield_mpa, "yield"},
    {&AssignedFigures::tensile_mpa, "tensile"},
    {&AssignedFigures::welded_yield_mpa, "welded_yield"},
    {&AssignedFigures::welded_tensile_mpa, "welded_tensile"},
};

/// Which assigned figures the readings of a rule lean on, whatever way they are come by.
class FiguresUsed {
public:
    explicit FiguresUsed(const RuleTable& table) : table_(table) {}

    void look(const Rule& rule) {
        if (rule.check) look(*rule.check);
        for (const Check& check : rule.only_if) look(check);
        for (const Check& check : rule.unless) look(check);
        for (const Rule::Alternative& one : rule.either)
            for (const Check& check : one.all) look(check);
        lookAtSelector(rule.ask_of);
    }
    bool has(std::string_view figure) const { return used_.contains(figure); }

private:
    const RuleTable& table_;
    std::set<std::string, std::less<>> used_;
    std::set<int> selectors_, tubes_;

    void look(const Check& check) {
        look(check.reading);
        lookAtSelector(check.of);
    }

    void look(const Reading& reading) {
        if (reading.quantity >= 0) {
            const std::string& name = allQuantities()[static_cast<std::size_t>(reading.quantity)].info.name;
            const std::string weld = reading.with.welded ? "welded_" : "";
            if (name == "stiffness_over") used_.insert("modulus");
            if (name == "strength_over" || name == "yield") used_.insert(weld + "yield");
            if (name == "tensile") used_.insert(weld + "tensile");
        }
        lookAtSelector(reading.with.members);
        if (reading.against.tube_table < 0 || !tubes_.insert(reading.against.tube_table).second) return;
        for (const TubeRow& row : table_.tubes[static_cast<std::size_t>(reading.against.tube_table)].rows) {
            lookAtSelector(row.for_bars);
            for (const TubeAlternative& one : row.any_of)
                for (const Reading& part : one.all) look(part);
        }
    }

    void lookAtSelector(int index) {
        if (index < 0 || !selectors_.insert(index).second) return;
        const Selector& selector = table_.selectors[static_cast<std::size_t>(index)];
        for (const Reading& reading : selector.having) look(reading);
        for (int group : selector.groups) lookAtSelector(group);
        for (int other : {selector.lands_on, selector.not_these, selector.branch, selector.host,
                          selector.first, selector.second, selector.under})
            lookAtSelector(other);
    }
};

/// "; yield of mild_steel, chrome_moly: 365 MPa" for each figure the rule reckons with.
std::string figuresOf(const RuleTable& table, const Rule& rule) {
    if (table.materials.empty()) return {};
    FiguresUsed used(table);
    used.look(rule);
    std::string out;
    for (const auto& [value, called] : kFigures) {
        if (!used.has(called)) continue;
        for (const AssignedFigures& figures : table.materials) {
            if (!(figures.*value)) continue;
            out += "; " + std::string(called) + " of ";
            for (std::size_t i = 0; i < figures.families.size(); ++i)
                out += (i ? ", " : "") + figures.families[i];
            for (std::size_t i = 0; i < figures.forms.size(); ++i)
                out += (i ? " or " : ", ") + std::string(formWord(figures.forms[i]));
            const double mpa = *(figures.*value);
            out += ": " + (mpa == std::floor(mpa) ? fixed(mpa, 0) : shortest(mpa)) + " MPa";
        }
    }
    return out;
}

}  // namespace

std::string ruleWords(const RuleTable& table, const Rule& rule) {
    std::string body = rule.written;
    if (body.size() >= 2 && body.front() == '{') body = body.substr(1, body.size() - 2);
    std::set<std::string> known;
    std::string meanings;
    addMeanings(table, body, known, meanings);
    return rule.clause + (rule.clause.empty() ? "" : " ") + rule.sentence +
           (rule.severity == Severity::recommended ? " (recommended)" : "") + " [" + body + meanings +
           figuresOf(table, rule) + "]";
}

}  // namespace hoopwright
