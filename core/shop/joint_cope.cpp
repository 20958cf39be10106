#include "core/shop/joint_cope.h"

#include <algorithm>
#include <array>

#include "core/model/end_hosts.h"

namespace hoopwright {

namespace {

// Extremes are exact however few stations are asked for.
constexpr int kFewStations = 36;
// A tube this near to upright has no side that is up.
constexpr double kUpright = 1e-6;

Vec3 clockAtStart(const Centreline& line) {
    for (const Piece& piece : line.pieces()) {
        if (piece.kind == Piece::Kind::bend) return (piece.start - piece.centre).normalized();
    }
    const Vec3 along = line.tangent(0);
    for (const Vec3& towards : {Vec3(Vec3::UnitZ()), Vec3(Vec3::UnitX())}) {
        const Vec3 across = towards - along.dot(towards) * along;
        if (across.norm() > kUpright) return across.normalized();
    }
    return along.unitOrthogonal();
}

const ResolvedEnd& endOf(const CageGeometry& cage, int member, int end) {
    return cage.members[static_cast<std::size_t>(member)].ends[static_cast<std::size_t>(end)];
}

std::string endName(int end) {
    return end == 0 ? "first end" : "last end";
}

}  // namespace

std::string clockWords(const Centreline& line) {
    if (line.bendCount() > 0) return "the outside of bend 1";
    const Vec3 along = line.tangent(0);
    return along.cross(Vec3::UnitZ()).norm() > kUpright ? "the upper side" : "the front";
}

Vec3 tubeClock(const Centreline& line, int end) {
    Vec3 clock = clockAtStart(line);
    if (end == 0) return clock;
    for (const Piece& piece : line.pieces()) {
        if (piece.kind == Piece::Kind::bend) clock = Eigen::AngleAxisd(piece.angle_rad, piece.axis) * clock;
    }
    return clock;
}

CopeEnd copeEnd(const CageGeometry& cage, int member, int end) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    const ResolvedEnd& at = endOf(cage, member, end);
    CopeEnd out;
    out.foot = at.at;
    out.inward = -at.outward;
    const Vec3 clock = tubeClock(tube.line, end);
    out.clock = (clock - clock.dot(out.inward) * out.inward).normalized();  // round-off of the bends
    out.outer_radius_mm = tube.radius_mm();
    out.bore_radius_mm = tube.section.bore_mm() / 2;
    return out;
}

Expected<CopeProfile> jointCope(const CageGeometry& cage, int member, int end, int stations) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    const ResolvedEnd& at = endOf(cage, member, end);
    const std::string where = tube.name + ", " + endName(end) + ": ";
    if (at.on == ResolvedEnd::On::nothing) return Reason{where + "it lands on nothing, so it is cut square."};
    if (tube.stock < 0) return Reason{where + "it has no tube yet; choose one of the stock list."};
    Expected<CopeProfile> profile = cope(copeEnd(cage, member, end), hostsOf(cage, at), stations);
    if (!profile) return Reason{where + profile.reason() + "."};
    return profile;
}

CutLength cutLength(const CageGeometry& cage, int member) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    CutLength cut;
    cut.centre_mm = tube.line.length_mm();
    double longest_off = 0, shortest_off = 0, mean_off = 0;
    for (int e = 0; e < 2; ++e) {
        if (endOf(cage, member, e).on == ResolvedEnd::On::nothing) continue;
        const Expected<CopeProfile> profile = jointCope(cage, member, e, kFewStations);
        if (!profile) {
            cut.trouble += (cut.trouble.empty() ? "" : " ") + profile.reason();
            continue;
        }
        longest_off += std::min(profile->outer.least_mm, profile->bore.least_mm);
        shortest_off += std::max(profile->outer.greatest_mm, profile->bore.greatest_mm);
        mean_off += profile->mean_cut_mm;
    }
    cut.long_to_long_mm = std::max(0.0, cut.centre_mm - longest_off);
    cut.short_to_short_mm = std::max(0.0, cut.centre_mm - shortest_off);
    cut.mean_mm = std::max(0.0, cut.centre_mm - mean_off);
    cut.blank_mm = cut.long_to_long_mm;
    return cut;
}

}  // namespace hoopwright
