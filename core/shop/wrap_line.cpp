#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/shop/cope_sheet.h"

namespace hoopwright {
namespace {

/// Values at four evenly spaced places carried on by t steps past the last.
double carriedOn(const std::array<double, 4>& v, double t) {
    // Newton's backward differences.
    const double d1 = v[3] - v[2], d2 = v[3] - 2 * v[2] + v[1], d3 = v[3] - 3 * v[2] + 3 * v[1] - v[0];
    return v[3] + t * d1 + t * (t + 1) / 2 * d2 + t * (t + 1) * (t + 2) / 6 * d3;
}

class Round {
public:
    explicit Round(const std::vector<double>& s) : s_(s), n_(static_cast<int>(s.size())) {}

    /// Between stations i and i + 1, in steps from i: the corner, if there is one.
    std::optional<Vec2> corner(int i) const {
        const auto bend = [&](int k) { return std::abs(at(k + 2) - at(k + 1) - at(k) + at(k - 1)); };
        const double beside = std::max({bend(i - 3), bend(i + 3), bend(i - 4), bend(i + 4)});
        if (bend(i) < 3 * beside + kFlat_mm) return std::nullopt;
        const std::array<double, 4> before = {at(i - 3), at(i - 2), at(i - 1), at(i)};
        const std::array<double, 4> after = {at(i + 4), at(i + 3), at(i + 2), at(i + 1)};
        const auto apart = [&](double t) { return carriedOn(before, t) - carriedOn(after, 1 - t); };
        double low = 0, high = 1;
        if (apart(low) * apart(high) > 0) return std::nullopt;
        for (int step = 0; step < 50; ++step) {
            const double middle = 0.5 * (low + high);
            (apart(low) * apart(middle) <= 0 ? high : low) = middle;
        }
        return Vec2(low, carriedOn(before, low));
    }
    double at(int k) const { return s_[static_cast<std::size_t>(((k % n_) + n_) % n_)]; }

private:
    static constexpr double kFlat_mm = 1e-3;
    const std::vector<double>& s_;
    int n_;
};

}  // namespace

std::vector<Vec2> wrapLine(const std::vector<double>& s_mm) {
    constexpr double kSame = 1e-4;
    const Round round(s_mm);
    const int n = static_cast<int>(s_mm.size());
    const double h = 2 * std::numbers::pi / n;
    std::vector<Vec2> out;
    for (int i = 0; i < n; ++i) {
        out.emplace_back(h * i, round.at(i));
        const std::optional<Vec2> corner = round.corner(i);
        if (corner && corner->x() > kSame && corner->x() < 1 - kSame)
            out.emplace_back(h * (i + corner->x()), corner->y());
    }
    out.emplace_back(2 * std::numbers::pi, round.at(0));
    return out;
}

std::vector<double> groundTo(const CopeProfile& profile) {
    std::vector<double> out = profile.outer.s_mm;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] += profile.to_full_wall_mm[i];
    return out;
}

}  // namespace hoopwright
