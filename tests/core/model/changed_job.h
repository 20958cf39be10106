// A job moved bodily, or seen in a mirror: what it is made of must not change.
#pragma once

#include <algorithm>

#include "core/model/cage_layout.h"

namespace hoopwright::testing {

/// Everything of the cage, the plates and the named points moved along the car or up. Pairs stay pairs, so
/// nothing is moved across.
inline Job movedAlong(Job job, double forward_mm, double up_mm) {
    const Vec3 by(forward_mm, 0, up_mm);
    const auto place = [&](Place3& where) {
        if (auto* fixed = std::get_if<FixedPoint>(&where)) fixed->at += by;
        if (auto* landing = std::get_if<Landing>(&where)) {
            if (landing->by == Landing::By::height) landing->value += up_mm;
            if (landing->by == Landing::By::station_x) landing->value += forward_mm;
        }
    };
    for (Member& member : job.cage.members)
        for (MemberPoint& point : member.path) place(point.place);
    for (Plate& plate : job.cage.plates) place(plate.at);
    for (CarPoint& point : job.car.points) point.at += by;
    for (Driver& driver : job.drivers) {
        for (Vec3* at :
             {&driver.hip, &driver.shoulder_left, &driver.shoulder_right, &driver.elbow_left,
              &driver.elbow_right, &driver.hand_left, &driver.hand_right, &driver.knee_left,
              &driver.knee_right, &driver.heel_left, &driver.heel_right, &driver.eye, &driver.helmet.centre})
            *at += by;
        for (Vec3& anchor : driver.belts.lap_anchors) anchor += by;
    }
    return job;
}

/// A job without pairs, seen in a mirror that stands along the car.
/// @pre no member or plate is mirrored, and nothing is named by a side
inline Job inTheMirror(Job job) {
    const auto place = [](Place3& where) {
        if (auto* fixed = std::get_if<FixedPoint>(&where)) fixed->at.y() *= -1;
        if (auto* landing = std::get_if<Landing>(&where)) {
            if (landing->by == Landing::By::across_y) landing->value *= -1;
            if (landing->side != Side::centre)
                landing->side = landing->side == Side::left ? Side::right : Side::left;
            landing->offset.y() *= -1;
        }
        if (auto* on_plate = std::get_if<OnPlate>(&where)) on_plate->offset.y() *= -1;
    };
    for (Member& member : job.cage.members)
        for (MemberPoint& point : member.path) place(point.place);
    for (Plate& plate : job.cage.plates) {
        place(plate.at);
        plate.normal.y() *= -1;
        plate.along.y() *= -1;
        // The face is seen from the other side: corners run the other way round.
        for (Vec2& corner : plate.outline) corner.y() *= -1;
        std::reverse(plate.outline.begin(), plate.outline.end());
    }
    return job;
}

/// Every bar drawn from its other end.
inline Job turnedEndForEnd(Job job) {
    for (Member& member : job.cage.members) std::reverse(member.path.begin(), member.path.end());
    for (Member& member : job.cage.members) {
        for (MemberPoint& point : member.path) {
            auto* landing = std::get_if<Landing>(&point.place);
            if (!landing) continue;
            if (landing->by == Landing::By::distance || landing->by == Landing::By::end)
                landing->from_last_end = !landing->from_last_end;
            if (landing->by == Landing::By::fraction) landing->value = 1 - landing->value;
        }
    }
    return job;
}

}  // namespace hoopwright::testing
