#include "tests/rules/vectors/bench.h"

#include <cmath>
#include <sstream>
#include <stdexcept>

#include "core/units/measure.h"

namespace hoopwright::test {
namespace {

void seatDriver(Job& job) {
    Driver d;
    d.id = d.name = "tall";
    d.hip = {350, 300, 100};
    d.back_angle_rad = 20 * M_PI / 180;
    d.shoulder_left = {200, 480, 640};
    d.shoulder_right = {200, 120, 640};
    d.elbow_left = {350, 520, 400};
    d.elbow_right = {350, 80, 400};
    d.hand_left = {600, 450, 500};
    d.hand_right = {600, 150, 500};
    d.knee_left = {800, 400, 300};
    d.knee_right = {800, 200, 300};
    d.heel_left = {1100, 400, 50};
    d.heel_right = {1100, 200, 50};
    d.eye = {330, 300, 800};
    d.helmet = {{250, 300, 780}, 340, 260, 280};
    d.belts.bar = "belt_bar_1";
    d.belts.spacing_mm = 200;
    job.drivers = {d};
}

double measured(const std::string& value, Dimension dimension) {
    const Expected<double> read = readMeasure(value, baseUnit(dimension));
    if (!read) throw std::runtime_error(read.reason());
    return *read;
}

const Knobs& allKnobs() {
    static const Knobs kAll = [] {
        Knobs out;
        for (Knobs some : {tubeKnobs(), countKnobs(), shapeKnobs(), placeKnobs(), footKnobs(), driverKnobs(),
                           formulaKnobs()})
            out.merge(some);
        return out;
    }();
    return kAll;
}

}  // namespace

Bench emptyBench() {
    Bench out;
    out.job.stock.materials = {
        {"steel", "Steel", "mild_steel", 400, 500, 22, 0.2, 7850, "a test"},
        {"moly", "Moly steel", "chrome_moly", 460, 670, 12, 0.3, 7850, "a test"},
        {"alloy", "Alloy steel", "alloy_steel", 460, 670, 12, 0.3, 7850, "a test"},
        {"light", "Light alloy", "aluminium", 400, 500, 12, 0.0, 2700, "a test"},
    };
    TubeStock plain;
    plain.id = "plain";
    plain.section = {45, 2.5};
    plain.material = "steel";
    out.job.stock.tubes = {plain};
    out.job.dies.dies = {{"d45", 45, 135, 50, 30, M_PI}};
    out.job.cage.node_reach_mm = 50;
    seatDriver(out.job);
    return out;
}

void turn(Bench& bench, const std::string& knob, const std::string& value) {
    Words words = wordsOf(knob);
    if (words.empty()) throw std::runtime_error("a knob without a name");
    const auto known = allKnobs().find(words.front());
    if (known == allKnobs().end()) throw std::runtime_error("no knob '" + words.front() + "'");
    words.erase(words.begin());
    try {
        known->second(bench, words, value);
    } catch (const std::exception& wrong) {
        throw std::runtime_error("knob '" + knob + "' at '" + value + "': " + wrong.what());
    }
}

Words wordsOf(const std::string& text) {
    std::istringstream in(text);
    Words out;
    for (std::string word; in >> word;) out.push_back(word);
    return out;
}

double number(const std::string& value) {
    return measured(value, Dimension::none);
}
double length(const std::string& value) {
    return measured(value, Dimension::length);
}
double degrees(const std::string& value) {
    return number(value) * M_PI / 180;
}
int whole(const std::string& value) {
    return static_cast<int>(number(value));
}
bool yes(const std::string& value) {
    if (value != "yes" && value != "no") throw std::runtime_error("neither yes nor no");
    return value == "yes";
}

MemberPoint point(double x, double y, double z) {
    return {FixedPoint{{x, y, z}}, {}};
}

MemberPoint atHeight(const std::string& host, double height, Side side) {
    Landing l;
    l.host = host;
    l.value = height;
    l.side = side;
    return {l, {}};
}

MemberPoint alongBar(const std::string& host, double distance) {
    Landing l;
    l.host = host;
    l.by = Landing::By::distance;
    l.value = distance;
    return {l, {}};
}

Member& addBar(Bench& bench, const std::string& role, std::vector<MemberPoint> path, bool mirrored) {
    int number = 1;
    std::string stock = "plain";
    for (const Member& one : bench.job.cage.members) number += one.role == role;
    // A tube named after the role is that of all its bars.
    if (bench.job.stock.find(role)) stock = role;
    Member m;
    m.id = m.name = role + "_" + std::to_string(number);
    m.role = role;
    m.stock = stock;
    m.path = std::move(path);
    m.mirrored = mirrored;
    m.bend_radius_mm = 135;  // whatever its tube: there need be no die
    bench.job.cage.members.push_back(m);
    return bench.job.cage.members.back();
}

std::string addPost(Bench& bench, const std::string& role, double x, double height) {
    return addBar(bench, role, {point(x, 400, 0), point(x, 400, height)}).id;
}

void removeBars(Bench& bench, const std::string& role) {
    std::erase_if(bench.job.cage.members, [&](const Member& m) { return m.role == role; });
}

Member* firstOf(Bench& bench, const std::string& role) {
    for (Member& m : bench.job.cage.members)
        if (m.role == role) return &m;
    return nullptr;
}

}  // namespace hoopwright::test
