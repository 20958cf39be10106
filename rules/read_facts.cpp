// The facts a table asks for, and conditions on them.
#include <algorithm>

#include "core/model/car.h"
#include "rules/table_reader.h"

namespace hoopwright {
namespace {

struct FactKind {
    const char* word;
    FactWanted::Kind kind;
    Dimension dimension;
};
constexpr FactKind kKinds[] = {
    {"mass", FactWanted::Kind::measure, Dimension::mass},
    {"speed", FactWanted::Kind::measure, Dimension::speed},
    {"length", FactWanted::Kind::measure, Dimension::length},
    {"area", FactWanted::Kind::measure, Dimension::area},
    {"time", FactWanted::Kind::measure, Dimension::time},
    {"volume", FactWanted::Kind::measure, Dimension::volume},
    {"count", FactWanted::Kind::measure, Dimension::none},
    {"number", FactWanted::Kind::measure, Dimension::none},
    {"word", FactWanted::Kind::word, Dimension::none},
    {"yes_no", FactWanted::Kind::yes_no, Dimension::none},
    {"date", FactWanted::Kind::date, Dimension::none},
};

std::vector<std::string> kindNames() {
    std::vector<std::string> out;
    for (const FactKind& kind : kKinds) out.emplace_back(kind.word);
    return out;
}

/// Facts every car has.
std::vector<FactWanted> factsOfEveryCar() {
    FactWanted body{"body", "The car's body", FactWanted::Kind::word, Dimension::none, {}, {}};
    for (auto b :
         {Car::Body::saloon, Car::Body::hatchback, Car::Body::open, Car::Body::pickup, Car::Body::van})
        body.words.emplace_back(bodyWord(b));
    FactWanted frame{"frame", "The car's frame", FactWanted::Kind::word, Dimension::none, {}, {}};
    for (auto f : {Car::Frame::unibody, Car::Frame::ladder, Car::Frame::perimeter})
        frame.words.emplace_back(frameWord(f));
    return {body, frame};
}

}  // namespace

void TableReader::readFacts(const YamlValue& section) {
    if (!section) return;
    YamlMap all = section.map();
    for (const auto& [name, value] : all.entries()) {
        YamlMap map = value.map();
        FactWanted fact;
        fact.name = name;
        const YamlValue kind = map.need("kind");
        if (const int at = indexOf(kind, kindNames(), "kind of fact"); at >= 0) {
            fact.kind = kKinds[at].kind;
            fact.dimension = kKinds[at].dimension;
        }
        fact.meaning = map.need("meaning").text();
        const YamlValue words = map.find("words");
        fact.words = wordsOf(words);
        if (words && fact.kind != FactWanted::Kind::word) words.problem("only a fact of kind word has words");
        if (const YamlValue basis = map.find("stated_as")) {
            YamlMap leans_on = basis.map();
            for (const auto& [other, word] : leans_on.entries())
                fact.stated_as.emplace_back(other, word.text());
        }
        table_.facts.push_back(std::move(fact));
    }
}

std::vector<std::string> TableReader::factNames() const {
    std::vector<std::string> names;
    for (const FactWanted& fact : table_.facts) names.push_back(fact.name);
    for (const FactWanted& fact : factsOfEveryCar()) names.push_back(fact.name);
    return names;
}

FactWanted TableReader::factWanted(const std::string& name) const {
    if (const FactWanted* own = table_.fact(name)) return *own;
    for (const FactWanted& fact : factsOfEveryCar())
        if (fact.name == name) return fact;
    return {};
}

std::vector<FactTest> TableReader::factTests(const YamlValue& when) {
    std::vector<FactTest> out;
    if (!when) return out;
    YamlMap map = when.map();
    for (const auto& [name, value] : map.entries()) out.push_back(factTest(name, value));
    return out;
}

FactTest TableReader::factTest(const std::string& name, const YamlValue& value) {
    const std::vector<std::string> names = factNames();
    if (std::find(names.begin(), names.end(), name) == names.end()) {
        value.problem("the table asks for no fact '" + name + "'",
                      "name it under facts; known here: " + listed(names));
        return {};
    }
    const FactWanted fact = factWanted(name);
    if (fact.kind == FactWanted::Kind::word) return wordTest(fact, value);
    if (fact.kind == FactWanted::Kind::yes_no) {
        FactTest test;
        test.fact = name;
        test.yes = value.yesNo();
        test.text = name + (*test.yes ? "" : " not");
        return test;
    }
    YamlMap map = value.map();
    FactTest test = bracketOf(fact, map);
    if (map && test.text.empty()) map.problem("names no end", "give from, over, up_to or below");
    return test;
}

FactTest TableReader::wordTest(const FactWanted& fact, const YamlValue& value) {
    FactTest test;
    test.fact = fact.name;
    const auto take = [&](const YamlValue& words) {
        test.words = wordsOf(words);
        for (const std::string& word : test.words) {
            if (fact.words.empty() ||
                std::find(fact.words.begin(), fact.words.end(), word) != fact.words.end())
                continue;
            words.problem("'" + word + "' is no word of '" + fact.name + "'",
                          "known here: " + listed(fact.words));
        }
    };
    if (value.isMap()) {
        YamlMap map = value.map();
        test.negated = true;
        take(map.need("not"));
    } else {
        take(value);
    }
    test.text = fact.name + (test.negated ? " not " : " ") + listed(test.words);
    return test;
}

/// `text` stays empty when no end is named.
FactTest TableReader::bracketOf(const FactWanted& fact, YamlMap& map) {
    FactTest test;
    test.fact = fact.name;
    test.dimension = fact.dimension;
    test.number = fact.kind == FactWanted::Kind::measure;
    test.date = fact.kind == FactWanted::Kind::date;
    const auto end = [&](const char* key, const char* said, bool low, bool open) {
        const YamlValue value = map.find(key);
        if (!value) return;
        const bool second =
            low ? test.low > -1e300 || !test.first_day.empty() : test.high < 1e300 || !test.last_day.empty();
        if (second)
            value.problem("that end of the bracket is given twice",
                          "keep one of from and over, of up_to and below");
        if (test.date) {
            (low ? test.first_day : test.last_day) = value.date();
        } else {
            (low ? test.low : test.high) = measure(value, fact.dimension);
        }
        (low ? test.low_open : test.high_open) = open;
        test.text += (test.text.empty() ? fact.name + " " : " and ") + said + " " + value.text();
    };
    end("from", "from", true, false);
    end("over", "over", true, true);
    end("up_to", "up to", false, false);
    end("below", "below", false, true);
    const bool upside_down =
        test.date ? !test.last_day.empty() && test.first_day > test.last_day : test.low > test.high;
    if (upside_down) map.problem("the bracket starts after it ends", "swap the two ends");
    return test;
}

}  // namespace hoopwright
