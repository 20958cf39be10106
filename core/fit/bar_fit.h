// A bar fitted to a car: corners where it stands nearest to the skin, or to lines of the car, that its die
// and the wanted gap allow.
#pragma once

#include <array>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "core/base/expected.h"
#include "core/fit/fit_car.h"
#include "core/geometry/centreline.h"

namespace hoopwright {

/// The gap asked for where nothing else is said. Common practice, no source: an inch is called good work.
inline constexpr double kUsualGap_mm = 25;

/// The tube and what bends it. Lengths [mm].
struct FitTube {
    double od_mm = 0;              ///< > 0
    double bend_radius_mm = 0;     ///< of the centreline, > 0
    double least_straight_mm = 0;  ///< between two bends, and behind each end: either may go in first
    double greatest_angle_rad = 3.0;
};

/// One number a fit may change, from where the start has it: a point goes along a direction, or an end along
/// the bar it lands on. Several points may go together, as the two sides of a hoop do.
struct Freedom {
    struct Straight {
        int point = 0;               ///< of the path
        Vec3 along = Vec3::UnitY();  ///< its way [mm] for each mm of the number
    };
    struct OnHost {
        int point = 0;
        Centreline host;
        double station_mm = 0;  ///< at the start
        double sense = 1;       ///< mm along the host for each mm of the number
    };
    std::vector<std::variant<Straight, OnHost>> moves;
    double low_mm = -std::numeric_limits<double>::infinity();
    double high_mm = std::numeric_limits<double>::infinity();
};

/// What a bar is to be. In car axes and mm.
struct BarWish {
    FitTube tube;
    double least_gap_mm = 0;  ///< from the tube's outside to the skin, >= 0
    std::vector<Vec3> start;  ///< the path it starts from: ends and corners, within the skin
    std::vector<Freedom> freedoms;
    /// Lines of the car it is to follow; then their mean distance to the tube is made least, instead of the
    /// tube's mean gap to the skin, and they too are stayed off by least_gap_mm.
    std::vector<std::vector<Vec3>> follow;
    /// How much of each end is not held to the gap and not counted: there it lands on something.
    std::array<double, 2> landing_mm = {0, 0};
    /// What gap an end itself has where its landing begins. Where that is less than least_gap_mm, the gap
    /// held to grows from there along the end's straight, by a tenth of the way.
    std::array<double, 2> end_gap_mm = {std::numeric_limits<double>::infinity(),
                                        std::numeric_limits<double>::infinity()};
    /// mm of mean gap that a degree of bend at each corner must buy; for none: empty. A number of ours: there
    /// is no published one.
    std::vector<double> bend_costs_mm_per_deg;
    /// What each straight and bend is called, "left leg" and so on; may be empty.
    std::vector<std::string> piece_names;
    LengthUnit unit = LengthUnit::mm;  ///< of sentences
};

/// How a bar stands off, its landings left out. Gaps are from the tube's outside; negative: through the skin.
struct FitGoodness {
    double least_mm = 0, mean_mm = 0, greatest_mm = 0;
    double least_station_mm = 0, greatest_station_mm = 0;  ///< along the whole bar
    /// Of the lines that are followed, to the tube; nothing where none are.
    struct OfLines {
        double least_mm = 0, mean_mm = 0, greatest_mm = 0;
    };
    std::optional<OfLines> lines;
    /// What was made least: the mean of the skin or of the lines, and what bends cost.
    double score_mm = 0;
};

/// What keeps a fitted bar from going nearer.
struct FitLimit {
    enum class Kind { gap, line_gap, bend_radius, least_straight, end_straight, greatest_angle, travel };
    Kind kind = Kind::gap;
    std::string text;  ///< "roof gap at the left roof corner"
    double station_mm = 0;
    Vec3 at = Vec3::Zero();  ///< on the centreline
    /// What the score would gain for a mm less of this limit, all gaps a mm less together; of a bend radius:
    /// for each mm it were smaller. Where limits contradict each other: how much less would be missed.
    double worth_mm_per_mm = 0;
};

struct BarFit {
    std::vector<Vec3> path;  ///< ends and corners
    Centreline line;         ///< bent by that radius
    FitGoodness before, after;
    std::vector<FitLimit> limits;  ///< the dearest first
    double short_by_mm = 0;        ///< of the worst limit, where not all can be met; else 0
    std::string trouble;           ///< then: which contradict each other, as a sentence; else empty
    std::string ends_note;         ///< of an end that itself stands nearer than asked, a sentence; else empty
    std::vector<double> moved_mm;  ///< each freedom
};

/// See BarWish::end_gap_mm.
inline constexpr double kComesFree = 0.1;
/// Gaps of a fit are met to this.
inline constexpr double kFitError_mm = 0.05;
/// So much less of every gap at once is looked at to see what each is worth: little, but clear of rounding.
inline constexpr double kEased_mm = 0.1;

/// How a path would stand off, as fitBar() counts it; before any bend is fitted, too.
FitGoodness goodnessOf(const FitCar& car, const BarWish& wish, const std::vector<Vec3>& path);

/// A best bar near the start: no small move of a free number betters its score. @pre start has two points or
/// more; freedoms name points of it. Refuses, with a sentence: no skin and no line to stand off from, a start
/// that goes through the skin, sizes that are none.
Expected<BarFit> fitBar(const FitCar& car, const BarWish& wish);
/// The best of several starts of one wish: each has the wish's corners. The freedoms are of each start alike.
Expected<BarFit> fitBar(const FitCar& car, const BarWish& wish, std::span<const std::vector<Vec3>> starts);

}  // namespace hoopwright
