// What a tube on a die springs back, from the shop's own trial bends.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/model/shop_book.h"

namespace hoopwright {

/// Fewer trial bends than this say nothing of how far they scatter, and no figure is made of them.
inline constexpr int kLeastSamples = 3;

/// Of one stock on one die. Intervals are half widths within which 95 of 100 further bends fall, by the
/// samples' own scatter (prediction interval of least squares, Student's t; from memory, see the tests).
struct Springback {
    std::string stock, die;
    int samples = 0, radius_samples = 0;
    double least_got_rad = 0, greatest_got_rad = 0;
    /// dialled = play + gain got. With all samples near one angle there is no telling the two apart: play is
    /// then 0.
    double play_rad = 0, gain = 1;
    std::optional<double> radius_mm, radius_interval_mm;  ///< nothing: fewer than kLeastSamples

    bool known() const { return samples >= kLeastSamples; }
    /// What to dial for that angle. @pre known()
    double dial_rad(double got_rad) const;
    double interval_rad(double got_rad) const;
    /// Is the angle more than kBeyond_rad outside those that were tried?
    bool beyond(double got_rad) const;

    // Of the fit.
    bool through_zero = false;
    double scatter_rad = 0;  ///< standard deviation of the samples about the line
    double mean_got_rad = 0, spread_rad2 = 0;
};
inline constexpr double kBeyond_rad = 15 * 3.14159265358979323846 / 180;

Springback springback(const std::vector<BendSample>& samples, const std::string& stock,
                      const std::string& die);

/// The 97.5 % point of Student's t. @pre freedom >= 1
double studentT975(int freedom);

}  // namespace hoopwright
