// Foot plates, their bolts, and gussets.
#include <cmath>
#include <stdexcept>

#include "core/units/measure.h"
#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {
namespace {

/// The plate under an upright of that role.
Plate& footOf(Bench& bench, const Words& words) {
    for (Plate& plate : bench.job.cage.plates)
        if (plate.id == "foot") return plate;
    Plate p;
    p.id = p.name = "foot";
    p.at = FixedPoint{{0, 400, 0}};
    p.length_mm = p.width_mm = 200;
    p.thickness_mm = 4;
    p.material = "steel";
    bench.job.cage.plates.push_back(p);
    addBar(bench, words.at(0), {{OnPlate{"foot"}, {}}, point(0, 400, 1000)});
    return bench.job.cage.plates.back();
}

Plate& boltedFootOf(Bench& bench, const Words& words) {
    Plate& plate = footOf(bench, words);
    if (plate.fixing == Fixing::welded) plate.bolts = {4, 12, "8.8"};
    plate.fixing = Fixing::bolted;
    return plate;
}

double area(const std::string& value) {
    const Expected<double> read = readMeasure(value, *unitNamed("cm2"));
    if (!read) throw std::runtime_error(read.reason());
    return *read;
}

/// So many plates and nothing on them.
void setPlates(Bench& bench, const Words&, const std::string& value) {
    bench.job.cage.plates.clear();
    for (int i = 0; i < whole(value); ++i) {
        Plate p;
        p.id = p.name = "plate_" + std::to_string(i);
        p.at = FixedPoint{{300.0 * i, 400, 0}};
        p.length_mm = p.width_mm = 100;
        p.thickness_mm = 3;
        bench.job.cage.plates.push_back(p);
    }
}

void setRail(Bench& bench, const Words& words, const std::string& value) {
    Plate& plate = footOf(bench, words);
    if (yes(value)) plate.rail = "rail.left";
    bench.job.car.rails = {{}};
    bench.job.car.rails.front().name = "rail.left";
}

/// BRACE HOOP: bolted feet of two bars; the first's one bolt has this share of the section of the second's.
void setBoltShare(Bench& bench, const Words& words, const std::string& value) {
    double x = 0;
    for (const std::string& role : {words.at(0), words.at(1)}) {
        Plate p;
        p.id = p.name = "foot_" + role;
        p.at = FixedPoint{{x, 400, 0}};
        p.length_mm = p.width_mm = 200;
        p.thickness_mm = 4;
        p.fixing = Fixing::bolted;
        p.bolts = {1, x > 0 ? 20 : 20 * std::sqrt(number(value)), "8.8"};
        bench.job.cage.plates.push_back(p);
        addBar(bench, role, {{OnPlate{p.id}, {}}, point(x, 400, 1000)});
        x += 800;
    }
}

/// Two bars that meet; the second lands on the first. Of one role as well.
void meet(Bench& bench, const Words& words, std::string& host, std::string& guest) {
    host = addPost(bench, words.at(0));
    guest = addBar(bench, words.at(1), {atHeight(host, 600), point(-600, 400, 600)}).id;
}

Gusset gusset(const std::string& a, const std::string& b, int number) {
    Gusset g;
    g.id = "gusset_" + std::to_string(number);
    g.member_a = a;
    g.member_b = b;
    g.leg_mm = 100;
    g.thickness_mm = 3;
    return g;
}

void setGussets(Bench& bench, const Words& words, const std::string& value) {
    std::string host, guest;
    meet(bench, words, host, guest);
    for (int i = 0; i < whole(value); ++i) bench.job.cage.gussets.push_back(gusset(host, guest, i));
}

/// One gusset between two bars, to be made thicker or longer.
Gusset& oneGusset(Bench& bench) {
    std::string host, guest;
    meet(bench, {"main_hoop", "side_bar"}, host, guest);
    bench.job.cage.gussets = {gusset(host, guest, 1)};
    return bench.job.cage.gussets.front();
}

}  // namespace

Knobs footKnobs() {
    return {
        {"plates", setPlates},
        {"rail", setRail},
        {"bolt_area", setBoltShare},
        {"gussets", setGussets},
        {"plate_area",
         [](Bench& b, const Words& w, const std::string& v) {
             footOf(b, w).length_mm = area(v) / footOf(b, w).width_mm;
         }},
        {"plate_thickness",
         [](Bench& b, const Words& w, const std::string& v) { footOf(b, w).thickness_mm = length(v); }},
        {"plate_least_side",
         [](Bench& b, const Words& w, const std::string& v) { footOf(b, w).width_mm = length(v); }},
        {"plate_greatest_side",
         [](Bench& b, const Words& w, const std::string& v) { footOf(b, w).length_mm = length(v); }},
        {"bolts",
         [](Bench& b, const Words& w, const std::string& v) { boltedFootOf(b, w).bolts.count = whole(v); }},
        {"bolt_size", [](Bench& b, const Words& w,
                         const std::string& v) { boltedFootOf(b, w).bolts.diameter_mm = length(v); }},
        {"backing_area",
         [](Bench& b, const Words& w, const std::string& v) {
             boltedFootOf(b, w).backing = BackingPlate{area(v) / 100, 100, 4};
         }},
        {"backing_thickness",
         [](Bench& b, const Words& w, const std::string& v) {
             boltedFootOf(b, w).backing = BackingPlate{200, 200, length(v)};
         }},
        {"gusset_thickness",
         [](Bench& b, const Words&, const std::string& v) { oneGusset(b).thickness_mm = length(v); }},
        // In diameters of 45.
        {"gusset_leg",
         [](Bench& b, const Words&, const std::string& v) { oneGusset(b).leg_mm = 45 * number(v); }},
    };
}

}  // namespace hoopwright::test
