// What bars are of: section, material, form, strength.
#include <cmath>
#include <stdexcept>

#include "tests/rules/vectors/bench.h"

namespace hoopwright::test {
namespace {

/// The tube of a role; "all": of every bar.
TubeStock& tubeOf(Bench& bench, const std::string& role) {
    StockList& stock = bench.job.stock;
    const std::string id = role == "all" ? "plain" : role;
    for (TubeStock& tube : stock.tubes)
        if (tube.id == id) return tube;
    TubeStock tube = stock.tubes.front();
    tube.id = id;
    stock.tubes.push_back(tube);
    for (Member& m : bench.job.cage.members)
        if (m.role == role) m.stock = id;
    return stock.tubes.back();
}

/// A tube, and a bar of that role to be of it.
TubeStock& shownTube(Bench& bench, const Words& words) {
    TubeStock& tube = tubeOf(bench, words.at(0));
    const std::string role = words.at(0) == "all" ? "main_hoop" : words.at(0);
    if (!firstOf(bench, role)) addPost(bench, role);
    return tube;
}

std::string materialOf(const std::string& family) {
    if (family == "chrome_moly") return "moly";
    if (family == "aluminium") return "light";
    if (family == "alloy_steel") return "alloy";
    if (family == "mild_steel") return "steel";
    throw std::runtime_error("no such family");
}

TubeForm formOf(const std::string& word) {
    for (TubeForm form : {TubeForm::seamless, TubeForm::drawn_over_mandrel, TubeForm::welded})
        if (word == formWord(form)) return form;
    throw std::runtime_error("no such form");
}

/// "45x2.5", "1.5inx0.095in", "38x2:chrome_moly".
void setTube(Bench& bench, const Words& words, const std::string& value) {
    TubeStock& tube = shownTube(bench, words);
    const std::size_t colon = value.find(':'), x = value.find('x');
    if (x == std::string::npos) throw std::runtime_error("write 45x2.5");
    tube.section.od_mm = length(value.substr(0, x));
    tube.section.wall_mm = length(value.substr(x + 1, colon == std::string::npos ? colon : colon - x - 1));
    if (colon != std::string::npos) tube.material = materialOf(value.substr(colon + 1));
}

/// A material of its own for the tube, so that one figure can differ.
Material& ownMaterial(Bench& bench, const Words& words) {
    TubeStock& tube = shownTube(bench, words);
    const Material* now = bench.job.stock.material(tube.material);
    if (now->id == "own_" + tube.id) return const_cast<Material&>(*now);
    Material own = *now;
    own.id = "own_" + tube.id;
    tube.material = own.id;
    bench.job.stock.materials.push_back(own);
    return bench.job.stock.materials.back();
}

/// The wall that makes f(wall) reach a figure; f grows with the wall.
template <class F>
double wallFor(double od, double wanted, F f) {
    double low = 0.01, high = od / 2 - 0.01;
    for (int i = 0; i < 200; ++i) {
        const double middle = (low + high) / 2;
        (f(middle) < wanted ? low : high) = middle;
    }
    return high;
}

// By hand, not by the program's own section: pi (D^4 - d^4) / 64 and pi (D^2 - d^2) / 4.
double inertia(double od, double wall) {
    return M_PI / 64 * (std::pow(od, 4) - std::pow(od - 2 * wall, 4));
}
double area(double od, double wall) {
    return M_PI / 4 * (std::pow(od, 2) - std::pow(od - 2 * wall, 2));
}

void setInertia(Bench& bench, const Words& words, const std::string& value) {
    const double od = length(words.at(1));
    shownTube(bench, words).section = {
        od, wallFor(od, number(value), [&](double wall) { return inertia(od, wall); })};
}
void setArea(Bench& bench, const Words& words, const std::string& value) {
    const double od = length(words.at(1));
    shownTube(bench, words).section = {
        od, wallFor(od, number(value), [&](double wall) { return area(od, wall); })};
}

/// Stiffness over that of 25.4 x 3.05, both of the same modulus; strong enough.
void setStiffness(Bench& bench, const Words& words, const std::string& value) {
    const double wanted = number(value) * inertia(25.4, 3.05);
    ownMaterial(bench, words).yield_mpa = 900;
    tubeOf(bench, words.at(0)).section = {28,
                                          wallFor(28, wanted, [](double wall) { return inertia(28, wall); })};
}

/// Strength over that of 25.4 x 3.05 at 365 MPa; stiff enough.
void setStrength(Bench& bench, const Words& words, const std::string& value) {
    const double wanted = number(value) * 365 * inertia(25.4, 3.05) / 12.7;
    ownMaterial(bench, words).yield_mpa = wanted / (inertia(26, 3.0) / 13);
    tubeOf(bench, words.at(0)).section = {26, 3.0};
}

}  // namespace

Knobs tubeKnobs() {
    return {
        {"tube", setTube},
        {"inertia", setInertia},
        {"area", setArea},
        {"stiffness", setStiffness},
        {"strength", setStrength},
        {"od",
         [](Bench& b, const Words& w, const std::string& v) { shownTube(b, w).section.od_mm = length(v); }},
        {"wall",
         [](Bench& b, const Words& w, const std::string& v) { shownTube(b, w).section.wall_mm = length(v); }},
        {"gauged", [](Bench& b, const Words& w,
                      const std::string& v) { shownTube(b, w).measured_wall_mm = length(v); }},
        {"form", [](Bench& b, const Words& w, const std::string& v) { shownTube(b, w).form = formOf(v); }},
        {"family",
         [](Bench& b, const Words& w, const std::string& v) { shownTube(b, w).material = materialOf(v); }},
        {"tensile",
         [](Bench& b, const Words& w, const std::string& v) { ownMaterial(b, w).tensile_mpa = number(v); }},
        {"yield",
         [](Bench& b, const Words& w, const std::string& v) { ownMaterial(b, w).yield_mpa = number(v); }},
        {"carbon", [](Bench& b, const Words& w,
                      const std::string& v) { ownMaterial(b, w).carbon_percent = number(v); }},
        // The second role's tube as the first's, or a size apart.
        {"same_tube",
         [](Bench& b, const Words& w, const std::string& v) {
             addPost(b, w.at(0));
             addPost(b, w.at(1), 500);
             if (!yes(v)) tubeOf(b, w.at(1)).section = {38, 2.5};
         }},
    };
}

}  // namespace hoopwright::test
