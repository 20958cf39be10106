// Figures of published sizes to start a driver from, before the tape has been on the real one.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "core/base/expected.h"
#include "core/model/driver.h"

namespace hoopwright {

/// A seated person in side view as a rule book draws one: three circles on two lines. Lengths [mm].
struct Figure {
    std::string id;      ///< "student_formula_95": what files say
    std::string name;    ///< "Student formula template, 95th percentile man"
    std::string source;  ///< document, edition and clause of the circles and lines
    double hip_circle_mm = 0, shoulder_circle_mm = 0,
           head_circle_mm = 0;      ///< diameters; the head with helmet
    double hip_to_shoulder_mm = 0;  ///< between the circles' centres
    double shoulder_to_head_mm = 0;
    double hip_to_pedal_mm = 0;  ///< least, from the hip circle's centre
    /// What the circles do not say; see figures() for where it is from.
    double stature_mm = 0, shoulder_width_mm = 0, hip_width_mm = 0;
    std::string rest_source;
};
std::span<const Figure> figures();
const Figure* figureNamed(std::string_view id);

/// Where the figure sits.
struct FigurePlace {
    Vec3 hip = Vec3::Zero();    ///< hip point, middle
    double back_angle_rad = 0;  ///< upright 0 to fully reclined 85 degrees
    Driver::Occupant occupant = Driver::Occupant::driver;
    std::optional<SteeringWheel> steering_wheel;  ///< nothing: one within easy reach is put there
};
/// A whole driver, with seat and wheel. Shoulder, head and pedal distances are the figure's own circles and
/// lines; the rest is a start to be corrected with the tape, and Driver::figure and the note say so.
/// The neck bends forward by up to 25 degrees, so that the eyes look ahead; beyond that the head leans with
/// the back (common practice, no source). The reason, where a value cannot be: "a back at 95 degrees ...".
Expected<Driver> driverFromFigure(const Figure& figure, const FigurePlace& place);

}  // namespace hoopwright
