// One rule, and the checks it is made of.
#include <algorithm>

#include "core/base/text.h"
#include "rules/table_reader.h"

namespace hoopwright {

Rule TableReader::rule(const YamlValue& value) {
    Rule out;
    YamlMap map = value.map();
    if (!map) return out;
    out.id = map.need("id").identifier();
    if (const YamlValue clause = map.find("clause")) out.clause = clause.text();
    out.title = map.need("title").text();
    out.sentence = map.need("sentence").text();
    if (const YamlValue source = map.find("source")) out.source = source.text();
    if (const YamlValue way = map.find("way_out")) out.way_out = way.text();
    if (const YamlValue severity = map.find("severity"))
        out.severity = severity.oneOf<Severity>(
            {{"required", Severity::required}, {"recommended", Severity::recommended}});
    if (const YamlValue known = map.find("known"))
        out.known = known.oneOf<Known>(
            {{"read", Known::read}, {"second_hand", Known::second_hand}, {"memory", Known::memory}});
    out.when = factTests(map.find("when"));
    for (const YamlValue& item : map.find("only_if").list()) {
        YamlMap condition = item.map();
        out.only_if.push_back(check(condition));
    }
    for (const YamlValue& item : map.find("unless").list()) {
        YamlMap condition = item.map();
        out.unless.push_back(check(condition));
    }
    readWhat(out, map);
    return out;
}

/// A measurement, alternatives, a question or a permission.
void TableReader::readWhat(Rule& out, YamlMap& map) {
    const std::string what = map.oneKeyOf({"measure", "either", "ask", "permits"});
    if (what == "measure") {
        out.check = check(map);
    } else if (what == "either") {
        for (const YamlValue& item : map.find("either").list()) {
            YamlMap one = item.map();
            Rule::Alternative alternative;
            alternative.name = one.need("name").text();
            for (const YamlValue& part : one.need("all").list()) {
                YamlMap condition = part.map();
                alternative.all.push_back(check(condition));
            }
            if (one && alternative.all.empty()) one.problem("has no checks", "list them under `all`");
            out.either.push_back(std::move(alternative));
        }
        if (out.either.size() < 2) map.find("either").problem("needs two alternatives or more");
    } else if (what == "ask") {
        readQuestion(out, map);
    } else if (what == "permits") {
        out.permits = map.find("permits").text();
    }
}

void TableReader::readQuestion(Rule& out, YamlMap& map) {
    out.ask = map.find("ask").text();
    if (const YamlValue each = map.find("each"))
        out.ask_each = each.oneOf<SubjectKind>({{"member", SubjectKind::member},
                                                {"joint", SubjectKind::joint},
                                                {"plate", SubjectKind::plate},
                                                {"driver", SubjectKind::driver},
                                                {"gusset", SubjectKind::gusset}});
    const YamlValue of = map.find("of");
    if (of) out.ask_of = selector(of, out.ask_each);
    const YamlValue evidence = map.find("evidence");
    static const std::vector<std::string> kinds = {"photo", "paper", "reading", "sample"};
    for (const std::string& word : wordsOf(evidence)) {
        if (std::find(kinds.begin(), kinds.end(), word) == kinds.end())
            evidence.problem("there is no evidence '" + word + "'", "known here: " + listed(kinds));
        out.evidence.push_back(word);
    }
    if (const YamlValue load = map.find("load")) out.load = loadCase(load);
}

/// `{newton: 15000}` or `{times: 7.5, of: race_mass, plus: 150 kg}`; `on` says where and how.
LoadCase TableReader::loadCase(const YamlValue& value) {
    LoadCase out;
    YamlMap map = value.map();
    if (map.oneKeyOf({"newton", "of"}) == "newton") {
        out.force_n = map.find("newton").number(Range::positive);
    } else if (const YamlValue of = map.find("of")) {
        if (indexOf(of, factNames(), "fact") >= 0) out.of = of.text();
        if (!out.of.empty() && factWanted(out.of).dimension != Dimension::mass)
            of.problem("the fact '" + out.of + "' is no mass", "name one of kind mass");
        out.times = map.need("times").number(Range::positive);
        if (const YamlValue plus = map.find("plus"))
            out.plus_kg = plus.measure(Dimension::mass, Range::not_negative);
    }
    if (const YamlValue on = map.find("on")) out.on = on.text();
    return out;
}

Check TableReader::check(YamlMap& map) {
    Check out;
    out.reading = reading(map, {});
    const YamlValue of = map.find("of"), side = map.find("per_side"), none = map.find("if_none");
    out.how_many = howMany(map.find("how_many"));
    out.per_side = side && side.yesNo();
    out.none_fails = !out.how_many.all && out.how_many.least > 0;
    if (none) out.none_fails = none.oneOf<bool>({{"fails", true}, {"does_not_apply", false}});
    if (out.reading.quantity < 0) return out;
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(out.reading.quantity)];
    out.of = selector(of, quantity.counts.value_or(quantity.kind));
    const SubjectKind kind = quantity.counts.value_or(quantity.kind);
    if (out.per_side && (kind == SubjectKind::driver || kind == SubjectKind::cage))
        side.problem("a " + std::string(kindWord(kind)) + " is on neither side", "leave `per_side` out");
    if (quantity.counts && !out.how_many.all) map.problem("a count is one number", "leave `how_many` out");
    return out;
}

HowMany TableReader::howMany(const YamlValue& value) {
    HowMany out;
    if (!value) return out;
    const std::string text = value.text();
    out.text = text;
    if (text == "all") return out;
    out.all = false;
    if (text == "any") {
        out.least = 1;
        return out;
    }
    if (text == "none") {
        out.greatest = 0;
        return out;
    }
    const std::size_t space = text.find(' ');
    const std::string word = text.substr(0, space);
    const auto number = space == std::string::npos ? std::nullopt : plainNumber(text.substr(space + 1));
    const bool whole = number && *number >= 0 && *number <= 1000 && *number == static_cast<int>(*number);
    if (!whole || (word != "at_least" && word != "at_most" && word != "exactly")) {
        value.problem("'" + text + "' is no number of things",
                      "write all, any, none, at_least 2, at_most 2 or exactly 2");
        return out;
    }
    if (word != "at_most") out.least = static_cast<int>(*number);
    if (word != "at_least") out.greatest = static_cast<int>(*number);
    out.text = (word == "at_least"  ? "at least "
                : word == "at_most" ? "at most "
                                    : "exactly ") +
               text.substr(space + 1);
    return out;
}

}  // namespace hoopwright
