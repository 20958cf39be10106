#include "app/commands/clearance.h"

#include "core/geometry/distance.h"

namespace hoopwright {
namespace {

/// The least of `distance(member)` over all bars with a shape.
template <class Distance>
Clearance nearestBar(std::string part, const CageGeometry& cage, Distance distance) {
    Clearance out;
    out.part = std::move(part);
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const ResolvedMember& bar = cage.members[i];
        if (bar.line.empty()) continue;
        const Nearest near = distance(bar.line);
        const double bare = near.distance_mm - bar.radius_mm();
        if (out.member < 0 || bare < out.bare_mm) {
            out.member = static_cast<int>(i);
            out.bare_mm = bare;
            out.on_person = near.on_b;
            const Vec3 outward = near.on_b - near.on_a;
            const double sign = near.distance_mm < 0 ? -1 : 1;
            out.on_bar = near.on_a;
            if (outward.norm() > 0) out.on_bar += sign * bar.radius_mm() * outward.normalized();
        }
        if (out.padded_member < 0 || bare - bar.padding_mm < out.padded_mm) {
            out.padded_member = static_cast<int>(i);
            out.padded_mm = bare - bar.padding_mm;
        }
    }
    return out;
}

}  // namespace

std::vector<Clearance> clearances(const Driver& driver, const CageGeometry& cage) {
    const Ellipsoid helmet = driver.helmet.ellipsoid();
    std::vector<Clearance> out = {
        nearestBar("helmet", cage, [&](const Centreline& line) { return nearest(line, helmet); })};
    const std::pair<const char*, const Vec3*> points[] = {
        {"shoulder_left", &driver.shoulder_left}, {"shoulder_right", &driver.shoulder_right},
        {"elbow_left", &driver.elbow_left},       {"elbow_right", &driver.elbow_right},
        {"hand_left", &driver.hand_left},         {"hand_right", &driver.hand_right},
        {"knee_left", &driver.knee_left},         {"knee_right", &driver.knee_right},
        {"heel_left", &driver.heel_left},         {"heel_right", &driver.heel_right},
    };
    for (const auto& [part, point] : points) {
        out.push_back(
            nearestBar(part, cage, [&, at = point](const Centreline& line) { return nearest(line, *at); }));
    }
    return out;
}

}  // namespace hoopwright
