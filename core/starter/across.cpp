// Bars that cross the hoop, the roof, the dash and the rear.
#include <algorithm>
#include <cmath>

#include "core/starter/builder.h"

namespace hoopwright::starting {

void CageBuilder::hoopDiagonals() {
    if (!has("hoop_diagonal") && !has("hoop_cross")) return;
    const double r = half("hoop_diagonal"), hoop = half(isSideHoops() ? "side_hoop" : "main_hoop");
    // Clear of what lands at the corner, and of the foot's weld.
    const double high = tidy(joint_z_ - hoop - r - 20), low = stack(rear_top_, r);
    add("hoop_diagonal", "hoop_diagonal",
        {land(Leg::rear, On::driver, high), land(Leg::rear, On::other, low)});
    if (has("hoop_cross"))
        halves("hoop_diagonal_across", "hoop_diagonal", "hoop_diagonal", 0, land(Leg::rear, On::other, high),
               land(Leg::rear, On::driver, low));
}

void CageBuilder::beltBar() {
    if (!has("belt_bar")) return;
    const Place3 near = land(Leg::rear, On::driver, belt_z_), far = land(Leg::rear, On::other, belt_z_);
    std::vector<std::string> cut_to;
    if (has("hoop_diagonal")) cut_to = {"hoop_diagonal"};
    if (has("hoop_cross")) {
        const double crossing = 0.5 * (joint_z_ + rear_foot_.z());
        cut_to = {"hoop_diagonal", "hoop_diagonal_across_first"};
        if (belt_z_ < crossing) cut_to = {"hoop_diagonal_across_second", "hoop_diagonal"};
    }
    std::vector<Place3> stops{near};
    for (const std::string& host : cut_to) stops.push_back(at(host, Landing::By::height, belt_z_));
    stops.push_back(far);
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        const bool last = i + 2 == stops.size();
        const std::string tail = i == 0 ? "" : last ? "_far" : "_middle";
        Member& bar = add(belt_id_ + tail, "belt_bar", {stops[i], stops[i + 1]});
        if (i > 0) bar.name = last ? "Belt bar, far piece" : "Belt bar, middle piece";
    }
}

void CageBuilder::roof() {
    if (starter_.base == CageBase::hoop) return;
    const bool two_hoops = starter_.base == CageBase::two_hoops;
    const std::string front = two_hoops ? "front_hoop" : "windshield_bar";
    const std::string rear = isSideHoops() ? "cross_bar" : "main_hoop";
    const double r = half("roof_diagonal"), mine = drivers_side_;
    const double rear_y = tidy(top_inner_y_ - 5);
    // Beside the windshield bar's own end, or where the front hoop's bend begins.
    double front_y = 0;
    if (two_hoops) {
        const double radius = tube("front_hoop").bend_radius_mm;
        front_y = pillar_.top.y() - setback(pillar_.knee, pillar_.top, mirrored(pillar_.top), radius) - 5;
    } else {
        const std::vector<double> here = front_.crossings({windshield_x_, 0, 0}, Vec3::UnitX());
        const double y = here.empty() ? pillar_.top.y() : front_.point(here.front()).y();
        front_y = y - half(isSideHoops() ? "side_hoop" : "side_bar") - r - 8;
    }
    front_y = tidy(front_y);
    if (has("roof_diagonal") || has("roof_cross"))
        add("roof_diagonal", "roof_diagonal", {across(front, -mine * front_y), across(rear, mine * rear_y)});
    if (has("roof_cross"))
        halves("roof_diagonal_across", "roof_diagonal", "roof_diagonal", 0, across(front, mine * front_y),
               across(rear, -mine * rear_y));
    if (has("roof_vee"))
        pair("roof_diagonal", "roof_diagonal", {across(rear, rear_y), across(front, tidy(2 * r + 20))});
    if (has("roof_bars")) {
        // Inboard of the heads, or outboard where they are in the middle.
        const double rb = half("roof_bar");
        double y = 1e300;
        for (const Driver& driver : site_.drivers) {
            const Helmet& helmet = driver.helmet;
            y = std::min(y, std::abs(helmet.centre.y()) - helmet.width_mm / 2 - wish_.helmet_air_mm - rb);
        }
        y = y < 2 * rb ? std::min(rear_y, front_y) : std::min({y, rear_y, front_y});
        pair("roof_bar", "roof_bar", {across(rear, tidy(y)), across(front, tidy(y))});
    }
}

void CageBuilder::dashBar() {
    if (!has("dash_bar")) return;
    const bool left = drivers_side_ > 0;
    add("dash_bar", "dash_bar",
        {land(Leg::front, left ? On::driver : On::other, dash_z_),
         land(Leg::front, left ? On::other : On::driver, dash_z_)});
}

void CageBuilder::rearDiagonals() {
    if (!has("rear_diagonal") && !has("rear_cross")) return;
    const bool braced =
        std::ranges::any_of(made_.cage.members, [](const Member& m) { return m.id == "rear_brace"; });
    if (!braced) return;
    const auto along = [&](On on, double from, bool last) {
        Landing landing = at(sided("rear_brace", on), Landing::By::distance, tidy(from));
        landing.from_last_end = last;
        return landing;
    };
    const double top = half(isSideHoops() ? "side_hoop" : "main_hoop") + 2 * half("rear_diagonal") + 55,
                 low = 2.5 * 2 * half("rear_brace");
    add("rear_diagonal", "rear_diagonal", {along(On::driver, top, false), along(On::other, low, true)});
    if (has("rear_cross"))
        halves("rear_diagonal_across", "rear_diagonal", "rear_diagonal", 0, along(On::other, top, false),
               along(On::driver, low, true));
}

}  // namespace hoopwright::starting
