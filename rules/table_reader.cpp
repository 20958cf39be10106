#include "rules/table_reader.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/base/text.h"

namespace hoopwright {

std::vector<std::string> wordsOf(const YamlValue& value) {
    if (!value) return {};
    if (!value.isList()) return {value.text()};
    std::vector<std::string> words = value.texts();
    if (words.empty()) value.problem("is an empty list", "name at least one");
    return words;
}

std::string inUnit(double base, const Unit& unit) {
    const double shown = std::round(base / unit.to_base * 1e6) / 1e6;
    return shortest(shown) + (unit.word.empty() ? "" : " " + unit.word);
}

/// What there is, where it is few enough to read through.
static std::string knownHere(const std::vector<std::string>& names, const std::string& what) {
    constexpr std::size_t kMostListed = 30;
    if (names.empty()) return "the table has none";
    if (names.size() <= kMostListed) return "known here: " + listed(names);
    return what == "quantity"
               ? "'hoopwright quantities' lists the " + std::to_string(names.size()) + " there are"
               : "the table names " + std::to_string(names.size()) + " others";
}

int indexOf(const YamlValue& value, const std::vector<std::string>& names, const std::string& what) {
    const std::string word = value.text();
    for (std::size_t i = 0; i < names.size(); ++i)
        if (names[i] == word) return static_cast<int>(i);
    const std::string near = didYouMean(word, names);
    if (value && !word.empty())
        value.problem("there is no " + what + " '" + word + "'",
                      near.empty() ? knownHere(names, what) : "did you mean '" + near + "'?");
    return -1;
}

RuleTable TableReader::read() {
    YamlMap top = file_.top("rules");
    if (!top) return table_;
    readHead(top);
    readFacts(top.find("facts"));
    readRoles(top.find("roles"));
    readMaterials(top.find("materials"));
    readReferenceTubes(top.find("reference_tubes"));
    readGroups(top.find("groups"));
    readPlaces(top.find("places"));
    table_.ignored = selector(top.find("ignored"), SubjectKind::member);
    first_unnamed_ = table_.selectors.size();
    readTubes(top.find("tubes"));
    readRules(top.need("rules"));
    table_.info.rules = static_cast<int>(table_.rules.size());
    return std::move(table_);
}

void TableReader::readHead(YamlMap& top) {
    RuleTableInfo& info = table_.info;
    info.id = top.need("id").identifier();
    info.title = top.need("title").text();
    info.edition = top.need("edition").text();
    info.written_by = top.need("written_by").text();
    info.published = top.need("published").yesNo();
    info.advice = top.need("advice").text();
}

void TableReader::readRoles(const YamlValue& section) {
    for (const Role& role : knownRoles()) roles_.push_back(role.word);
    if (!section) return;
    YamlMap map = section.map();
    for (const auto& [word, name] : map.entries()) {
        if (name.text().empty()) name.problem("has no name", "write what people call it");
        roles_.push_back(word);
    }
}

void TableReader::readMaterials(const YamlValue& section) {
    for (const YamlValue& item : section.list()) {
        YamlMap map = item.map();
        AssignedFigures figures;
        figures.families = wordsOf(map.need("family"));
        for (const std::string& word : wordsOf(map.find("form"))) {
            const YamlValue form = map.find("form");
            std::vector<std::string> forms;
            for (TubeForm known : {TubeForm::seamless, TubeForm::drawn_over_mandrel, TubeForm::welded}) {
                forms.emplace_back(formWord(known));
                if (forms.back() == word) figures.forms.push_back(known);
            }
            if (std::find(forms.begin(), forms.end(), word) == forms.end())
                form.problem("there is no form '" + word + "'", "known here: " + listed(forms));
        }
        const auto figure = [&](const char* key) -> std::optional<double> {
            const YamlValue value = map.find(key);
            return value ? std::optional(value.measure(Dimension::stress, Range::positive)) : std::nullopt;
        };
        figures.modulus_mpa = figure("modulus");
        figures.yield_mpa = figure("yield");
        figures.tensile_mpa = figure("tensile");
        figures.welded_yield_mpa = figure("welded_yield");
        figures.welded_tensile_mpa = figure("welded_tensile");
        table_.materials.push_back(std::move(figures));
    }
}

void TableReader::readReferenceTubes(const YamlValue& section) {
    if (!section) return;
    YamlMap all = section.map();
    for (const auto& [name, value] : all.entries()) {
        YamlMap map = value.map();
        ReferenceTube tube;
        tube.name = name;
        tube.section.od_mm = map.need("od").measure(Dimension::length, Range::positive);
        tube.section.wall_mm = map.need("wall").measure(Dimension::length, Range::positive);
        tube.modulus_mpa = map.need("modulus").measure(Dimension::stress, Range::positive);
        tube.yield_mpa = map.need("yield").measure(Dimension::stress, Range::positive);
        if (map && tube.section.od_mm > 0 && tube.section.wall_mm > 0 && !tube.section.valid())
            map.problem("the wall is half the diameter or more", "check both");
        table_.written[name] = value.written();
        table_.reference_tubes.push_back(std::move(tube));
    }
}

void TableReader::readGroups(const YamlValue& section) {
    if (!section) return;
    YamlMap map = section.map();
    for (const auto& [name, value] : map.entries()) {
        const int at = selector(value, SubjectKind::member);
        table_.written[name] = value.written();
        table_.groups.emplace_back(name, at);
    }
}

void TableReader::readPlaces(const YamlValue& section) {
    if (!section) return;
    YamlMap all = section.map();
    static const std::vector<std::pair<std::string, NamedPlace::Is>> kinds = {
        {"top_of", NamedPlace::Is::top},         {"bottom_of", NamedPlace::Is::bottom},
        {"front_of", NamedPlace::Is::front},     {"rear_of", NamedPlace::Is::rear},
        {"foot_of", NamedPlace::Is::feet},       {"ends_of", NamedPlace::Is::ends},
        {"corners_of", NamedPlace::Is::corners}, {"meeting", NamedPlace::Is::meeting},
        {"car", NamedPlace::Is::car_point},      {"driver", NamedPlace::Is::body_part},
    };
    std::vector<std::string> keys;
    for (const auto& [key, is] : kinds) keys.push_back(key);
    for (const auto& [name, value] : all.entries()) {
        YamlMap map = value.map();
        NamedPlace place;
        place.name = name;
        const std::string key = map.oneKeyOf(keys);
        for (const auto& [known, is] : kinds)
            if (known == key) place.is = is;
        const YamlValue what = map.find(key);
        if (place.is == NamedPlace::Is::car_point) {
            place.point = what.text();
        } else if (place.is == NamedPlace::Is::body_part) {
            for (BodyPart part : bodyParts(what)) place.part = part;
            if (!hasPoint(place.part))
                what.problem(
                    "the " + std::string(partWord(place.part)) + " has no measured point",
                    "name one that has: shoulder, elbow, hand, knee, heel, eye, hip, helmet or wheel");
        } else if (place.is == NamedPlace::Is::meeting) {
            for (const YamlValue& item : what.list())
                place.selectors.push_back(selector(item, SubjectKind::member));
            if (place.selectors.size() < 2) what.problem("needs two or more kinds of bars that meet");
        } else if (!key.empty()) {
            place.selectors.push_back(selector(what, SubjectKind::member));
        }
        table_.written[name] = value.written();
        table_.places.push_back(std::move(place));
    }
}

void TableReader::readRules(const YamlValue& section) {
    const std::vector<YamlValue> items = section.list();
    if (section && section.isList() && items.empty())
        section.problem("there are no rules in it", "add at least one");
    if (items.size() > static_cast<std::size_t>(kMostRules)) {
        items[static_cast<std::size_t>(kMostRules)].problem("the table has " + std::to_string(items.size()) +
                                                                " rules, and " + std::to_string(kMostRules) +
                                                                " are read at most",
                                                            "split it into several tables");
        return;
    }
    std::set<std::string> ids;
    static const std::set<std::string> kAside = {"id",      "clause", "title", "sentence",
                                                 "way_out", "source", "known", "severity"};
    for (const YamlValue& item : items) {
        Rule one = rule(item);
        one.written = item.written(kAside);
        if (!one.id.empty() && !ids.insert(one.id).second)
            item.problem("the id '" + one.id + "' is another rule's too", "give each rule an id of its own");
        table_.rules.push_back(std::move(one));
    }
}

const FactWanted* RuleTable::fact(std::string_view name) const {
    for (const FactWanted& wanted : facts)
        if (wanted.name == name) return &wanted;
    return nullptr;
}

}  // namespace hoopwright
