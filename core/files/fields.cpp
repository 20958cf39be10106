#include "core/files/fields.h"

#include "core/base/text.h"

namespace hoopwright {
namespace {

bool startsAsNumber(const std::string& text) {
    return !text.empty() && std::string_view("-.0123456789").find(text[0]) != std::string_view::npos;
}

Fact readFact(const YamlValue& value) {
    const std::string text = value.text();
    if (value.isQuoted()) return {text};
    if (text == "true" || text == "yes") return {true};
    if (text == "false" || text == "no") return {false};
    const Dimension dimension = dimensionOf(text);
    if (dimension != Dimension::none) return {value.measure(baseUnit(dimension)), dimension};
    if (!startsAsNumber(text) || isDate(text)) return {text};
    const bool spaced = text.find(' ') != std::string::npos;
    if (!spaced) return {value.number()};
    value.problem("'" + text + "' starts as a number but is no measure",
                  "correct its unit, or put a text in quotes");
    return {};
}

OutNode outFact(const Fact& fact, LengthUnit unit) {
    if (const bool* yes = std::get_if<bool>(&fact.value)) return outYesNo(*yes);
    if (const std::string* word = std::get_if<std::string>(&fact.value)) {
        return startsAsNumber(*word) && !isDate(*word) ? outQuoted(*word) : outText(*word);
    }
    const double number = std::get<double>(fact.value);
    return fact.dimension == Dimension::none ? outNumber(number)
                                             : outMeasureWithUnit(number, fact.dimension, unit);
}

}  // namespace

Facts readFacts(const YamlValue& value) {
    Facts facts;
    YamlMap map = value.map();
    for (const auto& [key, given] : map.entries()) {
        const bool is_name = !key.empty() && key.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") ==
                                                 std::string::npos;
        if (!is_name)
            given.problem("'" + key + "' is not a name for a fact", "use small letters, digits and _");
        facts.emplace(key, readFact(given));
    }
    return facts;
}

OutNode outFacts(const Facts& facts, LengthUnit unit) {
    OutNode map = OutNode::map(true);
    for (const auto& [key, fact] : facts) map.add(key, outFact(fact, unit));
    return map;
}

OutNode outPoint(const Vec3& at, LengthUnit unit) {
    OutNode list = OutNode::list(true);
    for (const double part : at) list.add(outMeasure(part, Dimension::length, unit));
    return list;
}

OutNode outPair(const Vec2& at, LengthUnit unit) {
    OutNode list = OutNode::list(true);
    for (const double part : at) list.add(outMeasure(part, Dimension::length, unit));
    return list;
}

void reportRepeated(const YamlValue& list, std::string_view key) {
    std::map<std::string, int> first_line;
    if (!list.isList()) return;
    for (const YamlValue& item : list.list()) {
        const YamlValue value = item.peek(key);
        if (!value.isScalar()) continue;
        const auto [found, is_new] = first_line.emplace(value.text(), value.at().line);
        if (is_new) continue;
        value.problem("'" + found->first + "' is used already, on line " + std::to_string(found->second),
                      "give each its own");
    }
}

}  // namespace hoopwright
