// The one line a grip is tried along.
#pragma once

#include <optional>
#include <vector>

#include "core/edit/grip.h"

namespace hoopwright {

/// A grip and one way it can go: places in car axes by a number t [mm] that counts along the way.
class GripTrack {
public:
    /// Of a landing or node along its host, of a bar across itself, of a lean about its axis (t is then the
    /// arc of the grip); nothing of a grip with more than one way to go.
    static std::optional<GripTrack> of(const CageGeometry& now, const Grip& grip);
    /// The same; of a grip with more ways one for each axis of the car, as near to it as its plane allows.
    static std::vector<GripTrack> allOf(const CageGeometry& now, const Grip& grip);

    const Grip& grip() const { return grip_; }
    Vec3 place(double t) const;
    double here() const { return here_; }    ///< where the grip is
    double least() const { return least_; }  ///< how far is looked either way
    double most() const { return most_; }

private:
    explicit GripTrack(const Grip& grip) : grip_(grip) {}
    Grip grip_;
    const Centreline* host_ = nullptr;  ///< of the geometry it was made from
    Vec3 off_ = Vec3::Zero(), across_ = Vec3::Zero();
    double here_ = 0, least_ = 0, most_ = 0, radius_ = 0;
};

}  // namespace hoopwright
