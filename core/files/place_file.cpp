#include "core/files/place_file.h"

#include "core/base/text.h"
#include "core/files/fields.h"

namespace hoopwright {
namespace {

struct LandingWord {
    std::string_view key;
    Landing::By by;
    bool from_last_end;
};
constexpr LandingWord kLandings[] = {
    {"distance", Landing::By::distance, false}, {"from_end", Landing::By::distance, true},
    {"fraction", Landing::By::fraction, false}, {"height", Landing::By::height, false},
    {"x", Landing::By::station_x, false},       {"y", Landing::By::across_y, false},
    {"end", Landing::By::end, false},
};

Landing readLanding(YamlMap& map) {
    Landing landing;
    landing.host = map.need("on").text();
    std::vector<std::string> ways;
    for (const LandingWord& word : kLandings) ways.emplace_back(word.key);
    const std::string way = map.oneKeyOf(ways);
    for (const LandingWord& word : kLandings) {
        if (way != word.key) continue;
        landing.by = word.by;
        landing.from_last_end = word.from_last_end;
        const YamlValue value = map.find(way);
        if (word.by == Landing::By::end) {
            landing.from_last_end = value.oneOf<bool>({{"first", false}, {"last", true}});
        } else if (word.by == Landing::By::fraction) {
            landing.value = value.number(Range::not_negative);
            if (landing.value > 1)
                value.problem("'" + value.text() + "' is more than the whole", "write 0 to 1");
        } else {
            landing.value = value.measure(Dimension::length);
        }
    }
    if (const YamlValue side = map.find("side")) {
        landing.side = side.oneOf<Side>({{"left", Side::left}, {"right", Side::right}});
    }
    landing.offset = map.find("offset").point();
    landing.also = map.find("also").texts();
    return landing;
}

Place3 readPlaceOf(YamlMap& map, const std::string& way) {
    if (way == "car") {
        AtCarPoint place;
        place.point = map.need("car").text();
        place.offset = map.find("offset").point();
        return place;
    }
    if (way == "plate") {
        OnPlate place;
        place.plate = map.need("plate").text();
        place.offset = map.find("offset").pair();
        return place;
    }
    if (way == "on") return readLanding(map);
    return FixedPoint{map.find("at").point()};
}

void write(OutNode& map, const FixedPoint& place, LengthUnit unit) {
    map.add("at", outPoint(place.at, unit));
}

void write(OutNode& map, const AtCarPoint& place, LengthUnit unit) {
    FieldWriter out(map, unit);
    out.text("car", place.point);
    out.pointIf("offset", place.offset);
}

void write(OutNode& map, const OnPlate& place, LengthUnit unit) {
    FieldWriter out(map, unit);
    out.text("plate", place.plate);
    out.pairIf("offset", place.offset);
}

void write(OutNode& map, const Landing& place, LengthUnit unit) {
    FieldWriter out(map, unit);
    out.text("on", place.host);
    for (const LandingWord& word : kLandings) {
        const bool by_distance = word.by == Landing::By::distance;
        if (word.by != place.by || (by_distance && word.from_last_end != place.from_last_end)) continue;
        if (word.by == Landing::By::end) {
            out.text(word.key, place.from_last_end ? "last" : "first");
        } else {
            const bool fraction = word.by == Landing::By::fraction;
            out.measure(word.key, place.value, fraction ? Dimension::none : Dimension::length, Range::any);
        }
    }
    if (place.side != Side::centre) out.text("side", std::string(sideWord(place.side)));
    out.pointIf("offset", place.offset);
    out.textsIf("also", place.also);
}

OutNode outPlaceMap(const Place3& place, LengthUnit unit) {
    OutNode map = OutNode::map(true);
    std::visit([&](const auto& each) { write(map, each, unit); }, place);
    return map;
}

}  // namespace

MemberPoint readMemberPoint(const YamlValue& value) {
    if (!value.isMap()) return {FixedPoint{value.point()}, std::nullopt};
    YamlMap map = value.map();
    MemberPoint point;
    point.place = readPlaceOf(map, map.oneKeyOf({"at", "car", "plate", "on"}));
    if (const YamlValue radius = map.find("bend_radius")) {
        point.bend_radius_mm = radius.measure(Dimension::length, Range::positive);
    }
    return point;
}

OutNode outMemberPoint(const MemberPoint& point, LengthUnit unit) {
    const FixedPoint* fixed_point = std::get_if<FixedPoint>(&point.place);
    if (fixed_point && !point.bend_radius_mm) return outPoint(fixed_point->at, unit);
    OutNode map = outPlaceMap(point.place, unit);
    FieldWriter(map, unit).measureIf("bend_radius", point.bend_radius_mm, Dimension::length, Range::positive);
    return map;
}

Place3 readPlatePlace(const YamlValue& value) {
    if (!value.isMap()) return FixedPoint{value.point()};
    YamlMap map = value.map();
    return readPlaceOf(map, map.oneKeyOf({"at", "car"}));
}

Place3 readAnyPlace(const YamlValue& value) {
    if (!value.isMap()) return FixedPoint{value.point()};
    YamlMap map = value.map();
    return readPlaceOf(map, map.oneKeyOf({"at", "car", "plate", "on"}));
}

OutNode outPlace(const Place3& place, LengthUnit unit) {
    if (const FixedPoint* fixed_point = std::get_if<FixedPoint>(&place))
        return outPoint(fixed_point->at, unit);
    return outPlaceMap(place, unit);
}

std::pair<std::string, std::string> readTwoNames(const YamlValue& value) {
    const std::vector<std::string> names = value.texts();
    if (names.size() == 2) return {names[0], names[1]};
    if (value.isList())
        value.problem("names " + std::to_string(names.size()) + " members", "name the two, as [a, b]");
    return {};
}

OutNode outTwoNames(const std::pair<std::string, std::string>& names, LengthUnit) {
    OutNode list = OutNode::list(true);
    list.add(outText(names.first));
    list.add(outText(names.second));
    return list;
}

}  // namespace hoopwright
