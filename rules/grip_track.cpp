#include "rules/grip_track.h"

#include <cmath>
#include <numbers>

#include "core/edit/bar_track.h"

namespace hoopwright {
namespace {

constexpr double kBarReach_mm = 300;
constexpr double kLeanReach_rad = 20 * std::numbers::pi / 180;
/// An axis more square to the plane than this has no use in it.
constexpr double kLeastInPlane = 0.3;

}  // namespace

std::optional<GripTrack> GripTrack::of(const CageGeometry& now, const Grip& grip) {
    GripTrack track(grip);
    switch (grip.kind) {
        case Grip::Kind::landing:
        case Grip::Kind::node: {
            const int host = now.member(grip.host);
            if (host < 0) return std::nullopt;
            track.host_ = &now.members[static_cast<std::size_t>(host)].line;
            track.here_ = track.host_->nearestStation(grip.at);
            track.off_ = grip.at - track.host_->point(track.here_);
            track.most_ = track.host_->length_mm();
            return track;
        }
        case Grip::Kind::bar: {
            track.across_ = acrossBar(now, grip);
            track.least_ = -kBarReach_mm;
            track.most_ = kBarReach_mm;
            return track;
        }
        case Grip::Kind::lean:
            track.radius_ = (grip.at - grip.pivot).norm();
            track.least_ = -kLeanReach_rad * track.radius_;
            track.most_ = kLeanReach_rad * track.radius_;
            return track;
        case Grip::Kind::corner:
        case Grip::Kind::plate:
            break;
    }
    return std::nullopt;
}

std::vector<GripTrack> GripTrack::allOf(const CageGeometry& now, const Grip& grip) {
    if (std::optional<GripTrack> one = of(now, grip)) return {*std::move(one)};
    std::vector<GripTrack> out;
    if (grip.kind != Grip::Kind::corner && grip.kind != Grip::Kind::plate) return out;
    for (const Vec3& axis : {Vec3(Vec3::UnitX()), Vec3(Vec3::UnitY()), Vec3(Vec3::UnitZ())}) {
        const Vec3 within = axis - axis.dot(grip.normal) * grip.normal;
        if (within.norm() < kLeastInPlane) continue;
        GripTrack track(grip);
        track.across_ = within.normalized();
        track.least_ = -kBarReach_mm;
        track.most_ = kBarReach_mm;
        out.push_back(std::move(track));
    }
    return out;
}

Vec3 GripTrack::place(double t) const {
    if (host_) return host_->point(t) + off_;
    if (radius_ > 0)
        return grip_.pivot + Eigen::AngleAxisd(t / radius_, grip_.normal) * (grip_.at - grip_.pivot);
    return grip_.at + t * across_;
}

}  // namespace hoopwright
