// How a bar is bent and how it stands. Closed forms, so that a bar is on its limit to the last digit.
#include <cmath>

#include "tests/rules/test_cage.h"
#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {
namespace {

constexpr double kRadius = 135, kLeg = 600;

MemberPoint inPlane(double x, double z) {
    return point(x, 400, z);
}

/// Legs of 600 mm that turn by so much at each corner, seen from the side.
std::vector<MemberPoint> turning(std::initializer_list<double> turns_rad) {
    double x = 0, z = 0, way = 0;
    std::vector<MemberPoint> path = {inPlane(x, z)};
    const auto go = [&] {
        x += kLeg * std::cos(way);
        z += kLeg * std::sin(way);
        path.push_back(inPlane(x, z));
    };
    go();
    for (const double turn : turns_rad) {
        way += turn;
        go();
    }
    return path;
}

/// Centreline radius in diameters of 45.
void setRadius(Bench& bench, const Words& words, const std::string& value) {
    addBar(bench, words.at(0), turning({M_PI / 2})).bend_radius_mm = 45 * number(value);
}

/// A zigzag with so many corners.
void setBends(Bench& bench, const Words& words, const std::string& value) {
    std::vector<MemberPoint> path;
    for (int i = 0; i < whole(value) + 2; ++i) path.push_back(inPlane(400.0 * i, i % 2 ? 200 : 0));
    addBar(bench, words.at(0), path);
}

void setBendSum(Bench& bench, const Words& words, const std::string& value) {
    const double half = degrees(value) / 2;
    addBar(bench, words.at(0), turning({half, half}));
}

void setBend(Bench& bench, const Words& words, const std::string& value) {
    addBar(bench, words.at(0), turning({degrees(value)}));
}

/// A bend of 40 degrees whose middle is so far from where another bar lands, just past the end of the bend.
void setBendFromNode(Bench& bench, const Words& words, const std::string& value) {
    const double turn = 40 * M_PI / 180, away = length(value);
    const std::string id = addBar(bench, words.at(0), turning({turn})).id;
    // The chord from the bend's end to its middle leaves the straight by a quarter of the turn.
    const double chord = 2 * kRadius * std::sin(turn / 4), c = std::cos(turn / 4), s = std::sin(turn / 4);
    const double past = std::sqrt(away * away - chord * chord * s * s) - chord * c;
    const double end_of_bend = kLeg - kRadius * std::tan(turn / 2) + kRadius * turn;
    addBar(bench, "gusset_tube", {alongBar(id, end_of_bend + past), point(600, -300, 0)});
}

/// ROLE GUEST: a bend of 30 degrees seen from the side, the guest so far past its end. With a third role a
/// bar of that meets the leg under the bend.
void setBendMet(Bench& bench, const Words& words, const std::string& value) {
    const double turn = M_PI / 6;
    const std::string id = addBar(bench, words.at(0), turning({turn})).id;
    const double end_of_bend = kLeg - kRadius * std::tan(turn / 2) + kRadius * turn;
    addBar(bench, words.at(1), {alongBar(id, end_of_bend + length(value)), point(600, -300, 0)});
    if (words.size() > 2) addBar(bench, words[2], {alongBar(id, 100), point(100, -300, 0)});
}

/// ROLE GUEST SIDE: the same seen from the front, with the bar of the third role over the bend.
void setLowBendMet(Bench& bench, const Words& words, const std::string& value) {
    const double turn = M_PI / 6;
    const std::string id = addBar(bench, words.at(0),
                                  {point(0, 600, 0), point(0, 600, kLeg),
                                   point(0, 600 - kLeg * std::sin(turn), kLeg * (1 + std::cos(turn)))})
                               .id;
    const double end_of_bend = kLeg - kRadius * std::tan(turn / 2) + kRadius * turn;
    addBar(bench, words.at(1), {alongBar(id, end_of_bend + length(value)), point(600, 400, 0)});
    addBar(bench, words.at(2), {alongBar(id, 1100), point(600, 400, 1000)});
}

/// A bar of the first role, bent by 30 degrees in its middle; the second lands so far past where it strays
/// farthest from its chord, `off` out of its plane.
void addHeldBow(Bench& bench, const Words& words, double past, double off) {
    const double turn = M_PI / 6;
    const std::string id = addBar(bench, words.at(0), turning({turn})).id;
    const double middle = kLeg - kRadius * std::tan(turn / 2) + kRadius * turn / 2;
    const double x = kLeg - kRadius * std::tan(turn / 2), reach = 500;
    addBar(bench, words.at(1),
           {alongBar(id, middle + past), point(x + kRadius * std::sin(turn / 2), 400 - reach * std::sin(off),
                                               kRadius * (1 - std::cos(turn / 2)) - reach * std::cos(off))});
}

/// ROLE GUEST: a bent bar of the first, and square to its plane one of the second, so far off its outside.
void setBowBeside(Bench& bench, const Words& words, const std::string& value) {
    addBar(bench, words.at(0), turning({M_PI / 6}));
    const double z = -45 - length(value);
    addBar(bench, words.at(1), {point(200, -300, z), point(200, 800, z)});
}

/// A jog: its long middle runs parallel to the line between its ends, so far off it.
void setBow(Bench& bench, const Words& words, const std::string& value) {
    const double off = length(value);
    addBar(bench, words.at(0),
           {inPlane(0, 0), inPlane(300, 0), inPlane(600, off), inPlane(1200, off), inPlane(1500, 0),
            inPlane(1800, 0)});
}

/// A hoop with one corner pushed ahead until the program finds it so far out of one plane.
void setOutOfPlane(Bench& bench, const Words& words, const std::string& value) {
    const double wanted = length(value);
    Bench trial = bench;
    const auto pushed = [&](Bench& b, double push) {
        addBar(b, words.at(0),
               {point(0, 600, 0), point(push, 600, 1000), point(0, -600, 1000), point(0, -600, 0)});
    };
    double low = 0, high = 300;
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2;
        trial = bench;
        pushed(trial, middle);
        const Finding found =
            finding(trial.job, "measure: out_of_plane\nof: {role: " + words.at(0) + "}\nat_least: 0");
        (found.value.value_or(1e9) < wanted ? low : high) = middle;
    }
    pushed(bench, (low + high) / 2);
}

/// A hoop 1000 mm high whose legs lean back so much.
void setLean(Bench& bench, const Words& words, const std::string& value) {
    const double x = -1000 * std::tan(degrees(value));
    addBar(bench, words.at(0),
           {point(0, 600, 0), point(x, 600, 1000), point(x, -600, 1000), point(0, -600, 0)});
}

/// Straight, its lower end to the rear, so much off vertical.
void setAngle(Bench& bench, const Words& words, const std::string& value) {
    const double off = degrees(value);
    addBar(bench, words.at(0), {inPlane(0, 900), inPlane(-700 * std::sin(off), 900 - 700 * std::cos(off))});
}

/// Between two bars: the first an upright, the second landing on it.
void setJointAngle(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addPost(bench, words.at(1));
    const double off = degrees(value);
    addBar(bench, words.at(0),
           {atHeight(host, 800), inPlane(-600 * std::sin(off), 800 - 600 * std::cos(off))});
}

/// ROLE HOST: seen from the side the first lands on a straight of the second, which is bent farther on.
void setBentJointAngle(Bench& bench, const Words& words, const std::string& value) {
    const std::string host = addBar(bench, words.at(1), turning({M_PI / 6})).id;
    const double off = degrees(value);
    addBar(bench, words.at(0),
           {alongBar(host, 300), inPlane(300 - 600 * std::cos(off), -600 * std::sin(off))});
}

/// Two props hold the bar this far apart; its ends are held by nothing. With "bent" there is a bend between.
void setUnsupported(Bench& bench, const Words& words, const std::string& value) {
    const double run = length(value), leg = run / 2 + 300;
    std::string id;
    double whole_length = run + 400;
    if (words.size() > 1 && words[1] == "bent") {
        id = addBar(bench, words.at(0), {inPlane(-leg, 900), inPlane(0, 900), inPlane(0, 900 + leg)}).id;
        whole_length = 2 * leg - 2 * kRadius + kRadius * M_PI / 2;
    } else {
        id = addBar(bench, words.at(0), {inPlane(0, 900), inPlane(whole_length, 900)}).id;
    }
    for (const double at : {(whole_length - run) / 2, (whole_length + run) / 2})
        addBar(bench, "gusset_tube", {alongBar(id, at), point(at, 0, 300)});
}

}  // namespace

Knobs shapeKnobs() {
    return {
        {"radius", setRadius},
        {"bends", setBends},
        {"bend_sum", setBendSum},
        {"bend", setBend},
        {"bend_from_node", setBendFromNode},
        {"bend_met", setBendMet},
        {"low_bend_met", setLowBendMet},
        {"bow_held",
         [](Bench& b, const Words& w, const std::string& v) { addHeldBow(b, w, length(v), 0.3); }},
        {"bow_held_at",
         [](Bench& b, const Words& w, const std::string& v) { addHeldBow(b, w, 0, degrees(v)); }},
        {"bow_beside", setBowBeside},
        {"bow", setBow},
        {"out_of_plane", setOutOfPlane},
        {"lean", setLean},
        {"angle", setAngle},
        {"joint_angle", setJointAngle},
        {"bent_joint_angle", setBentJointAngle},
        {"unsupported", setUnsupported},
        {"length",
         [](Bench& b, const Words& w, const std::string& v) {
             addBar(b, w.at(0), {inPlane(0, 900), inPlane(length(v), 900)});
         }},
    };
}

}  // namespace hoopwright::test
