#include "core/geometry/curve.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {

std::vector<double> monotoneSlopes(const std::vector<double>& x, const std::vector<double>& y) {
    const std::size_t n = x.size();
    std::vector<double> chord(n - 1), slope(n, 0.0);
    for (std::size_t i = 0; i + 1 < n; ++i) chord[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
    slope.front() = chord.front();
    slope.back() = chord.back();
    for (std::size_t i = 1; i + 1 < n; ++i) {
        if (chord[i - 1] * chord[i] <= 0) continue;
        const double h0 = x[i] - x[i - 1], h1 = x[i + 1] - x[i];
        const double w0 = 2 * h1 + h0, w1 = h1 + 2 * h0;
        slope[i] = (w0 + w1) / (w0 / chord[i - 1] + w1 / chord[i]);
    }
    return slope;
}

double hermite(double x, double x0, double x1, double y0, double y1, double slope0, double slope1) {
    const double h = x1 - x0, t = (x - x0) / h, s = 1 - t;
    return s * s * (1 + 2 * t) * y0 + t * t * (1 + 2 * s) * y1 + h * t * s * (s * slope0 - t * slope1);
}

namespace {

/// Barry and Goldman's form of the curve, parameter t between t1 and t2.
Vec3 catmullRom(const Vec3& p0, const Vec3& p1, const Vec3& p2, const Vec3& p3, double share) {
    const auto knot = [](double t, const Vec3& a, const Vec3& b) {
        return t + std::sqrt(std::max((b - a).norm(), 1e-6));
    };
    const double t0 = 0, t1 = knot(t0, p0, p1), t2 = knot(t1, p1, p2), t3 = knot(t2, p2, p3);
    const double t = t1 + share * (t2 - t1);
    const auto mix = [t](const Vec3& a, double ta, const Vec3& b, double tb) -> Vec3 {
        return ((tb - t) * a + (t - ta) * b) / (tb - ta);
    };
    const Vec3 a1 = mix(p0, t0, p1, t1), a2 = mix(p1, t1, p2, t2), a3 = mix(p2, t2, p3, t3);
    return mix(mix(a1, t0, a2, t2), t1, mix(a2, t1, a3, t3), t2);
}

}  // namespace

std::vector<Vec3> smoothCurve(const std::vector<Vec3>& given, int steps, bool closed, double corner_rad) {
    std::vector<Vec3> points;
    for (const Vec3& p : given)
        if (points.empty() || (p - points.back()).norm() > 1e-6) points.push_back(p);
    if (closed && points.size() > 2 && (points.front() - points.back()).norm() < 1e-6) points.pop_back();
    const auto n = static_cast<int>(points.size());
    if (n < 3) {
        if (closed && n > 0) points.push_back(points.front());
        return points;
    }
    const auto at = [&](int i) -> Vec3 {
        if (closed) return points[static_cast<std::size_t>((i + n) % n)];
        if (i < 0) return 2 * points[0] - points[1];
        if (i >= n)
            return 2 * points[static_cast<std::size_t>(n - 1)] - points[static_cast<std::size_t>(n - 2)];
        return points[static_cast<std::size_t>(i)];
    };
    const auto corner = [&](int i) {
        const Vec3 in = at(i) - at(i - 1), out = at(i + 1) - at(i);
        return std::atan2(in.cross(out).norm(), in.dot(out)) > corner_rad;
    };
    std::vector<Vec3> curve;
    for (int i = 0; i < (closed ? n : n - 1); ++i) {
        const Vec3 p1 = at(i), p2 = at(i + 1);
        // Beyond a corner the curve runs on as if it ended there.
        const Vec3 p0 = corner(i) ? Vec3(2 * p1 - p2) : at(i - 1),
                   p3 = corner(i + 1) ? Vec3(2 * p2 - p1) : at(i + 2);
        for (int s = 0; s < steps; ++s)
            curve.push_back(catmullRom(p0, p1, p2, p3, static_cast<double>(s) / steps));
    }
    curve.push_back(at(closed ? n : n - 1));
    return curve;
}

}  // namespace hoopwright
