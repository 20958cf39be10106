// Where the belt bar may be: the rule tables asked again and again as the bar moves.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/base/expected.h"
#include "rules/check.h"

namespace hoopwright {

/// A rule that has a say in where the belt bar is.
struct BandRule {
    std::string table, rule, title;
    friend bool operator==(const BandRule&, const BandRule&) = default;
};

/// A stretch of heights of the bar's middle that every rule allows.
struct BandStretch {
    double low_mm = 0, high_mm = 0;
    int low_rule = -1, high_rule = -1;  ///< what forbids it just beyond, index into BeltBand::rules; -1: the
                                        ///< stretch goes on past what was looked at
};
struct BandColumn {
    double x_mm = 0;
    std::vector<BandStretch> heights;  ///< upwards
};

/// Seen from the side: x forward, z up, of the middle of the bar where it passes behind the driver's neck.
/// The bar is moved without turning it.
struct BeltBand {
    Vec2 bar_at = Vec2::Zero();  ///< where it is now
    double bar_radius_mm = 0;
    bool allowed_now = false;
    std::vector<BandRule> rules;        ///< the required ones that measure where it is
    std::vector<BandRule> failing_now;  ///< those that forbid where it is
    std::vector<BandRule> silent;       ///< those that can't tell wherever the bar is: something is missing
    std::vector<BandColumn> columns;    ///< from the rear forward, kBandStep_mm apart; those with a stretch
    /// The columns joined: closed outlines. Their corners are allowed; between them the true edge may bow by
    /// up to 0.2 mm.
    std::vector<std::vector<Vec2>> outlines;
};
inline constexpr double kBandStep_mm = 10;
/// Heights are found to this by halving.
inline constexpr double kBandExact_mm = 0.005;

/// The required rules of these tables that measure belts, for one driver or (empty) for all who use that
/// driver's bar at once. The bar is the one the (first) driver's file names; looked at is what lies up to 600
/// mm behind the shoulders, 400 below and 300 above them. The reason says what is missing: no bar is named,
/// ...
Expected<BeltBand> beltBand(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage,
                            const std::string& driver);

/// The allowed place nearest to `from`, in the band; nothing where the band is empty.
std::optional<Vec2> nearestInBand(const BeltBand& band, const Vec2& from);

/// The belt bar moved up or down as it is built: its ends follow the bars they land on.
struct BeltSnap {
    double by_mm = 0;  ///< to add to the height of both ends: the least that makes the rules meet; 0: they do
    CageLayout layout;           ///< with it added
    Vec2 bar_at = Vec2::Zero();  ///< where the bar's middle then is, seen from the side
};
/// `inside_mm`: how far inside the edge of what is allowed to stop. The reason where no height will do, or
/// where the bar's ends are not given by height.
Expected<BeltSnap> snapBeltBar(std::span<const RuleTableRef> tables, const Job& job,
                               const std::string& driver, double inside_mm = 0.5);

}  // namespace hoopwright
