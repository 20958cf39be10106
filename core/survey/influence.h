// How a place depends on the readings behind it: errors of shared datums are carried along, not counted
// twice.
#pragma once

#include <Eigen/Core>
#include <map>

#include "core/geometry/vec.h"

namespace hoopwright {

/// Movement of a place per standard deviation of each independent reading, by the reading's number [mm].
/// A new entry is not zero by itself: operator[] would leave it as it lay in memory.
using Influence = std::map<int, Vec3>;

inline void addInfluence(Influence& to, const Influence& other, const Eigen::Matrix3d& through) {
    for (const auto& [reading, moves] : other) {
        const auto [entry, is_new] = to.try_emplace(reading, Vec3::Zero());
        entry->second += through * moves;
    }
}

inline Eigen::Matrix3d covarianceOf(const Influence& influence) {
    Eigen::Matrix3d out = Eigen::Matrix3d::Zero();
    for (const auto& [reading, moves] : influence) out += moves * moves.transpose();
    return out;
}

}  // namespace hoopwright
