// A quantity, how it is measured, and what it is held against.
#include <algorithm>

#include "rules/table_reader.h"
#include "rules/table_run.h"

namespace hoopwright {
namespace {

struct ArgKey {
    Arg arg;
    const char* key;
};
constexpr ArgKey kArgKeys[] = {
    {Arg::view, "view"},
    {Arg::upright_view, "view"},
    {Arg::members, "members"},
    {Arg::place, "place"},
    {Arg::above, "above"},
    {Arg::below, "below"},
    {Arg::from_place, "from"},
    {Arg::to_place, "to"},
    {Arg::from_members, "from"},
    {Arg::to_members, "to"},
    {Arg::end, "end"},
    {Arg::along, "along"},
    {Arg::tube_part, "part"},
    {Arg::body_part, "part"},
    {Arg::spans, "spans"},
    {Arg::towards, "towards"},
    {Arg::padded, "padded"},
    {Arg::reference_tube, "tube"},
    {Arg::line, "line"},
    {Arg::height, "height"},
    {Arg::away_from_nodes, "away_from_nodes"},
    {Arg::within, "within"},
    {Arg::direction, "direction"},
    {Arg::surface, "surface"},
};

/// One kind of surface, or a list of them.
SurfaceKinds readSurfaces(const YamlValue& value) {
    const auto kindOf = [](const YamlValue& word) {
        return bitOf(word.oneOf<SurfaceKind>({{"shell", SurfaceKind::shell},
                                              {"glass", SurfaceKind::glass},
                                              {"floor", SurfaceKind::floor},
                                              {"scan", SurfaceKind::scan}}));
    };
    if (!value.isList()) return kindOf(value);
    SurfaceKinds out = 0;
    for (const YamlValue& word : value.list()) out |= kindOf(word);
    if (out == 0) value.problem("names no surface", "write shell, glass, floor or scan, or a list of them");
    return out;
}

const std::vector<std::string>& comparisonKeys() {
    static const std::vector<std::string> keys = {"at_least", "more_than", "at_most", "less_than", "exactly",
                                                  "between",  "one_of",    "is",      "is_not",    "fits"};
    return keys;
}

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

std::string neededKeys(const Quantity& quantity) {
    std::vector<std::string> keys;
    for (const ArgKey& known : kArgKeys)
        if (has(quantity.needs, known.arg)) keys.emplace_back(known.key);
    return listed(keys);
}

std::string kindList(const std::vector<SubjectKind>& kinds) {
    std::string out;
    for (SubjectKind kind : kinds) out += (out.empty() ? "" : ", ") + std::string(kindWord(kind));
    return out;
}

}  // namespace

Reading TableReader::reading(YamlMap& map, const std::vector<SubjectKind>& kinds) {
    Reading out;
    const YamlValue measured = map.need("measure");
    const YamlValue with = map.find("with");
    std::vector<std::string> names;
    for (const Quantity& quantity : allQuantities()) names.push_back(quantity.info.name);
    out.quantity = indexOf(measured, names, "quantity");
    if (out.quantity < 0) {
        // What else the check says cannot be judged without knowing the quantity.
        for (const std::string& key : comparisonKeys()) map.find(key);
        for (const char* key : {"open", "tolerance"}) map.find(key);
        return out;
    }
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(out.quantity)];
    if (!kinds.empty() && std::find(kinds.begin(), kinds.end(), quantity.kind) == kinds.end())
        measured.problem(
            "'" + quantity.info.name + "' is measured on a " + std::string(kindWord(quantity.kind)),
            "here a quantity of a " + kindList(kinds) + " is wanted");
    if (!with && quantity.needs != 0)
        measured.problem("'" + quantity.info.name + "' needs `with`", "give " + neededKeys(quantity));
    out.with = arguments(with, quantity);
    out.against = comparison(map, quantity);
    return out;
}

Arguments TableReader::arguments(const YamlValue& value, const Quantity& quantity) {
    Arguments out;
    if (!value) return out;
    YamlMap map = value.map();
    std::vector<std::string> missing;
    for (const ArgKey& known : kArgKeys) {
        if (!has(quantity.needs | quantity.may, known.arg)) continue;
        const YamlValue given = map.find(known.key);
        if (given)
            readArgument(out, known.arg, given);
        else if (has(quantity.needs, known.arg))
            missing.emplace_back(known.key);
    }
    if (!missing.empty()) map.problem("'" + quantity.info.name + "' needs " + listed(missing), "add it");
    return out;
}

std::vector<BodyPart> TableReader::bodyParts(const YamlValue& value) {
    const std::vector<BodyPart>& parts = allBodyParts();
    std::vector<std::string> names;
    for (BodyPart part : parts) names.emplace_back(partWord(part));
    std::vector<BodyPart> out;
    for (const YamlValue& item : value.isList() ? value.list() : std::vector{value})
        if (const int at = indexOf(item, names, "body part"); at >= 0)
            out.push_back(parts[static_cast<std::size_t>(at)]);
    return out;
}

int TableReader::placeNamed(const YamlValue& value) {
    std::vector<std::string> names;
    for (const NamedPlace& place : table_.places) names.push_back(place.name);
    return indexOf(value, names, "place");
}

void TableReader::readArgument(Arguments& out, Arg arg, const YamlValue& value) {
    switch (arg) {
        case Arg::view:
            out.view = value.oneOf<View>({{"true", View::in_space},
                                          {"side", View::side},
                                          {"front", View::front},
                                          {"plan", View::plan}});
            break;
        case Arg::upright_view:
            out.view =
                value.oneOf<View>({{"true", View::in_space}, {"side", View::side}, {"front", View::front}});
            break;
        case Arg::members:
            out.members = selector(value, SubjectKind::member, true);
            break;
        case Arg::from_members:
            out.from = selector(value, SubjectKind::member, true);
            break;
        case Arg::to_members:
            out.to = selector(value, SubjectKind::member, true);
            break;
        case Arg::place:
            out.place = placeNamed(value);
            break;
        case Arg::above:
            out.above = placeNamed(value);
            break;
        case Arg::below:
            out.below = placeNamed(value);
            break;
        case Arg::from_place:
            out.from = placeNamed(value);
            break;
        case Arg::to_place:
            out.to = placeNamed(value);
            break;
        case Arg::end:
            out.end = value.oneOf<EndChoice>({{"nearest", EndChoice::nearest},
                                              {"farthest", EndChoice::farthest},
                                              {"upper", EndChoice::upper},
                                              {"lower", EndChoice::lower},
                                              {"front", EndChoice::front},
                                              {"rear", EndChoice::rear}});
            break;
        case Arg::along:
            out.along_host = value.oneOf<bool>({{"straight", false}, {"host", true}});
            break;
        case Arg::tube_part:
            out.tube_part = value.oneOf<TubePart>({{"chord", TubePart::chord},
                                                   {"straights", TubePart::straights},
                                                   {"upper", TubePart::upper},
                                                   {"lower", TubePart::lower}});
            break;
        case Arg::body_part:
            out.parts = bodyParts(value);
            break;
        case Arg::spans:
            out.spans = value.oneOf<Spans>(
                {{"all", Spans::all}, {"straight", Spans::straight}, {"bent", Spans::bent}});
            break;
        case Arg::towards:
            out.towards = value.oneOf<Towards>({{"all", Towards::all},
                                                {"sides", Towards::sides},
                                                {"up", Towards::up},
                                                {"sides_and_up", Towards::sides_and_up}});
            break;
        case Arg::direction:
            out.direction = value.oneOf<Direction>({{"up", Direction::up},
                                                    {"back", Direction::back},
                                                    {"ahead", Direction::ahead},
                                                    {"left", Direction::left},
                                                    {"right", Direction::right}});
            break;
        case Arg::padded:
            out.padded = value.yesNo();
            break;
        case Arg::reference_tube: {
            std::vector<std::string> names;
            for (const ReferenceTube& tube : table_.reference_tubes) names.push_back(tube.name);
            out.reference_tube = indexOf(value, names, "reference tube");
            break;
        }
        case Arg::line:
            out.line = value.text();
            break;
        case Arg::height:
            out.height_mm = value.measure(Dimension::length);
            break;
        case Arg::away_from_nodes:
            out.away_from_nodes_mm = value.measure(Dimension::length, Range::not_negative);
            break;
        case Arg::surface:
            out.surfaces = readSurfaces(value);
            break;
        case Arg::within:
            out.within_mm = value.measure(Dimension::length, Range::not_negative);
            break;
    }
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

void TableReader::compareNumber(Comparison& out, const std::string& key, const YamlValue& value, YamlMap& map,
                                Dimension dimension) {
    const YamlValue open = map.find("open");
    out.unit = unitOf(value, dimension);
    if (key == "one_of" || key == "between") {
        const std::vector<YamlValue> items = value.list();
        for (const YamlValue& item : items) out.numbers.push_back(measure(item, dimension));
        if (!items.empty()) out.unit = unitOf(items.back(), dimension);
        if (items.empty() && value.isList()) value.problem("is an empty list", "give at least one number");
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
