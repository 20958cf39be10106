// What is measured on a car, in the order a person walks round it: the measuring sheet prints this list, the
// window asks for it, `hoopwright car` says what of it is missing. Which points those are is common practice,
// no source.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/car.h"

namespace hoopwright {

/// One figure to be read and written down. Lengths, mm.
struct MeasuringFigure {
    enum class Key {
        height,       ///< over the sill's top
        out,          ///< from the centreline
        ahead,        ///< of the plane `from`; behind it negative
        tape,         ///< from the point `from`
        over_ground,  ///< of the sill's top
        width,
        section_height,
        wall  ///< of a rail
    };
    Key key = Key::height;
    std::string from;   ///< tape: a point; ahead: a plane
    std::string label;  ///< for a person: "out from centreline", "from 3"
};

/// One numbered place on the car.
struct MeasuringItem {
    enum class Kind { point, ground, plane, rail };
    int number = 0;  ///< from 1, over the whole walk
    Kind kind = Kind::point;
    std::string name;        ///< of the point, plane or rail: "b_pillar_top.left"
    std::string title;       ///< "Top of B-pillar, left"
    std::string hook;        ///< what the tape is hooked on or the square held against
    std::string instrument;  ///< "tape, plumb line"
    std::string caution;     ///< may be empty
    std::vector<MeasuringFigure> figures;
    double tolerance_mm = 3;    ///< what such a reading is usually good to
    Vec3 drawn = Vec3::Zero();  ///< where it is on the drawing of such a car, not on this car
};

/// What is measured from one place to stand, with the drawing that shows it.
struct MeasuringStage {
    enum class View { left, plan, right, section, under };
    std::string title;  ///< "Left side"
    std::string about;  ///< what to do first
    View view = View::left;
    std::vector<MeasuringItem> items;
};

std::vector<MeasuringStage> measuringWalk(Car::Body body, Car::Frame frame);

/// The figure as it was read for this car, or, of a point given otherwise, as its place has it; nothing where
/// the car does not say.
std::optional<double> figureNow(const Car& car, const MeasuringItem& item, const MeasuringFigure& figure);

/// Does the car have what the item asks for?
bool isMeasured(const Car& car, const MeasuringItem& item);

/// Writes the figures of one item into the car, as many as item.figures; nothing for one not read. A point
/// needs all of its offsets, or three of its tapes. The car is settled after; a reason says what is lacking
/// or does not fit, and then the car is as it was.
Expected<Car> withFigures(Car car, const MeasuringItem& item,
                          const std::vector<std::optional<double>>& figures, const LengthStyle& style = {});

}  // namespace hoopwright
