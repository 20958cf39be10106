#include "core/solid/fitted.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

// Steps for rates, of a parameter in radians or of a share: their error is far below kFitted_mm.
constexpr double kGreatestStep = 1e-3;
// Shorter than this nothing is gained: beside a touch the cut itself is known to some 1e-5 mm only.
constexpr double kShortest = 3e-4;
constexpr std::size_t kMostKnots = 3000;

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

/// The cubic over [a, b] that shares the curve's ends and rates misses its middle and quarters by this.
double misses(const Curve3& curve, double a, double b) {
    const double width = b - a, step = std::min(kGreatestStep, width / 8);
    const Vec3 pa = curve(a), pb = curve(b);
    const Vec3 ra = width * rateBeside(curve, a, step), rb = width * rateBeside(curve, b, -step);
    double worst = 0;
    for (const double t : {0.25, 0.5, 0.75}) {
        const double u = 1 - t;
        const Vec3 p = u * u * (1 + 2 * t) * pa + t * t * (1 + 2 * u) * pb + u * u * t * ra - t * t * u * rb;
        worst = std::max(worst, (p - curve(a + t * width)).norm());
    }
    return worst;
}

void divide(const Curve3& curve, double a, double b, double near_mm, std::vector<double>& knots) {
    if (b - a > kShortest && knots.size() < kMostKnots && misses(curve, a, b) > near_mm) {
        const double middle = (a + b) / 2;
        divide(curve, a, middle, near_mm, knots);
        divide(curve, middle, b, near_mm, knots);
        return;
    }
    knots.push_back(b);
}

}  // namespace

std::vector<double> knotsFor(const Curve3& curve, double from, double to, double near_mm) {
    std::vector<double> knots = {from};
    // Never one piece alone: three places of a wave can lie on a cubic by chance.
    const double third = (to - from) / 3;
    for (int i = 0; i < 3; ++i)
        divide(curve, from + i * third, i == 2 ? to : from + (i + 1) * third, near_mm, knots);
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
