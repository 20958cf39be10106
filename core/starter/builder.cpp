#include "core/starter/builder.h"

#include <algorithm>
#include <cmath>

namespace hoopwright::starting {
namespace {

/// Roles near heads: padded.
bool isByHeads(std::string_view role) {
    for (const char* one : {"main_hoop", "front_hoop", "side_hoop", "side_bar", "cross_bar", "windshield_bar",
                            "roof_rail_bar", "roof_bar", "roof_diagonal", "hoop_diagonal"})
        if (role == one) return true;
    return false;
}

/// A material no tube is made of, as plate is; else the first.
std::string plateMaterial(const StockList& stock) {
    for (const Material& material : stock.materials) {
        const bool of_tube = std::ranges::any_of(
            stock.tubes, [&](const TubeStock& tube) { return tube.material == material.id; });
        if (!of_tube) return material.id;
    }
    return stock.materials.empty() ? "" : stock.materials.front().id;
}

double driversSide(const Job& site) {
    double sum = 0;
    for (const Driver& driver : site.drivers)
        if (driver.occupant == Driver::Occupant::driver) sum += driver.hip.y();
    if (std::abs(sum) > 1) return sum > 0 ? 1 : -1;
    const auto fact = site.car.facts.find("driver_side");
    const auto* word = fact == site.car.facts.end() ? nullptr : std::get_if<std::string>(&fact->second.value);
    return word && *word == "right" ? -1 : 1;
}

}  // namespace

CageBuilder::CageBuilder(const Job& site, const StarterWish& wish, const Starter& starter,
                         const CarPlaces& places, BarFitter& fitter, std::vector<std::string> options,
                         bool roughly)
    : site_(site),
      wish_(wish),
      starter_(starter),
      places_(places),
      fitter_(fitter),
      how_{wish.least_gap_mm, site.cage.unit, roughly},
      inches_(site.cage.unit == LengthUnit::in),
      drivers_side_(driversSide(site)),
      plate_material_(plateMaterial(site.stock)) {
    made_.cage = site.cage;
    made_.cage.members.clear();
    made_.cage.plates.clear();
    made_.cage.gussets.clear();
    made_.cage.answers.clear();
    made_.options = std::move(options);
    for (const Driver& driver : site.drivers)
        if (!driver.belts.bar.empty()) belt_id_ = driver.belts.bar;
}

Expected<StarterCage> CageBuilder::build() {
    if (const std::string wrong = placeFeet(); !wrong.empty()) return Reason{wrong};
    rearFrame();
    hoopDiagonals();
    if (starter_.base != CageBase::hoop) {
        frontFrame();
        crossTheTop();
    }
    beltBar();
    roof();
    rearBraces();
    rearDiagonals();
    sillBars();
    dashBar();
    frameTies();
    doors();
    seatBars();
    frontReturns();
    gussets();
    return std::move(made_);
}

bool CageBuilder::has(std::string_view option) const {
    return std::ranges::find(made_.options, option) != made_.options.end();
}

std::string CageBuilder::stockOf(const std::string& role) const {
    const auto said = wish_.tubes.find(role);
    if (said != wish_.tubes.end()) return said->second;
    return usualTube(site_.stock, site_.dies)->id;
}

FitTube CageBuilder::tube(const std::string& role) const {
    const TubeStock* stock = site_.stock.find(stockOf(role));
    const double od = stock ? stock->section.od_mm : 0;
    const Die* die = site_.dies.forOd(od);
    if (!die) return {od, 3 * od, 0};
    return {od, die->radius_mm, std::max(die->least_straight_mm, die->least_end_straight_mm),
            die->greatest_angle_rad};
}

AtCarPoint CageBuilder::anchored(const Vec3& at, bool right) const {
    AtCarPoint anchor = places_.anchorOf(at, right);
    const double step = inches_ ? 0.0254 : 0.01;
    for (int k = 0; k < 3; ++k) anchor.offset[k] = std::round(anchor.offset[k] / step) * step;
    return anchor;
}

void CageBuilder::note(const std::string& id, const Fitted& fitted) {
    made_.fitted.push_back({id, fitted.gap, fitted.limits});
    if (!fitted.trouble.empty()) made_.notes.push_back(id + ": " + fitted.trouble + ".");
}

Side CageBuilder::side(On on) const {
    if (on == On::own) return Side::left;
    return (on == On::driver) == (drivers_side_ > 0) ? Side::left : Side::right;
}

std::string CageBuilder::sided(const std::string& id, On on) const {
    if (on == On::own) return id;
    return id + "." + std::string(sideWord(side(on)));
}

Landing CageBuilder::at(const std::string& host, Landing::By by, double value) const {
    Landing landing;
    landing.host = host;
    landing.by = by;
    landing.value = value;
    return landing;
}

Landing CageBuilder::land(Leg leg, On on, double z) const {
    if (isSideHoops()) {
        // It passes each height twice: once on either leg.
        const std::vector<double> stations = front_.crossings({0, 0, z}, Vec3::UnitZ());
        Landing landing = at(sided("side_hoop", on), Landing::By::distance, 0);
        landing.from_last_end = leg == Leg::front;
        if (!stations.empty())
            landing.value = tidy(leg == Leg::rear ? stations.front() : front_.length_mm() - stations.back());
        return landing;
    }
    if (leg == Leg::front && starter_.base == CageBase::side_bars)
        return at(sided("side_bar", on), Landing::By::height, z);
    Landing landing = at(leg == Leg::rear ? "main_hoop" : "front_hoop", Landing::By::height, z);
    landing.side = side(on);
    return landing;
}

Vec3 CageBuilder::pointOn(Leg leg, double z) const {
    const Centreline& line = leg == Leg::rear ? rear_ : front_;
    std::vector<double> stations = line.crossings({0, 0, z}, Vec3::UnitZ());
    std::erase_if(stations, [&](double s) { return line.point(s).y() < 0; });
    if (stations.empty()) return leg == Leg::rear ? rear_foot_ : front_foot_;
    const bool last = isSideHoops() && leg == Leg::front;
    return line.point(last ? stations.back() : stations.front());
}

Member& CageBuilder::add(const std::string& id, const std::string& role, std::vector<Place3> path) {
    Member member;
    member.id = id;
    member.role = role;
    member.stock = stockOf(role);
    member.padding_mm = isByHeads(role) ? wish_.padding_mm : 0;
    for (Place3& place : path) member.path.push_back({std::move(place), std::nullopt});
    made_.cage.members.push_back(std::move(member));
    return made_.cage.members.back();
}

void CageBuilder::pair(const std::string& id, const std::string& role, std::vector<Place3> path) {
    add(id, role, std::move(path)).mirrored = true;
}

/// A bar in two halves on another that runs through.
void CageBuilder::halves(const std::string& id, const std::string& role, const std::string& through, double y,
                         const Place3& first, const Place3& last) {
    const std::string name = roleOf(role).name;
    add(id + "_first", role, {first, across(through, y)}).name = name + ", first half";
    add(id + "_second", role, {last, across(through, y)}).name = name + ", second half";
}

void CageBuilder::foot(const std::string& id, const std::string& name, const RailTop& where, double length,
                       double width) {
    Plate plate;
    plate.id = id;
    plate.name = name;
    plate.mirrored = true;
    plate.thickness_mm = sheet_mm(3, 3.175);
    plate.at = anchored(where.at + plate.thickness_mm * where.normal);
    plate.normal = where.normal;
    plate.along = where.along;
    plate.length_mm = length;
    plate.width_mm = width;
    plate.material = plate_material_;
    plate.rail = where.rail;
    made_.cage.plates.push_back(std::move(plate));
}

/// The next height on a leg with room for a weld under a tube of that radius.
double CageBuilder::stack(double& top, double half_mm) {
    constexpr double kWeld_mm = 12;
    const double z = tidy(top + kWeld_mm + half_mm);
    top = z + half_mm;
    return z;
}

}  // namespace hoopwright::starting
