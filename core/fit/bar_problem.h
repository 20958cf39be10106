// A bar wish as numbers to be searched. Not for use outside core/fit.
#pragma once

#include <array>
#include <vector>

#include "core/fit/bar_fit.h"
#include "core/fit/bent_path.h"
#include "core/fit/constrained_search.h"

namespace hoopwright::fitting {

/// What a limit of the search is about.
struct LimitOf {
    FitLimit::Kind kind = FitLimit::Kind::gap;
    BarPlace place;  ///< gap
    int number = 0;  ///< line_gap: sample; least_straight: straight; greatest_angle: corner
};

class BarProblem {
public:
    /// @param step_mm  greatest distance of places at which the gap is looked at
    /// car and wish must outlive it.
    BarProblem(const FitCar& car, const BarWish& wish, std::vector<Vec3> start, double step_mm);

    std::vector<Vec3> pathAt(const Eigen::VectorXd& x) const;
    BentPath bentAt(const Eigen::VectorXd& x) const;
    SearchProblem problem();
    const std::vector<LimitOf>& limits() const { return limits_; }
    /// One more place at which the gap is looked at.
    void watch(const BarPlace& place) { extra_.push_back(place), listLimits(); }
    /// Asked for on top of the wanted gap, for what lies between the places.
    void tighten(double by_mm) { tighter_mm_ += by_mm; }
    /// Forgets the last place taken, so that any can come next.
    void forget() { last_.clear(); }
    /// The same places and limits for another wish of the same path.
    BarProblem as(const BarWish& wish) const;

private:
    struct Seen {
        Vec3 at = Vec3::Zero();
        FitCar::Near near;
    };
    std::optional<SearchValue> value(const Eigen::VectorXd& x);
    double wantedAt(const BentPath& path, const BarPlace& place) const;
    void listPlaces(double step_mm);
    void listLimits();
    std::optional<Seen> see(std::size_t place, const Vec3& at) const;

    const FitCar& car_;
    const BarWish* wish_;
    std::vector<Vec3> start_;
    std::vector<BarPlace> places_;  ///< counted in the mean, piece by piece
    std::vector<double> shares_;    ///< of its piece's length, of each counted place
    std::vector<BarPlace> extra_;   ///< looked at only
    std::vector<Vec3> samples_;     ///< of the lines followed
    std::vector<LimitOf> limits_;
    std::vector<Seen> last_;  ///< at the place last taken
    struct Look {
        Eigen::VectorXd x;
        std::vector<Seen> seen;
    };
    std::array<Look, 2> looks_;  ///< the latest first: one of these is taken next
    double tighter_mm_ = 0;
};

/// What the bends of a path cost, see BarWish::bend_costs_mm_per_deg.
double bendCost(const BentPath& path, const std::vector<double>& costs_mm_per_deg);

/// Greatest distance of two points of a line that is followed.
inline constexpr double kLineStep_mm = 25;
/// Points no farther apart than `step_mm` along the lines a wish follows, of those that lie beside the path
/// and not beyond its ends.
std::vector<Vec3> samplesBeside(const BentPath& path, const std::vector<std::vector<Vec3>>& lines,
                                double step_mm);

/// Where a path goes through the skin, as a sentence; empty where it does not.
std::string throughSkin(const FitCar& car, const BarWish& wish, const std::vector<Vec3>& path);

}  // namespace hoopwright::fitting
