#include "core/files/file_text.h"
#include "core/model/figure.h"

namespace hoopwright {
namespace {

const Words<Driver::Occupant> kOccupants = {{"driver", Driver::Occupant::driver},
                                            {"passenger", Driver::Occupant::passenger}};

/// The two sides of a limb, as they stand in the file.
struct Sides {
    Vec3 left = Vec3::Zero(), right = Vec3::Zero();
};

/// A pair whose left lies to the right was taped or typed crossed.
void checkSides(const YamlValue& pair, const Vec3& left, const Vec3& right) {
    if (pair.isMap() && left.y() < right.y())
        pair.problem("left and right are crossed",
                     "y counts to the driver's left, so left has the greater y");
}

void checkDriver(YamlMap& top, const Driver& driver) {
    for (const PointPair& pair : pointPairs())
        checkSides(top.find(pair.name), driver.*pair.left, driver.*pair.right);
    if (driver.seat)
        checkSides(top.find("seat").peek("belt_slots"), driver.seat->slot_left, driver.seat->slot_right);
    if (const auto& anchors = driver.belts.shoulder_anchors)
        checkSides(top.find("belts").peek("shoulder_anchors"), anchors->left, anchors->right);
    const YamlValue figure = top.find("figure");
    if (!figure.isScalar()) return;
    std::vector<std::string> known;
    for (const Figure& one : figures()) known.push_back(one.id);
    figure.wordIndex(known);
}

}  // namespace

template <class Io>
void fields(Io& io, Sides& sides) {
    io.point("left", sides.left);
    io.point("right", sides.right);
}

template <class Io>
void fields(Io& io, Helmet& helmet) {
    io.point("centre", helmet.centre);
    io.measure("length", helmet.length_mm, Dimension::length, Range::positive);
    io.measure("width", helmet.width_mm, Dimension::length, Range::positive);
    io.measure("height", helmet.height_mm, Dimension::length, Range::positive);
}

template <class Io>
void fields(Io& io, Seat& seat) {
    io.measure("back_height", seat.back_height_mm, Dimension::length, Range::positive);
    io.measure("width", seat.width_mm, Dimension::length, Range::positive);
    Sides slots{seat.slot_left, seat.slot_right};
    io.part("belt_slots", slots);
    seat.slot_left = slots.left;
    seat.slot_right = slots.right;
}

template <class Io>
void fields(Io& io, SteeringWheel& wheel) {
    io.point("centre", wheel.centre);
    io.measure("diameter", wheel.diameter_mm, Dimension::length, Range::positive);
    io.measure("tilt", wheel.tilt_rad, Dimension::angle, Range::any);
}

template <class Io>
void fields(Io& io, StrapAnchors& anchors) {
    io.point("left", anchors.left);
    io.point("right", anchors.right);
}

template <class Io>
void fields(Io& io, Belts& belts) {
    const Belts usual;
    io.textIf("bar", belts.bar);
    io.measureIf("strap_width", belts.strap_width_mm, Dimension::length, usual.strap_width_mm,
                 Range::positive);
    io.measureIf("spacing", belts.spacing_mm, Dimension::length, usual.spacing_mm, Range::positive);
    io.partIf("shoulder_anchors", belts.shoulder_anchors);
    io.pointsIf("lap_anchors", belts.lap_anchors);
}

template <class Io>
void sides(Io& io, std::string_view key, Vec3& left, Vec3& right) {
    Sides both{left, right};
    io.part(key, both);
    left = both.left;
    right = both.right;
}

template <class Io>
void fields(Io& io, Driver& driver) {
    io.identifier("id", driver.id);
    io.text("name", driver.name);
    io.wordIf("occupant", driver.occupant, kOccupants);
    io.textIf("figure", driver.figure);
    io.point("hip", driver.hip);
    io.measure("back_angle", driver.back_angle_rad, Dimension::angle, Range::any);
    sides(io, "shoulder", driver.shoulder_left, driver.shoulder_right);
    io.measureIf("shoulder_width", driver.shoulder_width_mm, Dimension::length, Range::positive);
    sides(io, "elbow", driver.elbow_left, driver.elbow_right);
    sides(io, "hand", driver.hand_left, driver.hand_right);
    sides(io, "knee", driver.knee_left, driver.knee_right);
    sides(io, "heel", driver.heel_left, driver.heel_right);
    io.point("eye", driver.eye);
    io.part("helmet", driver.helmet);
    io.partIf("seat", driver.seat);
    io.partIf("steering_wheel", driver.steering_wheel);
    io.partIf("belts", driver.belts);
    io.textIf("note", driver.note);
    if constexpr (std::is_same_v<Io, FieldReader>) checkDriver(io.map(), driver);
}

ReadResult<Driver> readDriver(const std::filesystem::path& file) {
    return readFileAs<Driver>("driver", file);
}
ReadResult<Driver> readDriverText(std::string text, const std::string& name) {
    return readAs<Driver>("driver", std::move(text), name);
}
std::string writeDriver(const Driver& driver, const FileTextRef& was, LengthUnit unit) {
    return writeAs("driver", driver, was, unit);
}

}  // namespace hoopwright
