// Selectors: which things a check is about.
#include <algorithm>

#include "core/base/text.h"
#include "rules/table_reader.h"

namespace hoopwright {
namespace {

std::string joined(const std::vector<std::string>& words, const char* between) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : between) + word;
    return out;
}

void say(Selector& out, const std::string& more) {
    out.words += (out.words.empty() ? "" : ", ") + more;
}

}  // namespace

int TableReader::selector(const YamlValue& value, SubjectKind kind, bool relative) {
    if (!value) return -1;
    Selector out;
    out.kind = kind;
    {
        YamlMap map = value.map();
        if (kind == SubjectKind::cage) {
            value.problem("this measures the whole cage", "leave `of` out");
        } else if (kind == SubjectKind::member) {
            readMemberLines(out, map, relative);
        } else {
            readOtherLines(out, map);
        }
        if (kind != SubjectKind::cage) out.having = having(map.find("having"), kind);
    }
    for (std::size_t i = first_unnamed_; i < table_.selectors.size(); ++i)
        if (table_.selectors[i] == out) return static_cast<int>(i);
    table_.selectors.push_back(std::move(out));
    return static_cast<int>(table_.selectors.size()) - 1;
}

void TableReader::readMemberLines(Selector& out, YamlMap& map, bool relative) {
    const YamlValue role = map.find("role");
    out.roles = wordsOf(role);
    for (const std::string& word : out.roles) {
        if (std::find(roles_.begin(), roles_.end(), word) != roles_.end()) continue;
        const std::string near = didYouMean(word, roles_);
        role.problem("there is no role '" + word + "'", near.empty()
                                                            ? "name it under roles if it is this table's own"
                                                            : "did you mean '" + near + "'?");
    }
    if (!out.roles.empty()) say(out, "of role " + joined(out.roles, " or "));
    if (const YamlValue group = map.find("group")) {
        std::vector<std::string> names;
        for (const auto& [name, index] : table_.groups) names.push_back(name);
        const std::vector<YamlValue> items = group.isList() ? group.list() : std::vector{group};
        for (const YamlValue& item : items)
            if (const int at = indexOf(item, names, "group"); at >= 0)
                out.groups.push_back(table_.groups[static_cast<std::size_t>(at)].second);
        say(out, "of group " + joined(wordsOf(group), " or "));
    }
    readSides(out, map.find("side"), relative);
    const auto flag = [&](const char* key, const char* yes, const char* no) -> std::optional<bool> {
        const YamlValue value = map.find(key);
        if (!value) return std::nullopt;
        const bool is = value.yesNo();
        say(out, is ? yes : no);
        return is;
    };
    out.bent = flag("bent", "bent", "straight");
    out.optional_bar = flag("optional", "optional", "not optional");
    out.carries_belts = flag("carries_belts", "that carries belts", "that carries no belts");
    out.on_plate = flag("on_plate", "on a plate", "not on a plate");
    out.lands_on = selector(map.find("lands_on"), SubjectKind::member, relative);
    if (out.lands_on >= 0)
        say(out, "landing on a bar " + table_.selectors[static_cast<std::size_t>(out.lands_on)].words);
    out.not_these = selector(map.find("not"), SubjectKind::member, relative);
    if (out.not_these >= 0)
        say(out, "that is not a bar " + table_.selectors[static_cast<std::size_t>(out.not_these)].words);
}

void TableReader::readSides(Selector& out, const YamlValue& value, bool relative) {
    if (!value) return;
    for (const std::string& word : wordsOf(value)) {
        if (word == "left")
            out.sides.push_back(Side::left);
        else if (word == "right")
            out.sides.push_back(Side::right);
        else if (word == "centre")
            out.sides.push_back(Side::centre);
        else if (word == "driver")
            out.drivers_side = true;
        else if (word == "passenger")
            out.passengers_side = true;
        else if (relative && word == "same")
            out.relative = Selector::Relative::same_side;
        else if (relative && word == "other")
            out.relative = Selector::Relative::other_side;
        else if (word == "same" || word == "other")
            value.problem("'" + word + "' side of what?", "`same` and `other` stand only inside `with`");
        else
            value.problem("there is no side '" + word + "'",
                          "known here: left, right, centre, driver, passenger");
    }
    say(out, "on side " + joined(wordsOf(value), " or "));
}

void TableReader::readOtherLines(Selector& out, YamlMap& map) {
    if (out.kind != SubjectKind::driver && out.kind != SubjectKind::gusset && out.kind != SubjectKind::pair)
        readSides(out, map.find("side"), false);
    switch (out.kind) {
        case SubjectKind::joint:
            out.branch = selector(map.find("branch"), SubjectKind::member, true);
            out.host = selector(map.find("host"), SubjectKind::member, true);
            break;
        case SubjectKind::plate:
            out.under = selector(map.find("under"), SubjectKind::member, true);
            if (const YamlValue fixing = map.find("fixing"))
                out.welded = fixing.oneOf<bool>({{"welded", true}, {"bolted", false}});
            break;
        case SubjectKind::gusset: {
            const YamlValue between = map.find("between");
            const std::vector<YamlValue> two = between.list();
            if (between && between.isList() && two.size() != 2)
                between.problem("needs two selectors of bars");
            if (two.size() != 2) break;
            out.first = selector(two[0], SubjectKind::member);
            out.second = selector(two[1], SubjectKind::member);
            break;
        }
        case SubjectKind::driver:
            if (const YamlValue who = map.find("occupant"))
                out.passenger = who.oneOf<bool>({{"driver", false}, {"passenger", true}});
            break;
        case SubjectKind::pair:
            out.first = selector(map.need("first"), SubjectKind::member);
            out.second = selector(map.need("second"), SubjectKind::member);
            if (const YamlValue within = map.find("within"))
                out.within_mm = within.measure(Dimension::length, Range::not_negative);
            if (const YamlValue same = map.find("same_side")) out.same_side_pair = same.yesNo();
            break;
        case SubjectKind::member:
        case SubjectKind::cage:
            break;
    }
}

std::vector<Reading> TableReader::having(const YamlValue& value, SubjectKind kind) {
    std::vector<Reading> out;
    const std::vector<YamlValue> items = value.isMap() ? std::vector{value} : value.list();
    for (const YamlValue& item : items) {
        YamlMap map = item.map();
        out.push_back(reading(map, {kind}));
    }
    return out;
}

}  // namespace hoopwright
