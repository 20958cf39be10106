// The greatest value of something round a tube, between its stations too.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <numbers>
#include <optional>
#include <vector>

#include "core/geometry/station_table.h"

namespace hoopwright {

struct RoundExtreme {
    double value = 0;
    double phi_rad = 0;
};

/// Values at evenly spaced angles: every `step`-th of a row, times `sign`.
class RoundSamples {
public:
    RoundSamples(const std::vector<double>& row, std::size_t step, double sign)
        : row_(row), step_(step), sign_(sign) {}
    std::size_t size() const { return row_.size() / step_; }
    double operator[](std::size_t i) const { return sign_ * row_[i * step_]; }

private:
    const std::vector<double>& row_;
    std::size_t step_;
    double sign_;
};

/// Three samples round a peak, `h` apart.
struct PeakSamples {
    double phi_rad, h, before, middle, after;
};

/// Finds one peak of f from the samples round it: by parabolas where it is smooth, by the tangents on either
/// side where it has a corner, and else by the golden section.
template <class Function>
class PeakSearch {
public:
    PeakSearch(const Function& f, const PeakSamples& peak) : f_(f), peak_(peak), at_peak_(peak.phi_rad) {}

    RoundExtreme refine() const {
        const PeakSamples& peak = peak_;
        const RoundExtreme sample{peak.middle, peak.phi_rad};
        auto found = byParabolas(peak);
        if (!found) found = byTangents(peak.phi_rad - peak.h, peak.phi_rad + peak.h);
        if (!found) found = byGoldenSection(peak.phi_rad - peak.h, peak.phi_rad + peak.h);
        return found->value > sample.value ? *found : sample;
    }

private:
    Turn turn(double phi_rad) const { return at_peak_.plus(Turn::little(phi_rad - peak_.phi_rad)); }

    /// Nothing if the curvature seen close up is not the one seen from afar.
    std::optional<RoundExtreme> byParabolas(const PeakSamples& peak) const {
        double bend = peak.before - 2 * peak.middle + peak.after;
        if (!(bend < 0)) return std::nullopt;
        double centre = peak.phi_rad + peak.h * (peak.before - peak.after) / (2 * bend);
        double curvature = bend / (peak.h * peak.h);
        for (double step : {4e-3, 2e-4}) {
            const Turn at = turn(centre), by = Turn::little(step);
            const double a = f_(at.less(by)), b = f_(at), c = f_(at.plus(by));
            bend = a - 2 * b + c;
            const double closer = bend / (step * step);
            const double shift = step * (a - c) / (2 * bend);
            const bool smooth = closer < 0.5 * curvature && closer > 2 * curvature && std::abs(shift) < step;
            if (!smooth) return std::nullopt;
            centre += shift;
            curvature = closer;
        }
        return RoundExtreme{f_(turn(centre)), centre};
    }

    /// A corner is where the tangents from the two sides cross; each round comes nearer by the square.
    std::optional<RoundExtreme> byTangents(double from, double to) const {
        double centre = 0.5 * (from + to);
        for (int round = 0; round < 8; ++round) {
            const double width = to - from, probe = width / 64;
            const double left = f_(turn(from)), right = f_(turn(to));
            const double rise = (f_(turn(from + probe)) - left) / probe,
                         fall = (right - f_(turn(to - probe))) / probe;
            centre = from + (right - left - fall * width) / (rise - fall);
            if (!(rise > 0 && fall < 0 && centre > from && centre < to)) return std::nullopt;
            if (width < 1e-6) return RoundExtreme{f_(turn(centre)), centre};
            const double reach = std::min(width / 8, 4 * width * width);
            const double top = f_(turn(centre));
            if (f_(turn(centre - reach)) >= top || f_(turn(centre + reach)) >= top) return std::nullopt;
            from = centre - reach;
            to = centre + reach;
        }
        return std::nullopt;
    }

    RoundExtreme byGoldenSection(double from, double to) const {
        const double ratio = std::numbers::phi - 1;
        double a = to - ratio * (to - from), b = from + ratio * (to - from);
        double at_a = f_(turn(a)), at_b = f_(turn(b));
        while (to - from > 1e-12) {
            if (at_a >= at_b) {
                to = b;
                b = a;
                at_b = at_a;
                a = to - ratio * (to - from);
                at_a = f_(turn(a));
            } else {
                from = a;
                a = b;
                at_a = at_b;
                b = from + ratio * (to - from);
                at_b = f_(turn(b));
            }
        }
        return at_a > at_b ? RoundExtreme{at_a, a} : RoundExtreme{at_b, b};
    }

    const Function& f_;
    PeakSamples peak_;
    Turn at_peak_;
};

/// The samples that are no less than their neighbours, with them; highest first.
inline std::vector<PeakSamples> peaksOf(const RoundSamples& samples) {
    const std::size_t n = samples.size();
    const double h = 2 * std::numbers::pi / static_cast<double>(n);
    std::vector<PeakSamples> peaks;
    double before = samples[n - 1], middle = samples[0];
    for (std::size_t i = 0; i < n; ++i) {
        const double after = samples[i + 1 == n ? 0 : i + 1];
        if (middle >= before && middle >= after)
            peaks.push_back({h * static_cast<double>(i), h, before, middle, after});
        before = middle;
        middle = after;
    }
    if (peaks.size() > 1) std::ranges::stable_sort(peaks, std::ranges::greater{}, &PeakSamples::middle);
    return peaks;
}

/// The greatest value of f(Turn) over a turn, given its samples at 2 pi i / n (n >= 3, no NaN). Every peak of
/// the samples that could hold it is looked into. Where f is smooth the value is good to about 1e-11 of its
/// range, the angle to about 1e-6 rad.
template <class Function>
RoundExtreme greatestRound(const Function& f, const RoundSamples& samples) {
    const std::vector<PeakSamples> peaks = peaksOf(samples);
    RoundExtreme best{peaks.front().middle, peaks.front().phi_rad};
    for (const PeakSamples& peak : peaks) {
        // Between samples it can rise as steeply as it does beside them, and no more.
        const double could_reach =
            peak.middle + std::max(peak.middle - peak.before, peak.middle - peak.after);
        if (could_reach <= best.value + 1e-12) continue;
        const RoundExtreme found = PeakSearch(f, peak).refine();
        if (found.value > best.value) best = found;
    }
    if (best.phi_rad < 0) best.phi_rad += 2 * std::numbers::pi;
    return best;
}

}  // namespace hoopwright
