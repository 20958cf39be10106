#include "core/solid/end_cut.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/model/end_hosts.h"
#include "core/shop/joint_cope.h"

namespace hoopwright {
namespace {

constexpr double kRound = 2 * std::numbers::pi;
constexpr int kLookedAt = 720;
// Of a turn's 720th part: slopes that change faster than this in a share of the radius may be a corner.
constexpr double kBend = 0.004;
// Passed by less than this, a host is touched: tubes of one size on a bend are all but tangent at their
// flanks.
constexpr double kTouches_mm = 1e-6;
// Surfaces that change more often than this within a 720th of a turn can't be told apart there.
constexpr int kMostChanges = 4;

int pieceAt(const Centreline& line, double station_mm) {
    const auto pieces = line.pieces();
    for (std::size_t i = 0; i + 1 < pieces.size(); ++i)
        if (station_mm < pieces[i + 1].station_mm) return static_cast<int>(i);
    return static_cast<int>(pieces.size()) - 1;
}

}  // namespace

EndCut::EndCut(const CageGeometry& cage, int member, int end, bool square)
    : end_(copeEnd(cage, member, end)), turn_(end == 0 ? 1 : -1) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    if (!square) hosts_ = hostsOf(cage, tube.ends[static_cast<std::size_t>(end)]);
    if (hosts_.empty()) hosts_.emplace_back(CopePlane{end_.foot, end_.inward});
    for (std::size_t i = 0; i < hosts_.size(); ++i) {
        const auto* plane = std::get_if<CopePlane>(&hosts_[i]);
        planes_.push_back(plane ? std::optional(PlaneSurface{plane->point, plane->normal}) : std::nullopt);
        if (auto ready = prepared(end_, hosts_[i])) {
            ready_.push_back(std::move(*ready));
            host_of_ready_.push_back(static_cast<int>(i));
        }
    }
    for (const std::size_t wall : {0u, 1u}) {
        changes_[wall] = changes(wall_mm(wall));
        corners_[wall] = corners(wall_mm(wall));
    }
}

EndCut::Met EndCut::met(double theta_rad, double radius_mm) const {
    const Turn turn(turn_ * theta_rad);
    Met best{meet(ready_[0], radius_mm, turn), host_of_ready_[0]};
    for (std::size_t k = 1; k < ready_.size(); ++k) {
        const Meeting other = meet(ready_[k], radius_mm, turn);
        if (&outerOf(best.meeting, other) == &other) best = {other, host_of_ready_[k]};
    }
    return best;
}

double EndCut::into_mm(double theta_rad, double radius_mm) const {
    return met(theta_rad, radius_mm).meeting.s_mm;
}

Vec3 EndCut::spoke(double theta_rad) const {
    const double phi = turn_ * theta_rad;
    return std::cos(phi) * end_.clock + std::sin(phi) * end_.inward.cross(end_.clock);
}

Vec3 EndCut::point(double theta_rad, double radius_mm) const {
    return end_.foot + radius_mm * spoke(theta_rad) + into_mm(theta_rad, radius_mm) * end_.inward;
}

CutBy EndCut::by(double theta_rad, double radius_mm) const {
    const Met best = met(theta_rad, radius_mm);
    if (best.meeting.gap_mm > kTouches_mm) return {};
    const auto* tube = std::get_if<CopeTube>(&hosts_[static_cast<std::size_t>(best.host)]);
    if (!tube) return {best.host, 0};
    const Vec3 at = end_.foot + radius_mm * spoke(theta_rad) + best.meeting.s_mm * end_.inward;
    return {best.host, pieceAt(*tube->line, tube->line->nearestStation(at))};
}

const PlaneSurface* EndCut::plane(CutBy by) const {
    const auto& plane = planes_[static_cast<std::size_t>(by.host)];
    return plane ? &*plane : nullptr;
}

Surface EndCut::surface(CutBy by) const {
    if (const PlaneSurface* flat = plane(by)) return *flat;
    const CopeTube& tube = std::get<CopeTube>(hosts_[static_cast<std::size_t>(by.host)]);
    const Piece& piece = tube.line->pieces()[static_cast<std::size_t>(by.piece)];
    const auto square = [](const Vec3& v, const Vec3& to) { return Vec3((v - v.dot(to) * to).normalized()); };
    if (piece.kind == Piece::Kind::straight)
        return CylinderSurface{piece.start, piece.tangent, square(-end_.inward, piece.tangent),
                               tube.radius_mm};
    return TorusSurface{piece.centre, piece.axis, square(piece.centre - end_.foot, piece.axis),
                        piece.radius_mm, tube.radius_mm};
}

std::vector<CutChange> EndCut::changes(double radius_mm) const {
    std::vector<CutChange> out;
    CutBy before = by(0, radius_mm);
    for (int i = 0; i < kLookedAt; ++i) {
        const double end = kRound * (i + 1) / kLookedAt;
        const CutBy after = by(end, radius_mm);
        double from = kRound * i / kLookedAt;
        for (int many = 0; !(before == after); ++many) {  // a third surface between two has its own change
            double to = end;
            if (many == kMostChanges) {
                out.push_back({to, before, after});
                before = after;
                break;
            }
            for (double middle = (from + to) / 2; middle > from && middle < to; middle = (from + to) / 2)
                (by(middle, radius_mm) == before ? from : to) = middle;
            const CutBy next = by(to, radius_mm);
            out.push_back({to, before, next});
            before = next;
            from = to;
        }
    }
    return out;
}

double EndCut::slope(double theta_rad, double radius_mm, double step) const {
    return (into_mm(theta_rad + step, radius_mm) - into_mm(theta_rad - step, radius_mm)) / (2 * step);
}

/// Narrows down where the slope jumps from what it is at one end to what it is at the other.
double EndCut::cornerBetween(double from, double to, double radius_mm, bool& found) const {
    const double step = (to - from) / 100;
    const double left = slope(from, radius_mm, step), right = slope(to, radius_mm, step);
    while (to - from > 1e-8) {
        const double middle = (from + to) / 2;
        const double here = slope(middle, radius_mm, std::min(step, (to - from) / 50));
        (std::abs(here - left) < std::abs(here - right) ? from : to) = middle;
    }
    const double jump = slope(to + 2e-5, radius_mm, 1e-5) - slope(from - 2e-5, radius_mm, 1e-5);
    found = std::abs(jump) > 0.5 * std::abs(right - left);
    return (from + to) / 2;
}

std::vector<double> EndCut::corners(double radius_mm) const {
    std::vector<double> s(kLookedAt), out;
    for (std::size_t i = 0; i < s.size(); ++i)
        s[i] = into_mm(kRound * static_cast<double>(i) / kLookedAt, radius_mm);
    const auto bends = [&](std::size_t i) {
        const double before = s[(i + kLookedAt - 1) % kLookedAt], after = s[(i + 1) % kLookedAt];
        return std::abs(before - 2 * s[i] + after) > kBend * radius_mm;
    };
    const double h = kRound / kLookedAt;
    for (std::size_t i = 0; i < s.size(); ++i) {
        if (!bends(i) || bends((i + kLookedAt - 1) % kLookedAt)) continue;
        std::size_t run = 1;
        while (run < 4 && bends((i + run) % kLookedAt)) ++run;
        bool found = false;
        const double at = cornerBetween(h * (static_cast<double>(i) - 1.5),
                                        h * (static_cast<double>(i + run) + 0.5), radius_mm, found);
        if (found) out.push_back(at < 0 ? at + kRound : at >= kRound ? at - kRound : at);
    }
    std::ranges::sort(out);
    return out;
}

}  // namespace hoopwright
