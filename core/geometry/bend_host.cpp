#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/geometry/cope_host.h"

namespace hoopwright {
namespace {

/// Far more than any line needs; the end of a search that a host of no sensible shape would make long.
constexpr int kMostSteps = 4000;
/// The gap of what meets nothing but a ball at the tube's end: any other miss says more.
constexpr double kPastEnd_mm = 1e9;
/// Quick steps before the search that never fails takes over, and what they may leave.
constexpr int kQuickSteps = 10;
constexpr double kQuickError_mm = 1e-10;

}  // namespace

BendHost::BendHost(const CopeEnd& end, const Piece& bend, double radius_mm, const BendStretch& part)
    : ring_radius_(bend.radius_mm),
      tube_radius_(radius_mm),
      starts_tube_(part.starts_tube),
      ends_tube_(part.ends_tube) {
    const Vec3 x = (bend.point(part.from_mm) - bend.centre) / bend.radius_mm;
    const Vec3 y = bend.tangentAt(part.from_mm);
    x_ = Swing::of(end, bend.centre, x);
    y_ = Swing::of(end, bend.centre, y);
    z_ = Swing::of(end, bend.centre, bend.axis);
    inward_ = {end.inward.dot(x), end.inward.dot(y), end.inward.dot(bend.axis)};
    const double turned = (part.to_mm - part.from_mm) / bend.radius_mm;
    last_ = {std::cos(turned), std::sin(turned)};
    middle_ = Vec3(1 + last_.x(), last_.y(), 0) * (ring_radius_ / 2);
    const double half_chord = ring_radius_ * std::sin(turned / 2);
    const double sagitta = ring_radius_ * (1 - std::cos(turned / 2));
    ball_radius_ = std::max(half_chord, sagitta) + tube_radius_;
}

BendHost::Height BendHost::height(const Vec3& p) const {
    const bool between = p.y() >= 0 && p.x() * last_.y() - p.y() * last_.x() >= 0;
    bool past_end = false;
    Vec3 spine;  // nearest point of the bend's centreline
    if (between) {
        const double rho = std::max(std::sqrt(p.x() * p.x() + p.y() * p.y()), 1e-12);
        spine = {p.x() / rho * ring_radius_, p.y() / rho * ring_radius_, 0};
    } else {
        const Vec3 first(ring_radius_, 0, 0), last(ring_radius_ * last_.x(), ring_radius_ * last_.y(), 0);
        const bool at_first = (p - first).squaredNorm() <= (p - last).squaredNorm();
        spine = at_first ? first : last;
        past_end = at_first ? starts_tube_ : ends_tube_;
    }
    const Vec3 off = p - spine;
    const double distance = std::max(off.norm(), 1e-12);
    const Vec3 outward = off / distance;
    return {distance - tube_radius_, outward.dot(inward_), outward, past_end};
}

/// A step towards smaller s that cannot pass the surface. The height changes by no more than the step; and
/// nearer to the tube than halfway to the ring's centre it is at least  value - rate h - k h^2 / 2,  k = 1 /
/// (distance to the centre).
double BendHost::safeStep(const Height& at) const {
    const double room = (ring_radius_ - tube_radius_) / 4;
    if (room <= 0 || at.value > room) return at.value;
    const double k = 0.5 / room;
    const double root = std::sqrt(at.rate * at.rate + 2 * k * at.value);
    const double held_back = at.rate > 0 ? 2 * at.value / (at.rate + root) : (root - at.rate) / k;
    return std::max(at.value, std::min(held_back, room));
}

/// Where a line leaves the disc that holds the whole ring: as thick as the tube, as wide as the ring outside.
/// All of the tube lies before it.
double BendHost::leavesRing(const Vec3& foot) const {
    double leaves = std::numeric_limits<double>::infinity();
    if (std::abs(inward_.z()) > 1e-9)
        leaves = (std::copysign(tube_radius_, inward_.z()) - foot.z()) / inward_.z();
    const double a = inward_.head<2>().squaredNorm(), b = foot.head<2>().dot(inward_.head<2>());
    const double widest = ring_radius_ + tube_radius_;
    const double square = b * b - a * (foot.head<2>().squaredNorm() - widest * widest);
    if (a > 1e-9 && square >= 0) leaves = std::min(leaves, (std::sqrt(square) - b) / a);
    return leaves;
}

/// Where a line that passes by comes nearest, between two places on either side of it.
double BendHost::lowestBetween(const Vec3& foot, double below, double above) const {
    for (int step = 0; step < 60; ++step) {
        const double s = 0.5 * (below + above);
        (height(foot + s * inward_).rate > 0 ? above : below) = s;
    }
    return 0.5 * (below + above);
}

Meeting BendHost::touching(const Vec3& foot, const Turn& turn, double s_mm) const {
    const Height at = height(foot + s_mm * inward_);
    if (at.past_end) return {s_mm, kPastEnd_mm};
    if (at.value > kTouching_mm) return {s_mm, at.value};
    const Vec3 radial(x_.radial(turn), y_.radial(turn), z_.radial(turn));
    return {s_mm, 0, -radial.dot(at.outward)};
}

// With q = |p|^2 + R^2 - r^2 and rho the distance from the ring's axis, the torus is  F = q^2 - 4 R^2 rho^2 =
// 0, of fourth degree in s. By Budan's theorem no root lies beyond one where the first three derivatives of F
// are positive (the fourth is 24): so a root found from anywhere is the outermost if they are. The stretch
// with its balls lies inside the whole torus, so what meets that last, and on the stretch, is it. Each step
// goes to where the parabola with the same value, rate and bend has its outer root, or its lowest point if it
// has none.
std::optional<BendHost::QuickRoot> BendHost::quickRoot(const Vec3& foot, double guess_mm) const {
    const double b = foot.dot(inward_), in_plane = 1 - inward_.z() * inward_.z();
    const double e = foot.x() * inward_.x() + foot.y() * inward_.y();
    const double c = foot.squaredNorm() + (ring_radius_ - tube_radius_) * (ring_radius_ + tube_radius_);
    const double g = foot.x() * foot.x() + foot.y() * foot.y();
    const double r4 = 4 * ring_radius_ * ring_radius_;
    double s = guess_mm;
    for (int step = 0; step < kQuickSteps; ++step) {
        const double q = (s + 2 * b) * s + c, half_rate = s + b;
        // F in two factors, so that a touch of the crest keeps its digits.
        const double rho = std::sqrt((in_plane * s + 2 * e) * s + g), z = foot.z() + s * inward_.z();
        const double inner =
            (rho - ring_radius_) * (rho - ring_radius_) + (z - tube_radius_) * (z + tube_radius_);
        const double value = inner * (q + 2 * ring_radius_ * rho);
        const double rate = 4 * q * half_rate - 2 * r4 * (in_plane * s + e);
        const double bend = 8 * half_rate * half_rate + 4 * q - 2 * r4 * in_plane;
        if (!(bend > 0 && half_rate > 0)) return std::nullopt;
        const double square = rate * rate - 2 * bend * value;
        const bool has_root = square >= 0;
        const double root = std::sqrt(has_root ? square : 0.0);
        const double back = has_root && rate > 0 ? 2 * value / (rate + root) : (rate - root) / bend;
        s -= back;
        const double size = std::abs(back);
        // What the parabola leaves out is a sixth of the third derivative.
        if (size < kQuickError_mm || 4 * half_rate * size * size * size < kQuickError_mm * root)
            return QuickRoot{s, has_root};
    }
    return std::nullopt;
}

std::optional<Meeting> BendHost::quick(const Vec3& foot, const Turn& turn, const Hint& hint) const {
    const auto root = quickRoot(foot, hint.guess_mm);
    if (!root) return std::nullopt;
    if (root->s_mm <= hint.met_mm) return Meeting{root->s_mm, kPastEnd_mm};
    if (!root->crosses) {
        const Meeting m = touching(foot, turn, root->s_mm);
        return m.met() ? std::optional(m) : std::nullopt;
    }
    const Vec3 p = foot + root->s_mm * inward_;
    const bool between = p.y() >= 0 && p.x() * last_.y() - p.y() * last_.x() >= 0;
    if (!between) return std::nullopt;
    const double out = 1 - ring_radius_ / std::sqrt(p.x() * p.x() + p.y() * p.y());
    const double along = (x_.radial(turn) * p.x() + y_.radial(turn) * p.y()) * out + z_.radial(turn) * p.z();
    return Meeting{root->s_mm, 0, -along / tube_radius_};
}

Meeting BendHost::meet(double radius_mm, const Turn& turn, const Hint& hint) const {
    const Vec3 foot(x_.at(radius_mm, turn), y_.at(radius_mm, turn), z_.at(radius_mm, turn));
    if (ring_radius_ > tube_radius_) {
        if (const auto found = quick(foot, turn, hint)) return *found;
    }
    return search(foot, turn, hint.met_mm);
}

Meeting BendHost::search(const Vec3& foot, const Turn& turn, double met_mm) const {
    const Vec3 from_middle = foot - middle_;
    const double nearest = -from_middle.dot(inward_);
    const double square = ball_radius_ * ball_radius_ - (from_middle + nearest * inward_).squaredNorm();
    if (square <= 0) return touching(foot, turn, nearest);
    const double lowest = std::max(nearest - std::sqrt(square), met_mm);
    double s = std::min(nearest + std::sqrt(square), leavesRing(foot));
    double above = s;  // the last place from which the line was still coming nearer
    bool coming_nearer = true;
    const Vec3 radial(x_.radial(turn), y_.radial(turn), z_.radial(turn));
    Meeting near{nearest, kPastEnd_mm};
    for (int step = 0; step < kMostSteps && s > lowest; ++step) {
        const Height at = height(foot + s * inward_);
        const double h = safeStep(at);
        const bool last_step = h < 1e-6 * at.rate;  // the next would be its square
        if (last_step && !at.past_end) return {s - h, 0, -radial.dot(at.outward)};
        if (at.value <= 0 || h < 1e-11) return touching(foot, turn, s);
        if (at.rate > 0) {
            above = s;
        } else if (coming_nearer) {
            near = outerOf(near, touching(foot, turn, lowestBetween(foot, s, above)));
        }
        coming_nearer = at.rate > 0;
        s -= h;
    }
    return near;
}

}  // namespace hoopwright
