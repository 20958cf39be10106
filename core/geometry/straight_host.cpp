// Built with sqrt that does not set errno, so that the loops over the stations run several at a time.
#include <algorithm>
#include <cmath>

#include "core/geometry/cope_host.h"

// Processors with wider registers take four stations at a time. Without fused multiplication, so that every
// machine gives the same digits.
#if defined(__x86_64__) && defined(__linux__)
#define HOOPWRIGHT_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define HOOPWRIGHT_WIDE
#endif

namespace hoopwright {
namespace {

/// What the loop over the stations needs, for one radius of the branch.
struct RowTask {
    const double *cos, *sin;
    double *s_mm, *cosine;
    size_t size;
    Swing level, aside, crest;
    double branch_radius, host_radius, per_sine;
};

// R^2 - w^2. Where the branch just touches the host's flank (equal diameters above all) the plain form is
// rounding noise; with S = |sin x| and W = w0 to the same side it is  (R - W - r)(R + W + r) + cos^2 x (2 W
// r / (1 + S) + r^2).
inline double tangentSquare(double host_radius, double r, double mean, double aside_radial,
                            double crest_radial) {
    const double s = std::abs(aside_radial);
    const double w = std::copysign(mean, mean * aside_radial);
    return (host_radius - w - r) * (host_radius + w + r) +
           crest_radial * crest_radial * (2 * w * r / (1 + s) + r * r);
}

template <bool tangent>
inline __attribute__((always_inline)) void fillRow(const RowTask& t) {
    const double r = t.branch_radius, big = t.host_radius, per_radius = 1 / t.host_radius;
    const double aside_mean = t.aside.mean, level_mean = t.level.mean, per_sine = t.per_sine;
    const double *cos = t.cos, *sin = t.sin;
    double *s = t.s_mm, *cosine = t.cosine;
    for (size_t i = 0, n = t.size; i < n; ++i) {
        const double aside_radial = t.aside.cos * cos[i] + t.aside.sin * sin[i];
        const double level_radial = t.level.cos * cos[i] + t.level.sin * sin[i];
        const double w = aside_mean + r * aside_radial;
        double square = (big - w) * (big + w);
        if constexpr (tangent) {
            square =
                tangentSquare(big, r, aside_mean, aside_radial, t.crest.cos * cos[i] + t.crest.sin * sin[i]);
        }
        const double root = std::sqrt(square > 0 ? square : 0.0);
        s[i] = (root - level_mean - r * level_radial) * per_sine;
        cosine[i] = -(aside_radial * w + level_radial * root) * per_radius;
    }
}

HOOPWRIGHT_WIDE void fillCrossing(RowTask task) {
    fillRow<false>(task);
}
HOOPWRIGHT_WIDE void fillTangent(RowTask task) {
    fillRow<true>(task);
}

}  // namespace

Swing Swing::of(const CopeEnd& end, const Vec3& origin, const Vec3& direction) {
    return {(end.foot - origin).dot(direction), end.clock.dot(direction),
            end.inward.cross(end.clock).dot(direction)};
}

StraightHost::StraightHost(const CopeEnd& end, const Vec3& origin, const Vec3& along, double radius_mm,
                           double from_mm, double to_mm)
    : cosine_(end.inward.dot(along)),
      radius_(radius_mm),
      per_radius_(1 / radius_mm),
      from_(from_mm),
      to_(to_mm) {
    const Vec3 across = end.inward - cosine_ * along;
    sine_ = across.norm();
    per_sine_ = 1 / sine_;
    const Vec3 up = across / sine_;
    level_ = Swing::of(end, origin, up);
    const Vec3 aside = along.cross(up);
    aside_ = Swing::of(end, origin, aside);
    crest_ = Swing::of(end, origin, end.inward.cross(aside));
    along_ = Swing::of(end, origin, along);
}

// Seen along the host, a generator is a line that comes straight down at distance w = w0 + r sin x from the
// host's middle; it meets the circle at height sqrt(R^2 - w^2). (Development of intersecting cylinders: any
// sheet-metal drafting text, from memory.)

double StraightHost::rootSquare(double r, double aside_radial, double crest_radial) const {
    return tangentSquare(radius_, r, aside_.mean, aside_radial, crest_radial);
}

bool StraightHost::comesTangent(double branch_radius_mm) const {
    return std::abs(radius_ - branch_radius_mm - std::abs(aside_.mean)) < 1e-6 * radius_;
}

Meeting StraightHost::meet(double radius_mm, const Turn& turn) const {
    const double aside_radial = aside_.radial(turn), level_radial = level_.radial(turn);
    const double w = aside_.mean + radius_mm * aside_radial;
    const double square = comesTangent(radius_mm) ? rootSquare(radius_mm, aside_radial, crest_.radial(turn))
                                                  : (radius_ - w) * (radius_ + w);
    const double root = std::sqrt(std::max(square, 0.0));
    Meeting m;
    m.s_mm = (root - level_.mean - radius_mm * level_radial) * per_sine_;
    const double by = std::abs(w) - radius_;
    m.gap_mm = std::max(by > kTouching_mm ? by : 0, pastEnd(radius_mm, turn, m.s_mm));
    if (m.met()) m.cosine = -(aside_radial * w + level_radial * root) * per_radius_;
    return m;
}

MeetingRow StraightHost::row(double radius_mm, const StationTable& table) const {
    MeetingRow row(table.size());
    const bool may_miss = std::abs(aside_.mean) + radius_mm > radius_ + kTouching_mm || endsWithin(radius_mm);
    if (may_miss) {
        for (size_t i = 0; i < table.size(); ++i) row.set(i, meet(radius_mm, table.at(i)));
        return row;
    }
    const RowTask task = {table.cos().data(),
                          table.sin().data(),
                          row.s_mm.data(),
                          row.cosine.data(),
                          table.size(),
                          level_,
                          aside_,
                          crest_,
                          radius_mm,
                          radius_,
                          per_sine_};
    comesTangent(radius_mm) ? fillTangent(task) : fillCrossing(task);
    return row;
}

bool StraightHost::endsWithin(double branch_radius_mm) const {
    // s is within (R + |level| + r) / sine, and the place along the host within |cosine| of that and a
    // radius.
    const double s = (radius_ + std::abs(level_.mean) + branch_radius_mm) / sine_;
    const double stray = branch_radius_mm + s * std::abs(cosine_);
    return along_.mean - stray < from_ || along_.mean + stray > to_;
}

double StraightHost::pastEnd(double branch_radius_mm, const Turn& turn, double s_mm) const {
    const double x = along_.at(branch_radius_mm, turn) + s_mm * cosine_;
    const double past = std::max(from_ - x, x - to_);
    return past > kTouching_mm ? past : 0;
}

}  // namespace hoopwright
