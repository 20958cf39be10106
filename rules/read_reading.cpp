// A quantity, how it is measured, and what it is held against.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "rules/argument_words.h"
#include "rules/table_reader.h"
#include "rules/table_run.h"

namespace hoopwright {
namespace {

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

std::string neededKeys(const Quantity& quantity) {
    std::vector<std::string> keys;
    for (const ArgumentWords& known : argumentWords())
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
    for (const ArgumentWords& known : argumentWords()) {
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

WallKind TableReader::wallKind(const YamlValue& value) {
    return value.oneOf<WallKind>({{"nominal", WallKind::nominal},
                                  {"mill_least", WallKind::mill_least},
                                  {"measured", WallKind::measured},
                                  {"bent", WallKind::bent}});
}

int TableReader::placeNamed(const YamlValue& value) {
    std::vector<std::string> names;
    for (const NamedPlace& place : table_.places) names.push_back(place.name);
    return indexOf(value, names, "place");
}

void TableReader::readArgument(Arguments& out, Arg arg, const YamlValue& value) {
    switch (arg) {
        case Arg::view:
            out.view = value.oneOf<SeenFrom>({{"true", SeenFrom::in_space},
                                              {"side", SeenFrom::side},
                                              {"front", SeenFrom::front},
                                              {"plan", SeenFrom::plan}});
            break;
        case Arg::upright_view:
            out.view = value.oneOf<SeenFrom>(
                {{"true", SeenFrom::in_space}, {"side", SeenFrom::side}, {"front", SeenFrom::front}});
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
        case Arg::judged_wall:
            out.judged_wall = wallKind(value);
            break;
        case Arg::welded:
            out.welded = value.yesNo();
            break;
        case Arg::within:
            out.within_mm = value.measure(Dimension::length, Range::not_negative);
            break;
    }
}

}  // namespace hoopwright
