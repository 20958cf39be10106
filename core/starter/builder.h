// Puts a starter together bar by bar. Not for use outside core/starter.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/starter/car_places.h"
#include "core/starter/fitted.h"
#include "core/starter/starter.h"

namespace hoopwright::starting {

/// One use each. Works out the left side and mirrors it; what is not alike on both sides goes by the
/// driver's.
class CageBuilder {
public:
    /// All but `options` must outlive it. @pre places.missing() is empty, the site has a driver and a usual
    /// tube
    CageBuilder(const Job& site, const StarterWish& wish, const Starter& starter, const CarPlaces& places,
                BarFitter& fitter, std::vector<std::string> options, bool roughly);
    Expected<StarterCage> build();

private:
    /// A place by height on a leg of the rear or front hoop.
    enum class Leg { rear, front };
    /// `own`: of a bar that is mirrored, its own side.
    enum class On { own, driver, other };

    // frame.cpp
    std::string placeFeet();  ///< a reason, or empty
    void rearFrame();
    void frontFrame();
    void rearBraces();
    void crossTheTop();
    // across.cpp
    void hoopDiagonals();
    void beltBar();
    void roof();
    void dashBar();
    void rearDiagonals();
    // low.cpp
    void sillBars();
    void doors();
    void doorToTheFloor();
    void seatBars();
    void frameTies();
    void frontReturns();
    void gussets();

    // builder.cpp
    bool has(std::string_view option) const;
    FitTube tube(const std::string& role) const;
    double half(const std::string& role) const { return tube(role).od_mm / 2; }
    std::string stockOf(const std::string& role) const;
    double tidy(double mm) const { return tidied(mm, site_.cage.unit); }
    Vec3 tidy(const Vec3& p) const { return {tidy(p.x()), tidy(p.y()), tidy(p.z())}; }
    double sheet_mm(double mm, double inch_mm) const { return inches_ ? inch_mm : mm; }
    AtCarPoint anchored(const Vec3& at, bool right = false) const;
    Side side(On on) const;
    std::string sided(const std::string& id, On on) const;
    Landing land(Leg leg, On on, double z) const;
    Landing at(const std::string& host, Landing::By by, double value) const;
    Landing across(const std::string& host, double y) const { return at(host, Landing::By::across_y, y); }
    Vec3 pointOn(Leg leg, double z) const;  ///< on the left
    Member& add(const std::string& id, const std::string& role, std::vector<Place3> path);
    void pair(const std::string& id, const std::string& role, std::vector<Place3> path);
    void halves(const std::string& id, const std::string& role, const std::string& through, double y,
                const Place3& first, const Place3& last);
    void foot(const std::string& id, const std::string& name, const RailTop& where, double length,
              double width);
    double stack(double& top, double half_mm);
    void note(const std::string& id, const Fitted& fitted);
    bool isSideHoops() const { return starter_.base == CageBase::side_hoops; }

    const Job& site_;
    const StarterWish& wish_;
    const Starter& starter_;
    const CarPlaces& places_;
    BarFitter& fitter_;
    const HowFitted how_;
    StarterCage made_;
    bool inches_ = false;
    double drivers_side_ = 1;  ///< 1 left, -1 right
    std::string plate_material_, belt_id_ = "belt_bar";

    Vec3 rear_foot_ = Vec3::Zero(), front_foot_ = Vec3::Zero();  ///< of the tubes, left
    double plate_mm_ = 0, plate_out_mm_ = 0;  ///< side of a foot's plate; tube from its middle, outward
    struct {
        Vec3 waist = Vec3::Zero(), top = Vec3::Zero();
    } hoop_;  ///< left corners of the main hoop, or of the rear leg of a side hoop
    struct {
        Vec3 top = Vec3::Zero(), knee = Vec3::Zero();
    } pillar_;                 ///< left corners under the roof's front corner, and at the dash
    double joint_z_ = 0;       ///< where side bar and brace meet the hoop
    Centreline rear_, front_;  ///< left to right, or foot to foot of one side
    double windshield_x_ = 0, top_inner_y_ = 0;
    double rear_top_ = 0, front_top_ = 0;  ///< free above this on the legs' feet
    double belt_z_ = 0, door_rear_z_ = 0, door_front_z_ = 0, dash_z_ = 0, sill_z_ = 0;
    double door_angle_rad_ = 1.57;  ///< between crossing door bars
};

}  // namespace hoopwright::starting
