// The person, the belts, and the bars about them. The helmet is 340 long, 260 wide, 280 high about
// (250, 300, 780); shoulders at z = 640, elbows at z = 400.
#include <cmath>

#include "core/base/text.h"
#include "tests/rules/test_cage.h"
#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {
namespace {

Driver& driver(Bench& bench) {
    return bench.job.drivers.front();
}

Member& across(Bench& bench, const std::string& role, double x, double z) {
    return addBar(bench, role, {point(x, 600, z), point(x, -600, z)});
}

/// Bar of 45 at x = 0, its middle at z = 560; the strap touches it after 200 mm level.
void addBeltBar(Bench& bench) {
    driver(bench).belts.bar = across(bench, "belt_bar", 0, 560).id;
    driver(bench).shoulder_left.z() = driver(bench).shoulder_right.z() = 582.5;
}

void setShoulders(Bench& bench, double z) {
    driver(bench).shoulder_left.z() = driver(bench).shoulder_right.z() = z;
}

/// Straps that fall by so much, towards the rear.
void setBeltAngle(Bench& bench, const Words&, const std::string& value) {
    addBeltBar(bench);
    const double fall = degrees(value);
    setShoulders(bench, 560 + 200 * std::tan(fall) + 22.5 / std::cos(fall));
}

/// Level straps that spread by so much.
void setBeltPlan(Bench& bench, const Words&, const std::string& value) {
    addBeltBar(bench);
    const double spread = 200 * std::tan(degrees(value));
    driver(bench).shoulder_left.y() = 400 + spread;
    driver(bench).shoulder_right.y() = 200 - spread;
}

void setBeltBehind(Bench& bench, const Words&, const std::string& value) {
    addBeltBar(bench);
    Seat seat;
    seat.back_height_mm = 600;
    seat.width_mm = 450;
    seat.slot_left = {length(value), 400, 582.5};
    seat.slot_right = {length(value), 200, 582.5};
    driver(bench).seat = seat;
}

void setLap(Bench& bench, const Words&, const std::string& value) {
    const Vec3 hip = driver(bench).hip;
    const double drop = 100 * std::tan(degrees(value));
    driver(bench).belts.lap_anchors = {{hip.x() - 100, 500, hip.z() - drop},
                                       {hip.x() - 100, 100, hip.z() - drop}};
}

/// A bar across the car over the crown, so far from it.
void setOverHelmet(Bench& bench, const Words& words, const std::string& value) {
    across(bench, words.empty() ? "roof_bar" : words.front(), 250, 780 + 140 + 22.5 + length(value));
}

/// A bar across, so far ahead of the knees: found by trial, the knee being no plain ball.
void setNearKnee(Bench& bench, const Words&, const std::string& value) {
    double low = 0, high = 500;
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2;
        Bench trial = bench;
        across(trial, "dash_bar", 800, 300 + middle);
        const Finding found =
            finding(trial.job, "measure: clearance\nwith: {part: [elbow, knee]}\nat_least: -1000");
        (found.value.value_or(-1e9) < length(value) ? low : high) = middle;
    }
    across(bench, "dash_bar", 800, 300 + (low + high) / 2);
}

/// HOOP FRONT: two bars across at one height, the crown so far under the line over them.
void setUnderLine(Bench& bench, const Words& words, const std::string& value) {
    across(bench, words.at(0), 0, 1000);
    across(bench, words.at(1), 800, 1000);
    driver(bench).helmet.centre.z() = 1022.5 - length(value) - 140;
}

/// The crown so far under the line from the hoop's top to the lower end of a brace behind it.
void setUnderBraceLine(Bench& bench, const Words&, const std::string& value) {
    across(bench, "main_hoop", 0, 1000);
    addBar(bench, "rear_brace", {point(0, 400, 1000), point(-800, 400, 200)});
    const Vec3 top(0, 0, 1022.5), foot(-800, 0, 177.5);
    const Vec3 along = (top - foot).normalized(), up(-along.z(), 0, along.x());
    const double reach = std::hypot(170 * up.x(), 140 * up.z());
    const Vec3 centre = 0.5 * (top + foot) - (length(value) + reach) * up;
    driver(bench).helmet.centre = {centre.x(), 300, centre.z()};
}

void setAboveHelmet(Bench& bench, const Words& words, const std::string& value) {
    across(bench, words.at(0), 0, 1000);
    driver(bench).helmet.centre.z() = 1022.5 - length(value) - 140;
}

void setBehindHelmet(Bench& bench, const Words& words, const std::string& value) {
    addPost(bench, words.at(0));
    driver(bench).helmet.centre.x() = 22.5 + length(value) + 170;
}

void setAheadOfRearFace(Bench& bench, const Words& words, const std::string& value) {
    addPost(bench, words.at(0));
    driver(bench).helmet.centre.x() = -22.5 + length(value) + 170;
}

/// Four bars fore and aft, a box about the person with its left side so far from the helmet's.
void setHelmetToSide(Bench& bench, const Words& words, const std::string& value) {
    const double left = 430 + length(value) - 22.5;
    for (const double z : {-600.0, 2000.0})
        for (const double y : {left, -2000.0})
            addBar(bench, words.at(0), {point(-3000, y, z), point(3000, y, z)});
}

void setHelmetToTop(Bench& bench, const Words& words, const std::string& value) {
    const double top = 920 + length(value) - 22.5;
    for (const double y : {2000.0, -2000.0}) {
        addBar(bench, words.at(0), {point(-3000, y, top), point(3000, y, top)});
        addBar(bench, words.at(0), {point(-3000, y, -600), point(3000, y, -600)});
    }
}

/// As the helmet's box, its left side moved until the body is so far inside.
void setBodyToSide(Bench& bench, const Words& words, const std::string& value) {
    double low = -600, high = 600;
    const auto at = [&](double side) { return shortest(side); };
    for (int i = 0; i < 50; ++i) {
        const double middle = (low + high) / 2;
        Bench trial = bench;
        setHelmetToSide(trial, words, at(middle));
        const Finding found = finding(
            trial.job,
            "measure: inside_envelope\nwith: {part: [shoulder, torso, hip, thigh, knee, arm, elbow, hand], "
            "towards: sides}\nat_least: -10000");
        (found.value.value_or(-1e9) < length(value) ? low : high) = middle;
    }
    setHelmetToSide(bench, words, at((low + high) / 2));
}

const std::map<std::string, double FormulaFrame::*> kFrameParts = {
    {"half_width", &FormulaFrame::half_width},
    {"lean", &FormulaFrame::lean_deg},
    {"front_lean", &FormulaFrame::front_lean_deg},
    {"lower_height", &FormulaFrame::lower_height},
    {"upper_side_height", &FormulaFrame::upper_side_height},
    {"helmet_under_line", &FormulaFrame::helmet_under_line},
};

}  // namespace

Knobs driverKnobs() {
    return {
        {"belt_angle", setBeltAngle},
        {"belt_plan", setBeltPlan},
        {"belt_behind", setBeltBehind},
        {"lap", setLap},
        {"over_helmet", setOverHelmet},
        {"near_knee", setNearKnee},
        {"under_line", setUnderLine},
        {"under_brace_line", setUnderBraceLine},
        {"above_helmet", setAboveHelmet},
        {"behind_helmet", setBehindHelmet},
        {"ahead_of_rear_face", setAheadOfRearFace},
        {"helmet_to_side", setHelmetToSide},
        {"helmet_to_top", setHelmetToTop},
        {"body_to_side", setBodyToSide},
        {"belt_below",
         [](Bench& b, const Words&, const std::string& v) {
             addBeltBar(b);
             setShoulders(b, 582.5 + length(v));
         }},
        {"belt_spacing",
         [](Bench& b, const Words&, const std::string& v) { driver(b).belts.spacing_mm = length(v); }},
        {"back", [](Bench& b, const Words&, const std::string& v) { driver(b).back_angle_rad = degrees(v); }},
        {"padding",
         [](Bench& b, const Words& w, const std::string& v) {
             for (Member& m : b.job.cage.members)
                 if (m.role == w.at(0)) m.padding_mm = length(v);
         }},
    };
}

/// The whole formula frame, dialled: what its other knobs did to the job before is gone.
Knobs formulaKnobs() {
    return {{"frame", [](Bench& b, const Words& w, const std::string& v) {
                 b.frame.*kFrameParts.at(w.at(0)) = number(v);
                 b.job = jobOf(b.frame);
             }}};
}

}  // namespace hoopwright::test
