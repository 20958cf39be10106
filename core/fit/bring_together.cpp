#include "core/fit/bring_together.h"

#include <algorithm>
#include <vector>

#include "core/mesh/rigid_fit.h"

namespace hoopwright {

Eigen::Isometry3d bringTogether(const Centreline& from, const Centreline& to) {
    constexpr int kSamples = 25, kRounds = 26;
    std::vector<PickedPair> pairs;
    const double half = std::min(from.length_mm(), to.length_mm()) / 2;
    for (int i = -kSamples; i <= kSamples; ++i) {
        const double off = half * i / kSamples;
        PickedPair pair;
        pair.scan = from.point(from.length_mm() / 2 + off);
        pair.car = to.point(to.length_mm() / 2 + off);
        pairs.push_back(pair);
    }
    Eigen::Isometry3d out = Eigen::Isometry3d::Identity();
    for (int round = 0; round < kRounds; ++round) {
        const auto fit = rigidFit(pairs, 1);
        if (!fit) break;
        out.linear() = fit->placement.turn;
        out.translation() = fit->placement.shift;
        for (PickedPair& pair : pairs) pair.car = to.point(to.nearestStation(out * pair.scan));
    }
    return out;
}

}  // namespace hoopwright
