// Doors, sills, seat, and what goes on to the frame.
#include <algorithm>
#include <cmath>
#include <tuple>

#include "core/starter/builder.h"

namespace hoopwright::starting {

void CageBuilder::sillBars() {
    if (!has("sill_bars")) return;
    rear_top_ = front_top_ = std::max(rear_top_, front_top_);
    sill_z_ = stack(rear_top_, half("sill_bar"));
    front_top_ = rear_top_;
    pair("sill_bar", "sill_bar", {land(Leg::rear, On::own, sill_z_), land(Leg::front, On::own, sill_z_)});
}

void CageBuilder::doorToTheFloor() {
    pair("door_bar", "door_bar",
         {land(Leg::rear, On::own, door_rear_z_), OnPlate{"front_foot", {0, plate_out_mm_}}});
}

void CageBuilder::doors() {
    if (starter_.base == CageBase::hoop) {
        if (has("door_bar")) doorToTheFloor();
        return;
    }
    const double r = half("door_bar");
    double rear_top = rear_top_, front_top = front_top_;
    const double rear_low = stack(rear_top, r), front_low = stack(front_top, r);
    if (has("door_bar"))
        pair("door_bar", "door_bar",
             {land(Leg::rear, On::own, door_rear_z_), land(Leg::front, On::own, front_low)});
    if (has("door_pair")) {
        const double low = tidy(rear_low + 0.3 * (door_rear_z_ - rear_low));
        pair("door_bar_upper", "door_bar",
             {land(Leg::rear, On::own, door_rear_z_), land(Leg::front, On::own, door_front_z_)});
        made_.cage.members.back().name = "Upper door bar";
        pair("door_bar_lower", "door_bar",
             {land(Leg::rear, On::own, low), land(Leg::front, On::own, front_low)});
        made_.cage.members.back().name = "Lower door bar";
        const double x = tidy(0.5 * (rear_foot_.x() + pointOn(Leg::front, door_front_z_).x()));
        pair("door_post", "gusset_tube",
             {at("door_bar_upper", Landing::By::station_x, x),
              at("door_bar_lower", Landing::By::station_x, x)});
        made_.cage.members.back().name = "Door post";
    }
    if (!has("door_cross")) return;
    pair("door_bar", "door_bar",
         {land(Leg::rear, On::own, door_rear_z_), land(Leg::front, On::own, front_low)});
    // Where the two cross, seen from the side.
    const Vec3 a = pointOn(Leg::rear, door_rear_z_), b = pointOn(Leg::front, front_low);
    const Vec3 c = pointOn(Leg::rear, rear_low), d = pointOn(Leg::front, door_front_z_);
    const double slope_one = (b.z() - a.z()) / (b.x() - a.x()), slope_two = (d.z() - c.z()) / (d.x() - c.x());
    door_angle_rad_ = std::abs(std::atan(slope_one) - std::atan(slope_two));
    const double x = tidy((c.z() - a.z() + slope_one * a.x() - slope_two * c.x()) / (slope_one - slope_two));
    pair("door_bar_rear", "door_bar",
         {land(Leg::rear, On::own, rear_low), at("door_bar", Landing::By::station_x, x)});
    made_.cage.members.back().name = "Door bar, rear half";
    pair("door_bar_front", "door_bar",
         {land(Leg::front, On::own, door_front_z_), at("door_bar", Landing::By::station_x, x)});
    made_.cage.members.back().name = "Door bar, front half";
}

void CageBuilder::seatBars() {
    if (!has("seat_bars")) return;
    if (!has("sill_bars")) {
        made_.notes.push_back("Seat bars start on the sill bars; without those they are left out.");
        return;
    }
    double hip = 0, count = 0;
    for (const Driver& driver : site_.drivers) {
        hip += driver.hip.x();
        count += 1;
    }
    hip /= count;
    constexpr double kAhead_mm = 190, kBehind_mm = 170;  // of the hips: where seat rails are bolted
    for (const auto& [id, name, x] : {std::tuple{"front", "front", tidy(hip + kAhead_mm)},
                                      std::tuple{"rear", "rear", tidy(hip - kBehind_mm)}}) {
        const auto tunnel = places_.tunnelAt(x);
        const std::string bar = std::string("seat_bar_") + id, called = std::string("Seat bar, ") + name;
        const Landing sill = at(sided("sill_bar", On::driver), Landing::By::station_x, x);
        if (!tunnel) {
            add(bar, "seat_bar", {sill, at(sided("sill_bar", On::other), Landing::By::station_x, x)}).name =
                called;
            continue;
        }
        const std::string plate = std::string("seat_foot_") + id;
        foot(plate, std::string("Seat bar foot, ") + name,
             {"", tunnel->at, tunnel->normal, Vec3::UnitX(), ""}, sheet_mm(100, 4 * 25.4),
             sheet_mm(80, 3 * 25.4));
        Plate& made = made_.cage.plates.back();
        made.mirrored = false;
        const Vec3 middle = tunnel->at + made.thickness_mm * tunnel->normal;
        if (drivers_side_ < 0) {
            made.normal = mirrored(made.normal);
            made.at = anchored(mirrored(middle), true);
        }
        add(bar, "seat_bar", {sill, OnPlate{plate, {0, 0}}}).name = called;
    }
}

void CageBuilder::frameTies() {
    if (!has("frame_ties")) return;
    constexpr double kBack_mm = 210;  // clear of the foot's own plate
    const auto tie = [&](const char* id, const char* name, Leg leg, double& top, const Vec3& foot_at) {
        const RailTop* best = nullptr;
        const std::vector<RailTop> tops = places_.railTops({foot_at.x() - kBack_mm});
        for (const RailTop& one : tops)
            if (std::abs(one.at.x() - (foot_at.x() - kBack_mm)) < 1 && one.at.z() < foot_at.z()) best = &one;
        if (!best) return false;
        const double z = stack(top, half("frame_return"));
        foot(std::string(id) + "_foot", std::string(name) + " foot", *best, sheet_mm(150, 6 * 25.4),
             sheet_mm(90, 3.5 * 25.4));
        pair(id, "frame_return", {land(leg, On::own, z), OnPlate{std::string(id) + "_foot", {0, 0}}});
        made_.cage.members.back().name = name;
        return true;
    };
    bool tied = tie("hoop_tie", "Hoop tie", Leg::rear, rear_top_, rear_foot_);
    if (starter_.base != CageBase::hoop)
        tied = tie("front_tie", "Front leg tie", Leg::front, front_top_, front_foot_) || tied;
    if (!tied)
        made_.notes.push_back(
            "No rail was measured under the floor beside the legs, so there is nothing to tie their feet "
            "to.");
}

void CageBuilder::frontReturns() {
    if (!has("front_returns") || starter_.base == CageBase::hoop) return;
    const double z = tidy(dash_z_ - half("dash_bar") - half("frame_return") - 15);
    const Vec3 from = pointOn(Leg::front, z);
    constexpr double kLeastFacing = 0.55;  // cosine of bar and plate: flatter, and the cut is drawn out
    constexpr double kNear_mm = 120, kFar_mm = 750;
    std::vector<double> ahead;
    for (double x = from.x() + kNear_mm; x < from.x() + kFar_mm; x += 50) ahead.push_back(x);
    const std::vector<RailTop> tops = places_.railTops(ahead);
    const RailTop* best = nullptr;
    double best_worth = kLeastFacing;
    for (const RailTop& one : tops) {
        const Vec3 way = one.at - from;
        if (way.x() < kNear_mm || way.x() > kFar_mm || way.z() > 0) continue;
        const double facing = -way.normalized().dot(one.normal);
        if (facing < kLeastFacing) continue;
        const double worth = facing + (one.point.empty() ? 0 : 0.3);
        if (worth > best_worth) {
            best_worth = worth;
            best = &one;
        }
    }
    if (!best) {
        made_.notes.push_back(
            "No rail was measured ahead of the front legs that faces a return from them; they are left out.");
        return;
    }
    foot("return_foot", "Front return foot", *best, sheet_mm(110, 5 * 25.4), sheet_mm(80, 3 * 25.4));
    pair("front_return", "frame_return", {land(Leg::front, On::own, z), OnPlate{"return_foot", {0, 0}}});
    made_.cage.members.back().name = "Front return";
}

void CageBuilder::gussets() {
    if (!has("gussets")) return;
    const double usual_leg = sheet_mm(100, 4 * 25.4);
    const auto put = [&](const char* id, const std::string& a, const std::string& b, double leg_mm) {
        Gusset gusset;
        gusset.id = id;
        gusset.mirrored = true;
        gusset.member_a = a;
        gusset.member_b = b;
        gusset.leg_mm = leg_mm;
        gusset.thickness_mm = sheet_mm(1.5, 0.0625 * 25.4);
        made_.cage.gussets.push_back(std::move(gusset));
    };
    if (starter_.base == CageBase::side_bars) put("roof_corner", "windshield_bar", "side_bar", usual_leg);
    if (starter_.base == CageBase::two_hoops) put("roof_corner", "roof_rail_bar", "front_hoop", usual_leg);
    if (isSideHoops()) put("roof_corner", "windshield_bar", "side_hoop", usual_leg);
    if (has("door_cross")) {
        // The flatter the bars cross, the longer it must be to reach past them.
        constexpr double kPast = 1.6;
        const double past = kPast * 2 * half("door_bar") / std::sin(door_angle_rad_);
        put("door_cross", "door_bar_rear", "door_bar", std::max(usual_leg, tidy(past)));
    }
    if (has("door_pair"))
        put("door_corner", "door_bar_upper", isSideHoops() ? "side_hoop" : "main_hoop", usual_leg);
}

}  // namespace hoopwright::starting
