#include "tests/rules/vectors/mutation.h"

#include <cctype>
#include <chrono>
#include <cstdio>
#include <map>
#include <regex>

namespace hoopwright::test {
namespace {

/// Keys whose values are words for people.
bool isForPeople(const std::string& line) {
    static const std::regex kForPeople(
        R"(^    (?:- )?(?:id|clause|title|sentence|known|source|ask|way_out|each|severity): .*|^  - id: .*|^ *#.*)");
    return std::regex_match(line, kForPeople);
}

std::string dateMoved(const std::string& date, int days) {
    using namespace std::chrono;
    int y = 0;
    unsigned m = 0, d = 0;
    std::sscanf(date.c_str(), "%d-%u-%u", &y, &m, &d);
    const year_month_day moved(sys_days(year(y) / month(m) / day(d)) + std::chrono::days(days));
    char out[40];
    std::snprintf(out, sizeof out, "%04d-%02u-%02u", static_cast<int>(moved.year()),
                  static_cast<unsigned>(moved.month()), static_cast<unsigned>(moved.day()));
    return out;
}

/// "0.095" -> "0.096"; "3/16" -> "4/16".
std::string numberMoved(const std::string& number, int steps) {
    if (const std::size_t slash = number.find('/'); slash != std::string::npos)
        return std::to_string(std::stoi(number) + steps) + number.substr(slash);
    const std::size_t dot = number.find('.');
    const int places = dot == std::string::npos ? 0 : static_cast<int>(number.size() - dot - 1);
    double step = steps;
    for (int i = 0; i < places; ++i) step /= 10;
    char out[40];
    std::snprintf(out, sizeof out, "%.*f", places, std::stod(number) + step);
    return out;
}

void moveNumbers(std::vector<Mutant>& out, const std::string& text, std::size_t from, std::size_t to) {
    static const std::regex kToken(R"(\d{4}-\d\d-\d\d|-?\d+/\d+|-?\d+(?:\.\d+)?)");
    const std::string line = text.substr(from, to - from);
    for (std::sregex_iterator it(line.begin(), line.end(), kToken), end; it != end; ++it) {
        const std::string token = it->str();
        const auto at = static_cast<std::size_t>(it->position());
        // A digit in a word, as in mm2 or tie_2, is no number.
        const char before = at > 0 ? line[at - 1] : ' ';
        if (std::isalnum(static_cast<unsigned char>(before)) || before == '_') continue;
        for (const int step : {1, -1}) {
            const bool date = token.size() == 10 && token[4] == '-';
            const std::string moved = date ? dateMoved(token, step) : numberMoved(token, step);
            Mutant one{line.substr(0, 90) + ": " + token + " -> " + moved, text};
            one.text.replace(from + at, token.size(), moved);
            out.push_back(std::move(one));
        }
    }
}

void turnComparisons(std::vector<Mutant>& out, const std::string& text, std::size_t from, std::size_t to) {
    static const std::map<std::string, std::vector<std::string>> kTurned = {
        {"at_least:", {"at_most:", "more_than:"}},
        {"at_most:", {"at_least:", "less_than:"}},
        {"more_than:", {"less_than:", "at_least:"}},
        {"less_than:", {"more_than:", "at_most:"}},
        {"exactly:", {"at_least:", "at_most:"}},
        {"is: yes", {"is: no"}},
        {"is_not:", {"is:"}},
        {"from:", {"over:"}},
        {"over:", {"from:"}},
        {"up_to:", {"below:"}},
        {"below:", {"up_to:"}},
    };
    const std::string line = text.substr(from, to - from);
    for (const auto& [said, instead] : kTurned) {
        for (std::size_t at = line.find(said); at != std::string::npos; at = line.find(said, at + 1)) {
            if (at > 0 && line[at - 1] != ' ' && line[at - 1] != '{') continue;
            // `from`, `over` and `below` name places too; then a word follows.
            const char next = line[std::min(at + said.size() + 1, line.size() - 1)];
            const bool bracket = said == "from:" || said == "over:" || said == "up_to:" || said == "below:";
            if (bracket && !std::isdigit(static_cast<unsigned char>(next))) continue;
            for (const std::string& other : instead) {
                // A count is never under nothing.
                if (said == "exactly:" && next == '0' && other == "at_most:") continue;
                Mutant one{line.substr(0, 90) + ": " + said + " -> " + other, text};
                one.text.replace(from + at, said.size(), other);
                out.push_back(std::move(one));
            }
        }
    }
    static const std::regex kIs(R"(^    is: (?!yes|no)(\w+))");
    if (std::regex_search(line, kIs)) {
        Mutant one{line + " -> is_not", text};
        one.text.replace(from + line.find("is:"), 3, "is_not:");
        out.push_back(std::move(one));
    }
    static const std::regex kBetween(R"(^    between: .*)"), kOpen(R"(^    open: .*)");
    if (std::regex_match(line, kBetween) && text.find("\n    open: ") == std::string::npos) {
        Mutant one{line + " made open", text};
        one.text.insert(to, "\n    open: both");
        out.push_back(std::move(one));
    }
    if (std::regex_match(line, kOpen)) {
        Mutant one{line + " left out", text};
        one.text.erase(from, to - from + 1);
        out.push_back(std::move(one));
    }
}

/// "[a, b, c]" without one of its words at a time.
std::vector<std::string> shortened(const std::string& list) {
    std::vector<std::string> words, out;
    static const std::regex kWord(R"(\w+)");
    for (std::sregex_iterator it(list.begin(), list.end(), kWord), end; it != end; ++it)
        words.push_back(it->str());
    for (std::size_t left_out = 0; words.size() > 1 && left_out < words.size(); ++left_out) {
        std::string now;
        for (std::size_t i = 0; i < words.size(); ++i)
            if (i != left_out) now += (now.empty() ? "[" : ", ") + words[i];
        out.push_back(now + "]");
    }
    return out;
}

/// Adds the text with a stretch of it said otherwise.
void say(std::vector<Mutant>& out, const std::string& text, std::size_t at, const std::string& said,
         const std::string& instead) {
    Mutant one{said + " -> " + (instead.empty() ? "nothing" : instead), text};
    one.text.replace(at, said.size(), instead);
    out.push_back(std::move(one));
}

/// One word of a list of allowed ones at a time left out.
void shortenLists(std::vector<Mutant>& out, const std::string& text, std::size_t from, std::size_t to) {
    const std::string line = text.substr(from, to - from);
    static const std::regex kList(R"(^    one_of: (\[\w+(?:, \w+)+\]))");
    std::smatch found;
    if (!std::regex_match(line, found, kList)) return;
    for (const std::string& fewer : shortened(found[1]))
        say(out, text, from + static_cast<std::size_t>(found.position(1)), found[1], fewer);
}

/// What else could be said of a fact: another word, one word less, the other of yes and no.
std::vector<std::string> otherwise(const std::string& value) {
    if (value == "yes") return {"no"};
    if (value == "no") return {"yes"};
    if (value.starts_with("{not: ")) return {value.substr(6, value.size() - 7)};
    if (value.starts_with("[")) return shortened(value);
    if (value.starts_with("{")) return {};  // numbers and days are moved
    return {"{not: " + value + "}"};
}

/// The words of conditions: `when: {roof: [open, none], crew: yes}`.
void turnConditions(std::vector<Mutant>& out, const std::string& text, std::size_t from, std::size_t to) {
    const std::string line = text.substr(from, to - from);
    const std::string opens = "when: {";
    for (std::size_t when = line.find(opens); when != std::string::npos; when = line.find(opens, when + 1)) {
        std::size_t start = when + opens.size();
        int depth = 0;
        for (std::size_t i = start; i < line.size(); ++i) {
            const char c = line[i];
            const bool closes = c == '}' || c == ']';
            if (depth == 0 && (c == ',' || closes)) {
                const std::string one = line.substr(start, i - start);
                const std::size_t value = one.find(": ") + 2;
                for (const std::string& instead : otherwise(one.substr(value)))
                    say(out, text, from + start, one, one.substr(0, value) + instead);
                start = i + 2;
                if (closes) break;
            }
            depth += c == '{' || c == '[' ? 1 : closes ? -1 : 0;
        }
    }
}

/// Families of metal: `family: [mild_steel, chrome_moly]` of a tube table or of materials, and `is:
/// chrome_moly` in a selector.
void turnFamilies(std::vector<Mutant>& out, const std::string& text, std::size_t from, std::size_t to) {
    const std::string line = text.substr(from, to - from);
    static const std::regex kFamily(R"((?:, )?family: (\[\w+(?:, \w+)*\]))"),
        kIs(R"(\{measure: \w+, is: (?!yes|no)\w+)");
    for (std::sregex_iterator it(line.begin(), line.end(), kFamily), end; it != end; ++it) {
        const std::vector<std::string> fewer = shortened((*it)[1]);
        for (const std::string& one : fewer)
            say(out, text, from + static_cast<std::size_t>(it->position(1)), (*it)[1], one);
        if (fewer.empty() && it->str().starts_with(", "))
            say(out, text, from + static_cast<std::size_t>(it->position()), it->str(), "");
    }
    for (std::sregex_iterator it(line.begin(), line.end(), kIs), end; it != end; ++it) {
        std::string instead = it->str();
        instead.replace(instead.find("is: "), 4, "is_not: ");
        say(out, text, from + static_cast<std::size_t>(it->position()), it->str(), instead);
    }
}

template <class F>
void forLines(const std::string& text, F f) {
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t to = std::min(text.find('\n', from), text.size());
        f(from, to);
        from = to + 1;
    }
}

}  // namespace

std::vector<Mutant> mutants(const std::string& text) {
    std::vector<Mutant> out;
    forLines(text, [&](std::size_t from, std::size_t to) {
        if (isForPeople(text.substr(from, to - from))) return;
        moveNumbers(out, text, from, to);
        turnComparisons(out, text, from, to);
        shortenLists(out, text, from, to);
        turnConditions(out, text, from, to);
        turnFamilies(out, text, from, to);
    });
    return out;
}

std::vector<Mutant> mutantsOfHead(const std::string& head) {
    std::vector<Mutant> out;
    bool figures = false;
    forLines(head, [&](std::size_t from, std::size_t to) {
        const std::string line = head.substr(from, to - from);
        if (!line.empty() && std::isalpha(static_cast<unsigned char>(line[0])))
            figures = line.starts_with("tubes:") || line.starts_with("reference_tubes:") ||
                      line.starts_with("materials:");
        if (!figures || isForPeople(line)) return;
        moveNumbers(out, head, from, to);
        turnComparisons(out, head, from, to);
        turnConditions(out, head, from, to);
        turnFamilies(out, head, from, to);
    });
    return out;
}

}  // namespace hoopwright::test
