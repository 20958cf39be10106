// Where a bar is: its ends, its height, how far it reaches.
#include <cmath>
#include <stdexcept>

#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {
namespace {

/// The other end of a bar that meets an upright at z, so that the one on the upright is the end asked for.
MemberPoint otherEnd(const std::string& end, double z) {
    if (end == "upper") return point(0, -400, z - 500);
    if (end == "lower") return point(0, -400, z + 500);
    if (end == "front") return point(-700, 400, z);
    if (end == "rear") return point(700, 400, z);
    throw std::runtime_error("no such end");
}

/// ROLE HOST GUEST END: an end on an upright, so far from where the other two meet.
void setFromNode(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(1));
    addBar(bench, words.at(2), {atHeight(host, 600), point(600, 900, 600)});
    const double z = 600 + (words.at(3) == "lower" ? 1 : -1) * length(value);
    addBar(bench, words.at(0), {atHeight(host, z), otherEnd(words.at(3), z)});
}

/// ROLE HOST END: an end on an upright, so far over its foot.
void setFromFoot(Bench& bench, const Words& words, const std::string& value) {
    Plate p;
    p.id = p.name = "foot";
    p.at = FixedPoint{{0, 400, 0}};
    p.length_mm = p.width_mm = 100;
    p.thickness_mm = 3;
    bench.job.cage.plates = {p};
    const std::string host = addBar(bench, words.at(1), {{OnPlate{"foot"}, {}}, point(0, 400, 1200)}).id;
    const double z = length(value);
    addBar(bench, words.at(0), {atHeight(host, z), otherEnd(words.at(2), z)});
}

/// ROLE HOST END: an end on an upright, so far below the outside of its top at z = 1200.
void setBelowTop(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(1));
    const double z = 1200 + 22.5 - length(value);
    addBar(bench, words.at(0), {atHeight(host, z), otherEnd(words.at(2), z)});
}

/// ROLE HOST END: the same of a pair, which stands beside the upright.
void setPairBelowTop(Bench& bench, const Words& words, const std::string& value) {
    addPost(bench, words.at(1));
    const double z = 1200 + 22.5 - length(value);
    addBar(bench, words.at(0), {point(0, 400, z), otherEnd(words.at(2), z)}, true);
}

/// ROLE HOST GUEST END: as from_node, each of a pair.
void setPairFromNode(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addBar(bench, words.at(1), {point(0, 400, 0), point(0, 400, 1200)}, true).id;
    addBar(bench, words.at(2), {atHeight(host, 600), point(600, 900, 600)}, true);
    const double z = 600 + length(value);
    addBar(bench, words.at(0), {atHeight(host, z), otherEnd(words.at(3), z)}, true);
}

/// ROLE HOST: an end of a bar whose other end is on a host's top, so far from where two others meet.
void setFarEnd(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(1));
    addBar(bench, "gusset_tube", {atHeight(host, 600), point(600, 900, 600)});
    const double z = 600 - length(value);
    addBar(bench, words.at(0), {atHeight(host, z), point(-500, 400, 1000)});
}

/// ROLE HOST GUEST: the ends of a hoop's legs, so far under where bars land on them.
void setLegsPast(Bench& bench, const Words& words, const std::string& value) {
    const double foot = 300 - length(value);
    const std::string host =
        addBar(bench, words.at(0),
               {point(0, 400, foot), point(0, 400, 1200), point(0, -400, 1200), point(0, -400, foot)})
            .id;
    addBar(bench, words.at(1), {atHeight(host, 300, Side::left), point(700, 400, 300)}, false);
    addBar(bench, words.at(1), {atHeight(host, 300, Side::right), point(700, -400, 300)}, false);
}

/// Bulkhead, its upper supports, and pairs of front hoop legs with a side bar: the supports start so far
/// under the bulkhead's top and end on the legs so far over the side bar.
void addSupports(Bench& bench, double under, double over) {
    const std::string hoop = addBar(bench, "front_hoop", {point(0, 400, 0), point(0, 400, 1200)}, true).id;
    addBar(bench, "upper_side_impact", {atHeight(hoop, 600), point(-700, 400, 600)}, true);
    addBar(bench, "front_bulkhead", {point(700, 400, 600), point(700, -400, 600)});
    addBar(bench, "bulkhead_support", {point(700, 400, 622.5 - under), atHeight(hoop, 600 + over)}, true);
}

/// A bar across the car whose rear face stands at x.
void setRearFaceAcross(Bench& bench, const Words& words, const std::string& value) {
    const double x = length(value) + 22.5;
    addBar(bench, words.at(0), {point(x, 600, 900), point(x, -600, 900)});
}

/// Uprights on both sides of the person, the left one's outer face so far from the middle of the shoulders.
void setSeatToSide(Bench& bench, const Words& words, const std::string& value) {
    const Vec3 middle = bench.job.drivers.front().shoulders();
    for (const double y : {middle.y() + length(value) - 22.5, middle.y() - 800})
        addBar(bench, words.at(0), {point(0, y, 0), point(0, y, 1200)});
}

/// ROLE HEIGHT: a hoop whose legs come together as they rise, this wide inside at that height.
void setWidth(Bench& bench, const Words& words, const std::string& value) {
    constexpr double kSlope = 0.02;  // towards the middle, per mm of height
    const double height = words.size() > 1 ? length(words[1]) : 0;
    const double half = length(value) / 2 + 22.5 * std::sqrt(1 + kSlope * kSlope);
    const double foot = half + kSlope * height, top = half - kSlope * (1500 - height);
    addBar(bench, words.at(0),
           {point(0, foot, 0), point(0, top, 1500), point(0, -top, 1500), point(0, -foot, 0)});
}

/// Two bars of one role side by side, so far between their outsides.
void setGap(Bench& bench, const Words& words, const std::string& value) {
    const double apart = length(value) + 45;
    addBar(bench, words.at(0), {point(0, 0, 900), point(700, 0, 900)});
    addBar(bench, words.at(0), {point(0, apart, 900), point(700, apart, 900)});
}

/// A level bar fore and aft on the left, its middle at that height.
void setLevel(Bench& bench, const Words& words, const std::string& value) {
    addBar(bench, words.at(0), {point(-300, 600, length(value)), point(1200, 600, length(value))});
}

/// Left and right bar, the right one so much higher than the left one's mirror.
void setMirror(Bench& bench, const Words& words, const std::string& value) {
    addBar(bench, words.at(0), {point(0, 400, 900), point(700, 400, 900)});
    addBar(bench, words.at(0), {point(0, -400, 900 + length(value)), point(700, -400, 900 + length(value))});
}

/// A pane of glass at y = 600 and an upright on its inner side.
void setGlass(Bench& bench, const Words& words, const std::string& value) {
    bench.job.car.lines = {{"door_glass.left",
                            CarLine::Kind::glass,
                            {{-2000, 600, -2000}, {2000, 600, -2000}, {2000, 600, 3000}, {-2000, 600, 3000}},
                            true}};
    const double y = 600 - 22.5 - length(value);
    addBar(bench, words.at(0), {point(0, y, 0), point(0, y, 1000)});
}

}  // namespace

Knobs placeKnobs() {
    return {
        {"from_node", setFromNode},
        {"from_foot", setFromFoot},
        {"below_top", setBelowTop},
        {"pair_below_top", setPairBelowTop},
        {"pair_from_node", setPairFromNode},
        {"far_end", setFarEnd},
        {"legs_past", setLegsPast},
        {"support_over",
         [](Bench& b, const Words&, const std::string& v) { addSupports(b, 22.5, length(v)); }},
        // OVER: at that height over the side bar.
        {"support_under",
         [](Bench& b, const Words& w, const std::string& v) { addSupports(b, length(v), length(w.at(0))); }},
        {"rear_face_across", setRearFaceAcross},
        {"seat_to_side", setSeatToSide},
        // Ends within this meet in one node, whose place is their mean.
        {"node_reach",
         [](Bench& b, const Words&, const std::string& v) { b.job.cage.node_reach_mm = length(v); }},
        {"width", setWidth},
        {"gap", setGap},
        {"level", setLevel},
        {"mirror", setMirror},
        {"glass", setGlass},
        // An upright whose front, or rear, face stands at x.
        {"front_face",
         [](Bench& b, const Words& w, const std::string& v) { addPost(b, w.at(0), length(v) - 22.5); }},
        {"rear_face",
         [](Bench& b, const Words& w, const std::string& v) { addPost(b, w.at(0), length(v) + 22.5); }},
    };
}

}  // namespace hoopwright::test
