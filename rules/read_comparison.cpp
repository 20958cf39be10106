// What a measurement is held against.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "rules/table_reader.h"

namespace hoopwright {
namespace {

std::vector<std::string> keysFor(ValueKind value) {
    switch (value) {
        case ValueKind::number:
            return {"at_least", "more_than", "at_most", "less_than", "exactly", "between", "one_of"};
        case ValueKind::word:
            return {"is", "is_not", "one_of"};
        case ValueKind::yes_no:
            return {"is"};
        case ValueKind::tube:
            return {"fits"};
    }
    return {};
}

std::string valueWords(const Quantity& quantity) {
    switch (quantity.value) {
        case ValueKind::number:
            return std::string(dimensionPhrase(quantity.info.dimension));
        case ValueKind::word:
            return "a word";
        case ValueKind::yes_no:
            return "yes or no";
        case ValueKind::tube:
            return "a tube";
    }
    return "";
}

}  // namespace

const std::vector<std::string>& comparisonKeys() {
    static const std::vector<std::string> keys = {"at_least", "more_than", "at_most", "less_than", "exactly",
                                                  "between",  "one_of",    "is",      "is_not",    "fits"};
    return keys;
}

double TableReader::measure(const YamlValue& value, Dimension dimension) {
    return dimension == Dimension::none ? value.number() : value.measure(dimension);
}

/// The unit a person wrote: the last word of the measure; else the table's own.
Unit TableReader::unitOf(const YamlValue& value, Dimension dimension) const {
    const Unit bare = bareUnit(dimension, file_.unit());
    if (!value.isScalar()) return bare;
    const std::string text = value.text();
    const std::size_t at = text.find_last_of("0123456789.");
    if (at == std::string::npos) return bare;
    const std::size_t word = text.find_first_not_of(' ', at + 1);
    // "mm2" ends in a digit: the word starts at the first letter after the number.
    const std::size_t letter = text.find_first_of("abcdefghijklmnopqrstuvwxyzMN\"'");
    const std::size_t start = letter != std::string::npos ? letter : word;
    if (start == std::string::npos) return bare;
    const Expected<Unit> unit = unitNamed(text.substr(start));
    return unit && unit->dimension == dimension ? *unit : bare;
}

Comparison TableReader::comparison(YamlMap& map, const Quantity& quantity) {
    Comparison out;
    const std::string key = map.oneKeyOf(comparisonKeys());
    const YamlValue open = map.find("open"), tolerance = map.find("tolerance");
    if (key.empty()) return out;
    const YamlValue value = map.find(key);
    const std::vector<std::string> allowed = keysFor(quantity.value);
    if (std::find(allowed.begin(), allowed.end(), key) == allowed.end()) {
        value.problem("'" + quantity.info.name + "' is " + valueWords(quantity) + " and is not compared so",
                      "use " + listed(allowed));
        return out;
    }
    if (quantity.counts && value.isMap()) {
        value.problem("a count is held against a plain number", "write it out");
        return out;
    }
    if (quantity.value == ValueKind::number) {
        compareNumber(out, key, value, map, quantity.info.dimension);
        return out;
    }
    if (open || tolerance) (open ? open : tolerance).problem("only a number has this");
    if (quantity.value == ValueKind::word) {
        compareWord(out, key, value);
    } else if (quantity.value == ValueKind::yes_no) {
        out.by = Comparison::By::yes_no;
        out.yes = value.yesNo();
        out.text = quantity.info.name + (out.yes ? ": yes" : ": no");
        std::replace(out.text.begin(), out.text.end(), '_', ' ');
    } else {
        out.by = Comparison::By::tube_table;
        std::vector<std::string> names;
        for (const TubeTable& tubes : table_.tubes) names.push_back(tubes.name);
        out.tube_table = indexOf(value, names, "tube table");
        out.text = "a tube of '" + value.text() + "'";
    }
    return out;
}

void TableReader::compareWord(Comparison& out, const std::string& key, const YamlValue& value) {
    out.by = key == "is_not" ? Comparison::By::not_words : Comparison::By::words;
    out.words = wordsOf(value);
    for (const std::string& word : out.words) out.text += (out.text.empty() ? "" : " or ") + word;
    if (key == "is_not") out.text = "not " + out.text;
}

LimitPart TableReader::limitPart(const YamlValue& value, Dimension dimension) {
    LimitPart out;
    if (!value.isMap()) {
        out.plus = measure(value, dimension);
        return out;
    }
    YamlMap map = value.map();
    const YamlValue fact = map.need("fact");
    if (indexOf(fact, factNames(), "fact") >= 0) {
        out.fact = fact.text();
        const FactWanted wanted = factWanted(out.fact);
        if (wanted.kind != FactWanted::Kind::measure || wanted.dimension != dimension)
            fact.problem("the fact '" + out.fact + "' is not " + std::string(dimensionPhrase(dimension)),
                         "name one that is");
    }
    if (const YamlValue times = map.find("times")) out.times = times.number();
    if (const YamlValue plus = map.find("plus")) out.plus = measure(plus, dimension);
    return out;
}

/// `{fact: shop_gap}`, `{fact: door_height, times: 0.5}`, `{smaller_of: [10 mm, {fact: makers_bolt}]}`.
void TableReader::limitParts(Comparison& out, const std::string& key, const YamlValue& value,
                             Dimension dimension) {
    const auto said = [&](const LimitPart& part) {
        std::string text = part.fact;
        if (part.fact.empty()) return inUnit(part.plus, out.unit);
        std::replace(text.begin(), text.end(), '_', ' ');
        if (part.times != 1) text = shortest(part.times) + " times the " + text;
        if (part.plus != 0)
            text += (part.plus > 0 ? " and " : " less ") + inUnit(std::abs(part.plus), out.unit);
        return text;
    };
    out.by = Comparison::By::parts;
    out.unit = bareUnit(dimension, file_.unit());
    if (value.peek("fact")) {
        out.parts = {limitPart(value, dimension)};
        out.text = said(out.parts.front());
    } else {
        YamlMap map = value.map();
        const std::string which = map.oneKeyOf({"smaller_of", "larger_of", "fact"});
        out.larger = which == "larger_of";
        for (const YamlValue& item : map.find(which).list()) {
            out.parts.push_back(limitPart(item, dimension));
            out.text += (out.text.empty() ? "" : " and ") + said(out.parts.back());
        }
        if (!which.empty() && out.parts.size() < 2) value.problem("needs two limits or more");
        out.text = std::string(out.larger ? "the larger" : "the smaller") + " of " + out.text;
    }
    std::string words = key;
    std::replace(words.begin(), words.end(), '_', ' ');
    out.text = words + " " + out.text;
    if (key == "at_least" || key == "more_than" || key == "exactly") out.low = 0;
    if (key == "at_most" || key == "less_than" || key == "exactly") out.high = 0;
    out.low_open = key == "more_than";
    out.high_open = key == "less_than";
}

void TableReader::compareNumber(Comparison& out, const std::string& key, const YamlValue& value, YamlMap& map,
                                Dimension dimension) {
    const YamlValue open = map.find("open");
    out.unit = unitOf(value, dimension);
    if (key == "one_of" || key == "between") {
        const std::vector<YamlValue> items = value.list();
        for (const YamlValue& item : items) out.numbers.push_back(measure(item, dimension));
        if (!items.empty()) out.unit = unitOf(items.back(), dimension);
        if (items.empty() && value.isList()) value.problem("is an empty list", "give at least one number");
    } else if (value.isMap()) {
        limitParts(out, key, value, dimension);
    } else {
        const double number = measure(value, dimension);
        if (key == "at_least" || key == "more_than" || key == "exactly") out.low = number;
        if (key == "at_most" || key == "less_than" || key == "exactly") out.high = number;
        out.low_open = key == "more_than";
        out.high_open = key == "less_than";
        std::string said = key;
        std::replace(said.begin(), said.end(), '_', ' ');
        out.text = said + " " + inUnit(number, out.unit);
    }
    if (key == "one_of") {
        out.by = Comparison::By::numbers;
        for (double number : out.numbers)
            out.text += (out.text.empty() ? "" : " or ") + inUnit(number, out.unit);
    }
    if (key == "between") {
        if (out.numbers.size() != 2) {
            if (value.isList()) value.problem("needs two numbers, least and greatest");
            return;
        }
        out.low = out.numbers[0];
        out.high = out.numbers[1];
        if (out.low > out.high) value.problem("the range is upside down", "write the smaller first");
        const std::string ends = open ? open.text() : "";
        out.low_open = ends == "low" || ends == "both";
        out.high_open = ends == "high" || ends == "both";
        if (open) open.wordIndex({"low", "high", "both"});
        if (out.low == out.high && (out.low_open || out.high_open))
            value.problem("nothing lies between them", "check both ends");
        Unit none = out.unit;
        none.word.clear();
        out.text = (out.low_open ? "more than " : "") + inUnit(out.low, none) +
                   (out.high_open ? " to less than " : " to ") + inUnit(out.high, out.unit);
    } else if (open) {
        open.problem("only `between` has open ends", "use more_than or less_than");
    }
    if (const YamlValue tolerance = map.find("tolerance")) {
        out.tolerance = dimension == Dimension::none ? tolerance.number(Range::not_negative)
                                                     : tolerance.measure(dimension, Range::not_negative);
        out.text += ", give or take " + inUnit(out.tolerance, out.unit);
    }
}

}  // namespace hoopwright
