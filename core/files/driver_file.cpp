#include "core/files/file_text.h"

namespace hoopwright {
namespace {

const Words<Driver::Occupant> kOccupants = {{"driver", Driver::Occupant::driver},
                                            {"passenger", Driver::Occupant::passenger}};

/// The two sides of a limb, as they stand in the file.
struct Sides {
    Vec3 left = Vec3::Zero(), right = Vec3::Zero();
};

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
    io.point("belt_slot", seat.belt_slot);
}

template <class Io>
void fields(Io& io, Belts& belts) {
    const Belts usual;
    io.textIf("bar", belts.bar);
    io.measureIf("strap_width", belts.strap_width_mm, Dimension::length, usual.strap_width_mm,
                 Range::positive);
    io.measureIf("spacing", belts.spacing_mm, Dimension::length, usual.spacing_mm, Range::positive);
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
    io.point("hip", driver.hip);
    io.measure("back_angle", driver.back_angle_rad, Dimension::angle, Range::any);
    sides(io, "shoulder", driver.shoulder_left, driver.shoulder_right);
    sides(io, "elbow", driver.elbow_left, driver.elbow_right);
    sides(io, "hand", driver.hand_left, driver.hand_right);
    sides(io, "knee", driver.knee_left, driver.knee_right);
    sides(io, "heel", driver.heel_left, driver.heel_right);
    io.point("eye", driver.eye);
    io.part("helmet", driver.helmet);
    io.partIf("seat", driver.seat);
    io.partIf("belts", driver.belts);
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
