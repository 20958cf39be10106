#include "core/shop/springback.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>

namespace hoopwright {
namespace {

/// Angles that lie closer together than this cannot tell play from gain.
constexpr double kSpread_rad = 10 * 3.14159265358979323846 / 180;

void fitAngles(Springback& out, const std::vector<BendSample>& samples) {
    const auto n = static_cast<double>(samples.size());
    double sum_got = 0, sum_dialled = 0;
    for (const BendSample& s : samples) {
        sum_got += s.got_rad;
        sum_dialled += s.dialled_rad;
    }
    out.through_zero = out.greatest_got_rad - out.least_got_rad < kSpread_rad;
    out.mean_got_rad = out.through_zero ? 0 : sum_got / n;
    const double mean_dialled = out.through_zero ? 0 : sum_dialled / n;
    double across = 0;
    for (const BendSample& s : samples) {
        const double x = s.got_rad - out.mean_got_rad;
        out.spread_rad2 += x * x;
        across += x * (s.dialled_rad - mean_dialled);
    }
    out.gain = across / out.spread_rad2;
    out.play_rad = mean_dialled - out.gain * out.mean_got_rad;
    double off = 0;
    for (const BendSample& s : samples) {
        const double miss = s.dialled_rad - out.dial_rad(s.got_rad);
        off += miss * miss;
    }
    out.scatter_rad = std::sqrt(off / (n - (out.through_zero ? 1 : 2)));
}

void fitRadius(Springback& out, const std::vector<BendSample>& samples) {
    std::vector<double> radii;
    for (const BendSample& s : samples)
        if (s.radius_mm) radii.push_back(*s.radius_mm);
    out.radius_samples = static_cast<int>(radii.size());
    if (out.radius_samples < kLeastSamples) return;
    const auto n = static_cast<double>(radii.size());
    double sum = 0, off = 0;
    for (const double r : radii) sum += r;
    out.radius_mm = sum / n;
    for (const double r : radii) off += (r - *out.radius_mm) * (r - *out.radius_mm);
    out.radius_interval_mm =
        studentT975(out.radius_samples - 1) * std::sqrt(off / (n - 1)) * std::sqrt(1 + 1 / n);
}

}  // namespace

double studentT975(int freedom) {
    assert(freedom >= 1);
    // Table of any book on statistics, from memory.
    constexpr std::array<double, 10> kTable = {12.7062, 4.3027, 3.1824, 2.7764, 2.5706,
                                               2.4469,  2.3646, 2.3060, 2.2622, 2.2281};
    if (freedom <= static_cast<int>(kTable.size())) return kTable[static_cast<std::size_t>(freedom - 1)];
    // Expansion about the normal (Abramowitz and Stegun, 26.7.5, from memory): good to 1e-4 from here on.
    const double z = 1.959964, v = freedom, z3 = z * z * z, z5 = z3 * z * z;
    return z + (z3 + z) / (4 * v) + (5 * z5 + 16 * z3 + 3 * z) / (96 * v * v) +
           (3 * z5 * z * z + 19 * z5 + 17 * z3 - 15 * z) / (384 * v * v * v);
}

double Springback::dial_rad(double got_rad) const {
    return play_rad + gain * got_rad;
}

double Springback::interval_rad(double got_rad) const {
    assert(known());
    const double x = got_rad - mean_got_rad;
    const double mean_part = through_zero ? 0 : 1.0 / samples;
    return studentT975(samples - (through_zero ? 1 : 2)) * scatter_rad *
           std::sqrt(1 + mean_part + x * x / spread_rad2);
}

bool Springback::beyond(double got_rad) const {
    return got_rad < least_got_rad - kBeyond_rad || got_rad > greatest_got_rad + kBeyond_rad;
}

Springback springback(const std::vector<BendSample>& samples, const std::string& stock,
                      const std::string& die) {
    Springback out;
    out.stock = stock;
    out.die = die;
    std::vector<BendSample> own;
    for (const BendSample& s : samples)
        if (s.stock == stock && s.die == die) own.push_back(s);
    out.samples = static_cast<int>(own.size());
    if (own.empty()) return out;
    const auto [least, greatest] = std::ranges::minmax(own, {}, &BendSample::got_rad);
    out.least_got_rad = least.got_rad;
    out.greatest_got_rad = greatest.got_rad;
    if (out.known()) fitAngles(out, own);
    fitRadius(out, own);
    return out;
}

}  // namespace hoopwright
