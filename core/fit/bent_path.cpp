#include "core/fit/bent_path.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

constexpr double kStraightOn_rad = 1e-9;
// No corner is drawn nearer to a full turn back than this: its setback would have no end.
constexpr double kSharpest_rad = std::numbers::pi - 1e-3;

}  // namespace

BentPath::BentPath(std::span<const Vec3> points, double radius_mm, std::array<double, 2> skip_mm)
    : points_(points.begin(), points.end()), corners_(points.size()), radius_(radius_mm), skip_(skip_mm) {
    for (std::size_t i = 0; i + 1 < points_.size(); ++i)
        along_.push_back((points_[i + 1] - points_[i]).normalized());
    for (std::size_t i = 1; i + 1 < points_.size(); ++i) {
        Corner& corner = corners_[i];
        const Vec3 &in = along_[i - 1], &out = along_[i];
        corner.in = in;
        corner.angle_rad = std::min(kSharpest_rad, std::atan2(in.cross(out).norm(), in.dot(out)));
        if (corner.angle_rad > kStraightOn_rad) {
            corner.setback_mm = radius_ * std::tan(corner.angle_rad / 2);
            corner.inward = (out - in.dot(out) * in).normalized();
        }
        corner.start = points_[i] - corner.setback_mm * in;
    }
}

Vec3 BentPath::straightStart(int i) const {
    const auto k = static_cast<std::size_t>(i);
    return points_[k] + (i == 0 ? skip_[0] : corners_[k].setback_mm) * along_[k];
}

Vec3 BentPath::straightEnd(int i) const {
    const auto k = static_cast<std::size_t>(i);
    const double back = k + 2 == points_.size() ? skip_[1] : corners_[k + 1].setback_mm;
    return points_[k + 1] - back * along_[k];
}

Vec3 BentPath::point(const BarPlace& place) const {
    if (!isBend(place.piece)) {
        const Vec3 from = straightStart(place.piece / 2);
        return from + place.share * (straightEnd(place.piece / 2) - from);
    }
    const Corner& corner = cornerOf(place.piece);
    const double turned = place.share * corner.angle_rad;
    return corner.start + radius_ * (std::sin(turned) * corner.in + (1 - std::cos(turned)) * corner.inward);
}

double BentPath::length_mm(int piece) const {
    if (isBend(piece)) return radius_ * cornerOf(piece).angle_rad;
    const int i = piece / 2;
    return (straightEnd(i) - straightStart(i)).dot(along_[static_cast<std::size_t>(i)]);
}

double BentPath::straight_mm(int i) const {
    const auto k = static_cast<std::size_t>(i);
    return (points_[k + 1] - points_[k]).norm() - corners_[k].setback_mm - corners_[k + 1].setback_mm;
}

BentPath::Near BentPath::nearest(const Vec3& p) const {
    Near best;
    best.distance_mm = std::numeric_limits<double>::infinity();
    for (int piece = 0; piece < pieces(); ++piece) {
        BarPlace place{piece, 0};
        if (isBend(piece)) {
            const Corner& corner = cornerOf(piece);
            if (!(corner.angle_rad > kStraightOn_rad)) continue;
            const Vec3 from_centre = p - corner.start - radius_ * corner.inward;
            double turned = std::atan2(from_centre.dot(corner.in), -from_centre.dot(corner.inward));
            // Beyond half way round the far side the first end is nearer than the last.
            if (turned - corner.angle_rad / 2 > std::numbers::pi) turned -= 2 * std::numbers::pi;
            if (turned - corner.angle_rad / 2 < -std::numbers::pi) turned += 2 * std::numbers::pi;
            place.share = std::clamp(turned / corner.angle_rad, 0.0, 1.0);
        } else {
            const Vec3 from = straightStart(piece / 2), whole = straightEnd(piece / 2) - from;
            const double square = whole.squaredNorm();
            place.share = square > 0 ? std::clamp((p - from).dot(whole) / square, 0.0, 1.0) : 0;
        }
        const Vec3 at = point(place);
        const double distance = (at - p).norm();
        if (distance < best.distance_mm) best = {place, at, distance};
    }
    return best;
}

}  // namespace hoopwright
