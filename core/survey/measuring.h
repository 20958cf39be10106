// What is measured on a car, in the order a person walks round it: the measuring sheet prints this list, the
// window asks for it, `hoopwright car` says what of it is missing. Which points those are is common practice,
// no source.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/car.h"

namespace hoopwright {

inline constexpr std::string_view kFromGround = "ground";

/// One figure to be read and written down. Lengths, mm.
struct MeasuringFigure {
    enum class Key {
        height,       ///< over the sill's top, or over the ground if `from` says kFromGround
        out,          ///< from the centreline
        ahead,        ///< of the plane `from`; behind it negative
        tape,         ///< from the point `from`
        over_ground,  ///< of the sill's top
        width,
        section_height,
        wall,  ///< of a rail
        x,
        y,
        z  ///< of a point by coordinates; never on the sheet
    };
    Key key = Key::height;
    std::string from;   ///< tape: a point; ahead: a plane
    std::string label;  ///< for a person: "out from centreline", "from 3"
    friend bool operator==(const MeasuringFigure&, const MeasuringFigure&) = default;
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

/// The ways a point is given, as CarPoint::taken has them.
enum class PointWay { coordinates, offsets, tapes };
PointWay wayOf(const CarPoint& point);

/// The item with the figures this car's point is given by: the sheet's own, and where the builder went
/// another way, those. What the car does not have is as on the sheet.
MeasuringItem asGiven(const Car& car, const std::vector<MeasuringStage>& walk, const MeasuringItem& item);
/// The item with the figures to be read for its point to be given that way; tapes from the sheet's datums,
/// else from the sills, else from the first points the car has.
MeasuringItem asAsked(const Car& car, const std::vector<MeasuringStage>& walk, const MeasuringItem& item,
                      PointWay way);
/// The item of the walk that asks for that point; null if none does.
const MeasuringItem* itemOf(const std::vector<MeasuringStage>& walk, std::string_view point);

/// The figure as it was read for this car, or, of a point given otherwise, as its place has it; nothing where
/// the car does not say.
std::optional<double> figureNow(const Car& car, const MeasuringItem& item, const MeasuringFigure& figure);

/// The figure as it was read; nothing where it was not, even if the point's place would have it.
std::optional<double> figureRead(const Car& car, const MeasuringItem& item, const MeasuringFigure& figure);

/// Does the car have what the item asks for?
bool isMeasured(const Car& car, const MeasuringItem& item);

/// Writes the figures of one item into the car, as many as item.figures; nothing for one not read. A point
/// needs all of its offsets or coordinates, or three of its tapes; what its owner said of it stays. The car
/// is settled after; a reason says what is lacking or does not fit, and then the car is as it was.
Expected<Car> withFigures(Car car, const MeasuringItem& item,
                          const std::vector<std::optional<double>>& figures, const LengthStyle& style = {});

}  // namespace hoopwright
