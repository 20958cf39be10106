#include "core/solid/fitted.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace hoopwright {
namespace {

// Steps for rates, of a parameter in radians or of a share: their error is far below kFitted_mm.
constexpr double kGreatestStep = 1e-3;
// Shorter than this nothing is gained.
constexpr double kShortest = 3e-4;
constexpr std::size_t kMostKnots = 3000;
// Beside a touch the cut itself is known to some 1e-5 mm only, and its rates to less: what misses by no more
// than this and comes no nearer when halved is that, and not the curve.
constexpr double kUnsure_mm = 2e-5, kNoNearer = 0.5;

/// Rate at t from five values on one side (step > 0: after t).
Vec3 rateBeside(const Curve3& curve, double t, double step) {
    return (-25 * curve(t) + 48 * curve(t + step) - 36 * curve(t + 2 * step) + 16 * curve(t + 3 * step) -
            3 * curve(t + 4 * step)) /
           (12 * step);
}
Vec3 rateWithin(const Curve3& curve, double t, double step) {
    return (curve(t - 2 * step) - 8 * curve(t - step) + 8 * curve(t + step) - curve(t + 2 * step)) /
           (12 * step);
}

/// Nine places of a curve, evenly spaced over an interval, both ends among them.
using Nine = std::array<Vec3, 9>;

/// The cubic that shares the curve's ends and rates misses its middle and quarters by this.
double misses(const Nine& at) {
    // Rates for the whole interval as unit, from five of the places on one side.
    const Vec3 ra = (-25 * at[0] + 48 * at[1] - 36 * at[2] + 16 * at[3] - 3 * at[4]) * (8.0 / 12);
    const Vec3 rb = (25 * at[8] - 48 * at[7] + 36 * at[6] - 16 * at[5] + 3 * at[4]) * (8.0 / 12);
    double worst = 0;
    for (const std::size_t place : {2u, 4u, 6u}) {
        const double t = static_cast<double>(place) / 8, u = 1 - t;
        const Vec3 p =
            u * u * (1 + 2 * t) * at[0] + t * t * (1 + 2 * u) * at[8] + u * u * t * ra - t * t * u * rb;
        worst = std::max(worst, (p - at[place]).norm());
    }
    return worst;
}

class Divider {
public:
    Divider(const Curve3& curve, double near_mm, std::vector<double>& knots)
        : curve_(curve), near_mm_(near_mm), knots_(knots) {}

    void divide(double a, double b) {
        Nine at;
        for (std::size_t i = 0; i < 9; ++i) at[i] = curve_(place(a, b, i));
        divide(a, b, at, 1e300);
    }

private:
    static double place(double a, double b, std::size_t i) {
        return i == 8 ? b : a + (b - a) * static_cast<double>(i) / 8;
    }

    void divide(double a, double b, const Nine& at, double before_mm) {
        const double miss = misses(at);
        const bool near = miss <= near_mm_ || (miss <= kUnsure_mm && miss > kNoNearer * before_mm);
        if (near || b - a <= kShortest || knots_.size() >= kMostKnots) {
            knots_.push_back(b);
            return;
        }
        const double middle = (a + b) / 2;
        divide(a, middle, half(a, middle, at, 0), miss);
        divide(middle, b, half(middle, b, at, 4), miss);
    }

    /// Every second place is one of the whole's.
    Nine half(double a, double b, const Nine& whole, std::size_t first) const {
        Nine at;
        for (std::size_t i = 0; i < 9; ++i)
            at[i] = i % 2 == 0 ? whole[first + i / 2] : curve_(place(a, b, i));
        return at;
    }

    const Curve3& curve_;
    double near_mm_;
    std::vector<double>& knots_;
};

}  // namespace

std::vector<double> knotsFor(const Curve3& curve, double from, double to, double near_mm) {
    std::vector<double> knots = {from};
    Divider divider(curve, near_mm, knots);
    // Never one piece alone: three places of a wave can lie on a cubic by chance.
    const double third = (to - from) / 3;
    for (int i = 0; i < 3; ++i) divider.divide(from + i * third, i == 2 ? to : from + (i + 1) * third);
    return knots;
}

std::vector<Vec3> ratesAt(const Curve3& curve, const std::vector<double>& knots) {
    std::vector<Vec3> rates;
    const std::size_t last = knots.size() - 1;
    for (std::size_t i = 0; i <= last; ++i) {
        const double before = i > 0 ? knots[i] - knots[i - 1] : 1,
                     after = i < last ? knots[i + 1] - knots[i] : 1;
        const double step = std::min({kGreatestStep, before / 8, after / 8});
        if (i == 0)
            rates.push_back(rateBeside(curve, knots[i], step));
        else if (i == last)
            rates.push_back(rateBeside(curve, knots[i], -step));
        else
            rates.push_back(rateWithin(curve, knots[i], step));
    }
    return rates;
}

std::vector<Vec3> polesOf(const std::vector<double>& knots, const std::vector<Vec3>& points,
                          const std::vector<Vec3>& rates) {
    std::vector<Vec3> poles = {points.front()};
    for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
        const double third = (knots[i + 1] - knots[i]) / 3;
        poles.push_back(points[i] + third * rates[i]);
        poles.push_back(points[i + 1] - third * rates[i + 1]);
    }
    poles.push_back(points.back());
    return poles;
}

SplineEdge splineThrough(const Curve3& curve, double from, double to) {
    SplineEdge out;
    out.row.knots = knotsFor(curve, from, to);
    out.row.counts.assign(out.row.knots.size(), 2);
    out.row.counts.front() = out.row.counts.back() = 4;
    std::vector<Vec3> points;
    for (const double t : out.row.knots) points.push_back(curve(t));
    out.poles = polesOf(out.row.knots, points, ratesAt(curve, out.row.knots));
    return out;
}

}  // namespace hoopwright
