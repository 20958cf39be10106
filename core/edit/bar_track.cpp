#include "core/edit/bar_track.h"

namespace hoopwright {

Vec3 acrossBar(const CageGeometry& now, const Grip& grip) {
    const Centreline& line = now.members[static_cast<std::size_t>(now.member(grip.part))].line;
    return grip.normal.cross((line.end() - line.start()).normalized()).normalized();
}

Vec3 nearestOnTrack(const Vec3& at, const Vec3& along, const Vec3& from, const Vec3& way) {
    constexpr double kEndOn = 0.05;  // the sine
    const double together = along.dot(way);
    const double square = 1 - together * together;
    if (square < kEndOn * kEndOn) return at;
    const Vec3 off = from - at;
    return at + (off.dot(along) - off.dot(way) * together) / square * along;
}

}  // namespace hoopwright
