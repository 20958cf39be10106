// Hoops, side bars and braces: what stands on the car.
#include <algorithm>
#include <cmath>

#include "core/geometry/distance.h"
#include "core/starter/builder.h"
#include "core/units/measure.h"

namespace hoopwright::starting {
namespace {

constexpr double kBehindDoor_mm = 15;   ///< a foot's plate from the door opening
constexpr double kAheadOfDoor_mm = 30;  ///< the front leg from the door opening, so that a person gets past
constexpr double kFromSill_mm = 12;     ///< a leg from the sill, for the torch
/// Rear braces, seen from the side, against upright. Rule books ask for 30 degrees at least.
constexpr double kLeastBrace_rad = 0.576, kBestBrace_rad = 0.785, kGreatestBrace_rad = 1.13;

}  // namespace

std::string CageBuilder::placeFeet() {
    const Vec3 sill_b = places_.point("sill_b.left"), sill_a = places_.point("sill_a.left");
    const double r = half(isSideHoops() ? "side_hoop" : "main_hoop");
    plate_mm_ = sheet_mm(155, 6 * 25.4);
    plate_out_mm_ = tidy(plate_mm_ / 2 - 1.05 * r - kFromSill_mm);
    double x = sill_b.x() - plate_mm_ / 2 - kBehindDoor_mm;
    for (const Driver& driver : site_.drivers)
        x = std::min(x, driver.helmet.centre.x() - driver.helmet.length_mm / 2 - wish_.helmet_air_mm - r);
    if (wish_.hoop_x_mm) x = *wish_.hoop_x_mm;
    struct Foot {
        const char *id, *name;
        double x;
        Vec3* tube;
    };
    const bool front = starter_.base != CageBase::hoop || has("door_bar");
    for (const Foot& f :
         {Foot{"hoop_foot", "Hoop foot", tidy(x), &rear_foot_},
          Foot{"front_foot", "Front foot", tidy(sill_a.x() + kAheadOfDoor_mm), &front_foot_}}) {
        if (f.tube == &front_foot_ && !front) continue;
        const double y = places_.sillInner(f.x) - plate_mm_ / 2;
        const auto floor = places_.floorAt(f.x, y, sill_b.z() + 20);
        if (!floor) {
            const auto show = [&](double mm) { return showLength(mm, {site_.cage.unit}); };
            return "The car has no floor measured where the " +
                   std::string(f.tube == &rear_foot_ ? "hoop" : "front leg") + " is to stand, at x " +
                   show(f.x) + ", y " + show(y) + ". Add a closed line of floor there.";
        }
        const double z = *floor + sheet_mm(3, 3.175);
        *f.tube = Vec3(f.x, y + plate_out_mm_, z);
        foot(f.id, f.name, {places_.sillRail(f.x), Vec3(f.x, y, *floor), Vec3::UnitZ(), Vec3::UnitX(), ""},
             plate_mm_, plate_mm_);
    }
    double shoulder = 1e300, highest = -1e300;
    for (const Driver& driver : site_.drivers) {
        shoulder = std::min(shoulder, driver.shoulders().z());
        highest = std::max(highest, driver.shoulders().z());
    }
    // A little under the lower shoulders; of very unlike drivers, between.
    constexpr double kUnder_mm = 15, kMost_mm = 95;
    const double top =
        std::max(shoulder - kUnder_mm, 0.5 * (shoulder + std::min(shoulder, highest - kMost_mm)));
    belt_z_ = tidy(std::min(top, shoulder) - half("belt_bar"));
    door_rear_z_ = tidy(belt_z_ - half("belt_bar") - half("door_bar") - 20);
    rear_top_ = rear_foot_.z() + 18;
    front_top_ = front_foot_.z() + 18;
    return "";
}

void CageBuilder::rearFrame() {
    const FitTube bar = tube(isSideHoops() ? "side_hoop" : "main_hoop");
    const Fitted& fitted = fitter_.hoop(bar, rear_foot_, how_);
    hoop_ = {fitted.path[1], fitted.path[2]};
    top_inner_y_ = hoop_.top.y() - setback(hoop_.waist, hoop_.top, mirrored(hoop_.top), bar.bend_radius_mm);
    joint_z_ = tidy(hoop_.top.z() - 0.7 * bar.od_mm);
    rear_ = bent(fitted.path, bar.bend_radius_mm);
    if (isSideHoops()) return frontFrame();
    note("main_hoop", fitted);
    add("main_hoop", "main_hoop",
        {OnPlate{"hoop_foot.left", {0, plate_out_mm_}}, anchored(hoop_.waist), anchored(hoop_.top),
         anchored(mirrored(hoop_.top), true), anchored(mirrored(hoop_.waist), true),
         OnPlate{"hoop_foot.right", {0, -plate_out_mm_}}});
}

void CageBuilder::frontFrame() {
    if (!front_.empty()) return;
    const OnPlate floor{"front_foot", {0, plate_out_mm_}};
    if (starter_.base == CageBase::side_bars) {
        const FitTube bar = tube("side_bar");
        const Fitted& fitted =
            fitter_.side(bar, {pointOn(Leg::rear, joint_z_)}, front_foot_, half("main_hoop"), how_);
        pillar_ = {fitted.path[1], fitted.path[2]};
        front_ = bent(fitted.path, bar.bend_radius_mm);
        note("side_bar", fitted);
        pair("side_bar", "side_bar",
             {land(Leg::rear, On::own, joint_z_), anchored(pillar_.top), anchored(pillar_.knee), floor});
    } else if (starter_.base == CageBase::two_hoops) {
        const FitTube bar = tube("front_hoop");
        const Fitted& fitted = fitter_.frontHoop(bar, front_foot_, how_);
        pillar_ = {fitted.path[2], fitted.path[1]};
        front_ = bent(fitted.path, bar.bend_radius_mm);
        note("front_hoop", fitted);
        add("front_hoop", "front_hoop",
            {OnPlate{"front_foot.left", {0, plate_out_mm_}}, anchored(pillar_.knee), anchored(pillar_.top),
             anchored(mirrored(pillar_.top), true), anchored(mirrored(pillar_.knee), true),
             OnPlate{"front_foot.right", {0, -plate_out_mm_}}});
    } else {
        const FitTube bar = tube("side_hoop");
        const Vec3 down = (hoop_.waist - hoop_.top).normalized();
        const Vec3 corner = hoop_.top + 0.8 * bar.od_mm * down;
        const Fitted& fitted = fitter_.side(bar, {rear_foot_, hoop_.waist, corner}, front_foot_, 0, how_);
        hoop_.top = fitted.path[2];
        pillar_ = {fitted.path[3], fitted.path[4]};
        rear_ = front_ = bent(fitted.path, bar.bend_radius_mm);
        // Where the leg ends below the bend into the roof.
        joint_z_ = tidy(hoop_.top.z() - setback(hoop_.waist, hoop_.top, pillar_.top, bar.bend_radius_mm) - 5);
        note("side_hoop", fitted);
        pair("side_hoop", "side_hoop",
             {OnPlate{"hoop_foot", {0, plate_out_mm_}}, anchored(hoop_.waist), anchored(hoop_.top),
              anchored(pillar_.top), anchored(pillar_.knee), floor});
    }
    const double radius = tube(starter_.base == CageBase::side_bars   ? "side_bar"
                               : starter_.base == CageBase::two_hoops ? "front_hoop"
                                                                      : "side_hoop")
                              .bend_radius_mm;
    const Vec3 leg = (front_foot_ - pillar_.knee).normalized();
    const double knee_z =
        pillar_.knee.z() + setback(pillar_.top, pillar_.knee, front_foot_, radius) * leg.z();
    door_front_z_ = tidy(knee_z - half("door_bar") - 10);
    dash_z_ = tidy(door_front_z_ - half("door_bar") - half("dash_bar") - 15);
}

/// What joins the tops: windshield bar, roof rail bars, a bar behind the seats.
void CageBuilder::crossTheTop() {
    if (starter_.base == CageBase::two_hoops) {
        // Half way round the bend, where hoop and pillar share the corner.
        const double z = tidy(pillar_.top.z() - 1.2 * tube("front_hoop").od_mm);
        windshield_x_ = pillar_.top.x();
        pair("roof_rail_bar", "roof_rail_bar",
             {land(Leg::rear, On::own, joint_z_), land(Leg::front, On::own, z)});
        return;
    }
    const std::string host = isSideHoops() ? "side_hoop" : "side_bar";
    const Vec3 before = isSideHoops() ? hoop_.top : pointOn(Leg::rear, joint_z_);
    // Behind the bend; into it as far as a helmet is too near, at most to its middle.
    const double bend = setback(before, pillar_.top, pillar_.knee, tube(host).bend_radius_mm);
    const double r = half("windshield_bar");
    windshield_x_ = pillar_.top.x() - bend - r - 8;
    const double most_x = pillar_.top.x() - 0.5 * bend;
    for (; windshield_x_ < most_x; windshield_x_ += 5) {
        const std::vector<double> here = front_.crossings({windshield_x_, 0, 0}, Vec3::UnitX());
        if (here.empty()) break;
        const Vec3 left = front_.point(isSideHoops() ? here.back() : here.front());
        const Centreline bar = bent({left, mirrored(left)}, 0);
        const bool clear = std::ranges::all_of(site_.drivers, [&](const Driver& driver) {
            return nearest(bar, driver.helmet.ellipsoid()).distance_mm - r >= wish_.helmet_air_mm;
        });
        if (clear) break;
    }
    windshield_x_ = tidy(windshield_x_);
    add("windshield_bar", "windshield_bar",
        {at(host + ".left", Landing::By::station_x, windshield_x_),
         at(host + ".right", Landing::By::station_x, windshield_x_)});
    if (!isSideHoops()) return;
    // Half way round the bend from leg to roof.
    const Centreline leg = bent({rear_foot_, hoop_.waist, hoop_.top, pillar_.top}, tube(host).bend_radius_mm);
    const double station = tidy(leg.nearestStation(hoop_.top));
    add("cross_bar", "cross_bar",
        {at(host + ".left", Landing::By::distance, station),
         at(host + ".right", Landing::By::distance, station)});
    top_inner_y_ = leg.point(station).y() - half(host) - half("roof_diagonal") - 12;
}

void CageBuilder::rearBraces() {
    const Vec3 top = pointOn(Leg::rear, joint_z_);
    std::vector<double> places;
    for (double x = top.x() - 300; x > top.x() - 1500; x -= 50) places.push_back(x);
    const RailTop* best = nullptr;
    double best_off = 1e300;
    const std::vector<RailTop> tops = places_.railTops(places);
    for (const RailTop& one : tops) {
        const double lean = std::atan2(top.x() - one.at.x(), top.z() - one.at.z());
        if (lean < kLeastBrace_rad || lean > kGreatestBrace_rad) continue;
        // A measured point is worth ten degrees.
        const double off = std::abs(lean - kBestBrace_rad) + (one.point.empty() ? 0.175 : 0);
        if (off < best_off) {
            best_off = off;
            best = &one;
        }
    }
    if (!best) {
        made_.notes.push_back(
            "No rail was measured behind the hoop where a rear brace could stand at 33 to 65 degrees off "
            "upright; the rear braces are left out. Measure the rails of the boot or bed.");
        return;
    }
    foot("brace_foot", "Rear brace foot", *best, sheet_mm(120, 5 * 25.4), sheet_mm(90, 3 * 25.4));
    pair("rear_brace", "rear_brace", {land(Leg::rear, On::own, joint_z_), OnPlate{"brace_foot", {0, 0}}});
}

}  // namespace hoopwright::starting
