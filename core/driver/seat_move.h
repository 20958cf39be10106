// What a seat that is slid, lifted or reclined does to the person in it.
#pragma once

#include <string>
#include <vector>

#include "core/base/expected.h"
#include "core/model/driver.h"
#include "core/units/measure.h"

namespace hoopwright {

struct SeatMove {
    double slide_mm = 0;     ///< forward positive, level along the car
    double lift_mm = 0;      ///< up positive
    double recline_rad = 0;  ///< of the back about the hip point, backwards positive
    friend bool operator==(const SeatMove&, const SeatMove&) = default;
};

/// The person after the move. What moves and what stays:
///   hip, seat, its slots    with the seat; the back and its slots recline about the hip point
///   shoulders, helmet, eye  with the back; the helmet stays level, the eye where it is in it
///   hands, wheel            stay; elbows are found again from both arm links, on the side they were
///   heels                   stay on the pedals; knees are found again from both leg links, on the side they
///   were belt and lap anchors    stay: they are the car's
/// Links keep their lengths as measured. Where an arm or a leg no longer reaches, it is drawn straight, and
/// `out_of_reach` says so. A move of nothing changes nothing.
struct OutOfReach {
    enum class Limb { arm, leg };
    Limb limb = Limb::arm;
    int side = 1;  ///< 1 left, -1 right
    double short_by_mm = 0;
};
struct MovedDriver {
    Driver driver;
    std::vector<OutOfReach> out_of_reach;
};
/// "The left arm is 31.0 mm short of the wheel."
std::string sentence(const OutOfReach& what, LengthUnit unit);
/// The reason where the back would lean more than 5 degrees forward or 85 back.
Expected<MovedDriver> seatMoved(const Driver& driver, const SeatMove& move);

}  // namespace hoopwright
