#include "core/model/figure.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/model/two_link.h"
#include "core/units/measure.h"

namespace hoopwright {
namespace {

using std::numbers::pi;
constexpr double kMostUpright_rad = -5 * pi / 180, kMostReclined_rad = 85 * pi / 180;
constexpr double kNeckBends_rad = 25 * pi / 180;
// Shares of stature: Drillis and Contini, Body segment parameters, 1966 (from memory).
constexpr double kUpperArm = 0.186, kForearm = 0.146, kThigh = 0.245, kShank = 0.246, kAnkleHeight = 0.039;
// Hands half way down the hand's length; strap points, knees and heels apart as people sit: common practice,
// no source.
constexpr double kGrip = 0.037, kStrapPointOut_mm = 135, kKneeOut_mm = 125, kHeelOut_mm = 75;
constexpr double kEyeAhead_mm = 75, kEyeUp_mm = 10;

/// Builds the figure from the hip upwards and outwards.
class FigureSeat {
public:
    FigureSeat(const Figure& figure, const FigurePlace& place)
        : f_(figure),
          hip_(place.hip),
          lean_(place.back_angle_rad),
          up_(-std::sin(lean_), 0, std::cos(lean_)),
          ahead_(std::cos(lean_), 0, std::sin(lean_)) {
        d_.id = figure.id;
        d_.name = figure.name;
        d_.occupant = place.occupant;
        d_.figure = figure.id;
        d_.hip = hip_;
        d_.back_angle_rad = lean_;
        d_.shoulder_width_mm = figure.shoulder_width_mm;
        d_.note = "Started from: " + figure.source + "; the rest: " + figure.rest_source +
                  ". Correct every point with the tape, helmet on and belted, then take the figure line out.";
    }

    Driver sit(const std::optional<SteeringWheel>& wheel) {
        trunk();
        d_.steering_wheel = wheel ? *wheel : wheelInReach();
        arms();
        legs();
        seat();
        return std::move(d_);
    }

private:
    static Vec3 out(const Vec3& middle, double side_mm) { return middle + side_mm * Vec3::UnitY(); }

    void trunk() {
        circle_ = hip_ + f_.hip_to_shoulder_mm * up_;
        const Vec3 top = circle_ + f_.shoulder_circle_mm / 2 * up_;
        d_.shoulder_left = out(top, kStrapPointOut_mm);
        d_.shoulder_right = out(top, -kStrapPointOut_mm);
        const double head = lean_ - std::clamp(lean_, -kNeckBends_rad, kNeckBends_rad);
        const Vec3 neck(-std::sin(head), 0, std::cos(head)), face(std::cos(head), 0, std::sin(head));
        d_.helmet = {circle_ + f_.shoulder_to_head_mm * neck, f_.head_circle_mm, f_.head_circle_mm,
                     f_.head_circle_mm};
        d_.eye = d_.helmet.centre + kEyeAhead_mm * face + kEyeUp_mm * neck;
    }

    /// Elbows well bent when upright, arms longer and the wheel higher when lying down.
    SteeringWheel wheelInReach() const {
        const double lying = std::clamp(lean_ / (pi / 2), 0.0, 1.0);
        SteeringWheel wheel;
        wheel.diameter_mm = 340 - 90 * lying;
        wheel.tilt_rad = (22 - 12 * lying) * pi / 180;
        wheel.centre = d_.shoulders() + Vec3(480 + 60 * lying, 0, -60 + 180 * lying);
        return wheel;
    }

    void arms() {
        const SteeringWheel& wheel = *d_.steering_wheel;
        const double grip = wheel.diameter_mm / 2 - 14;  // middle of the rim
        for (const double side : {1.0, -1.0}) {
            const Vec3 hand = out(wheel.centre, side * grip);
            const Vec3 joint =
                out(circle_ + 0.4 * f_.shoulder_circle_mm * up_, side * 0.37 * f_.shoulder_width_mm);
            const Vec3 elbow = middleJoint(joint, hand, kUpperArm * f_.stature_mm,
                                           (kForearm + kGrip) * f_.stature_mm, Vec3(0, 0.55 * side, -1))
                                   .at;
            (side > 0 ? d_.hand_left : d_.hand_right) = hand;
            (side > 0 ? d_.elbow_left : d_.elbow_right) = out(elbow, side * kElbowRadius_mm);
        }
    }

    void legs() {
        // The sole stands at the pedal face with the heel level with the bottom of the seat.
        const double drop = f_.hip_circle_mm / 2;
        const double forward = std::sqrt(f_.hip_to_pedal_mm * f_.hip_to_pedal_mm - drop * drop);
        for (const double side : {1.0, -1.0}) {
            const Vec3 heel = out(hip_ + Vec3(forward, 0, -drop), side * kHeelOut_mm);
            const Vec3 root = out(hip_, side * 0.2 * f_.hip_width_mm);
            const Vec3 knee = middleJoint(root, heel, kThigh * f_.stature_mm,
                                          (kShank + kAnkleHeight) * f_.stature_mm, Vec3::UnitZ())
                                  .at;
            (side > 0 ? d_.heel_left : d_.heel_right) = heel;
            const Vec3 middle(knee.x(), hip_.y() + side * kKneeOut_mm, knee.z());
            (side > 0 ? d_.knee_left : d_.knee_right) =
                middle + kKneeRadius_mm * sticksOut(root, middle, heel);
        }
    }

    void seat() {
        const double back = f_.hip_to_shoulder_mm + f_.shoulder_circle_mm / 2 + 40;
        const Vec3 slot =
            circle_ + f_.shoulder_circle_mm / 2 * up_ - (f_.shoulder_circle_mm / 2 + 20) * ahead_;
        d_.seat = Seat{back, std::max(f_.hip_width_mm, 400.0), out(slot, 90), out(slot, -90)};
    }

    const Figure& f_;
    const Vec3 hip_;
    const double lean_;
    const Vec3 up_, ahead_;
    Vec3 circle_ = Vec3::Zero();  ///< centre of the shoulder circle
    Driver d_;
};

}  // namespace

std::span<const Figure> figures() {
    static const std::array<Figure, 1> kFigures = {{
        {"student_formula_95", "Student formula template, 95th percentile man",
         "Formula SAE Rules 2024 v1.0, F.5.6.4 and F.5.6.5", 200, 200, 300, 490, 280, 915, 1869, 535, 412,
         "stature, shoulder and hip widths ANSUR 1988, 95th percentile man, limbs as shares of stature after "
         "Drillis and Contini 1966 (both from memory); where hands, elbows and knees go is common practice, "
         "no "
         "source"},
    }};
    return kFigures;
}

const Figure* figureNamed(std::string_view id) {
    for (const Figure& one : figures())
        if (one.id == id) return &one;
    return nullptr;
}

Expected<Driver> driverFromFigure(const Figure& figure, const FigurePlace& place) {
    if (!(place.back_angle_rad >= kMostUpright_rad && place.back_angle_rad <= kMostReclined_rad)) {
        return Reason{"a back at " + showAngle(place.back_angle_rad) +
                      " cannot sit: it leans from -5 degrees (forward) to 85 degrees back from vertical"};
    }
    return FigureSeat(figure, place).sit(place.steering_wheel);
}

}  // namespace hoopwright
