#include "core/fit/fit_limits.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace hoopwright::fitting {
namespace {

constexpr double kHolds = 1e-3;  // of score for a mm: less is rounding
constexpr double kRadiusProbe_mm = 0.01;

class Words {
public:
    Words(const FitCar& car, const BarWish& wish, const BarProblem& bar, const SearchResult& found)
        : car_(car), wish_(wish), path_(bar.bentAt(found.x)) {}

    FitLimit of(const LimitOf& limit, double worth) const {
        FitLimit out;
        out.kind = limit.kind;
        out.worth_mm_per_mm = worth;
        switch (limit.kind) {
            case FitLimit::Kind::gap: {
                const BarPlace at = onStraight(limit.place);
                place(out, at);
                const auto near = car_.nearest(out.at);
                out.text =
                    (near ? car_.nameAt(*near, out.at) : std::string("skin")) + " gap at " + piece(at.piece);
                break;
            }
            case FitLimit::Kind::line_gap: {
                const Vec3 p = samplesBeside(BentPath(wish_.start, wish_.tube.bend_radius_mm), wish_.follow,
                                             kLineStep_mm)[static_cast<std::size_t>(limit.number)];
                const BarPlace near = path_.nearest(p).place;
                place(out, near);
                out.text = "gap to the line it follows at " + piece(near.piece);
                break;
            }
            case FitLimit::Kind::least_straight:
                place(out, {2 * limit.number, 0.5});
                out.text = "least straight between bends " + std::to_string(limit.number) + " and " +
                           std::to_string(limit.number + 1);
                break;
            case FitLimit::Kind::end_straight:
                place(out, {2 * limit.number, 0.5});
                out.text = std::string("least straight ") +
                           (limit.number == 0 ? "before the first bend" : "after the last bend");
                break;
            case FitLimit::Kind::greatest_angle:
                place(out, {2 * limit.number - 1, 0.5});
                out.text = "greatest bend angle of the die at " + piece(2 * limit.number - 1);
                break;
            case FitLimit::Kind::bend_radius:
            case FitLimit::Kind::travel:
                break;
        }
        return out;
    }

    std::string piece(int number) const {
        const auto k = static_cast<std::size_t>(number);
        if (k < wish_.piece_names.size() && !wish_.piece_names[k].empty())
            return "the " + wish_.piece_names[k];
        if (BentPath::isBend(number)) return "bend " + std::to_string((number + 1) / 2);
        if (path_.pieces() == 1) return "the straight";
        if (number == 0) return "the first straight";
        if (number + 1 == path_.pieces()) return "the last straight";
        return "the straight behind bend " + std::to_string(number / 2);
    }

    void place(FitLimit& limit, const BarPlace& at) const {
        limit.at = path_.point(at);
        limit.station_mm = wish_.landing_mm[0] + at.share * path_.length_mm(at.piece);
        for (int i = 0; i < at.piece; ++i) limit.station_mm += path_.length_mm(i);
    }

private:
    /// Where a bend begins or ends is also a place of the straight there.
    static BarPlace onStraight(const BarPlace& at) {
        if (!BentPath::isBend(at.piece)) return at;
        if (at.share <= 0) return {at.piece - 1, 1};
        return at.share >= 1 ? BarPlace{at.piece + 1, 0} : at;
    }

    const FitCar& car_;
    const BarWish& wish_;
    BentPath path_;
};

void merge(std::vector<FitLimit>& limits, FitLimit one) {
    const auto same = std::ranges::find_if(
        limits, [&](const FitLimit& other) { return other.kind == one.kind && other.text == one.text; });
    if (same == limits.end()) {
        limits.push_back(std::move(one));
        return;
    }
    const double both = same->worth_mm_per_mm + one.worth_mm_per_mm;
    if (one.worth_mm_per_mm > same->worth_mm_per_mm) *same = std::move(one);
    same->worth_mm_per_mm = both;
}

struct Worths {
    EasedWorth of;
    double of_score = 1;  ///< 0 where limits contradict each other: worth is then what would be missed less
};

Worths worthsOf(const BarProblem& bar, const SearchResult& found) {
    const Eigen::Index n = found.x.size();
    if (found.short_by > kFitError_mm) {
        // All multipliers together are then the price of a mm missed.
        const double price = found.multipliers.sum();
        return {
            {found.multipliers / (price > 0 ? price : 1), Eigen::VectorXd::Zero(n), Eigen::VectorXd::Zero(n)},
            0};
    }
    Eigen::VectorXd ease = Eigen::VectorXd::Zero(found.value.limits.size());
    for (Eigen::Index i = 0; i < ease.size(); ++i) {
        const FitLimit::Kind kind = bar.limits()[static_cast<std::size_t>(i)].kind;
        if (kind == FitLimit::Kind::gap || kind == FitLimit::Kind::line_gap) ease[i] = kEased_mm;
    }
    BarProblem same = bar;
    return {easedWorth(found, same.problem(), ease), 1};
}

/// By how much the score with its limits grows with the radius: at the best corners these may stay (the
/// envelope theorem).
double worthOfRadius(const FitCar& car, const BarWish& wish, const BarProblem& bar, const SearchResult& found,
                     const Worths& worths) {
    BarWish wider = wish;
    wider.tube.bend_radius_mm += kRadiusProbe_mm;
    BarProblem same = bar.as(wider);
    const auto there = same.problem().at(found.x);
    if (!there || there->limits.size() != found.value.limits.size() || car.meshes().empty()) return 0;
    return (worths.of_score * (there->f - found.value.f) -
            worths.of.limits.dot(there->limits - found.value.limits)) /
           kRadiusProbe_mm;
}

}  // namespace

std::vector<FitLimit> limitsOf(const FitCar& car, const BarWish& wish, const BarProblem& bar,
                               const SearchResult& found) {
    const Words words(car, wish, bar, found);
    const Worths worths = worthsOf(bar, found);
    std::vector<FitLimit> limits;
    const std::vector<LimitOf>& about = bar.limits();
    for (std::size_t i = 0; i < about.size(); ++i) {
        const double worth = worths.of.limits[static_cast<Eigen::Index>(i)];
        if (worth > kHolds) merge(limits, words.of(about[i], worth));
    }
    for (Eigen::Index k = 0; k < found.x.size(); ++k) {
        const Freedom& freedom = wish.freedoms[static_cast<std::size_t>(k)];
        const double worth = std::max(worths.of.low[k], worths.of.high[k]);
        if (worth <= kHolds || freedom.moves.empty()) continue;
        FitLimit end{FitLimit::Kind::travel, "", 0, Vec3::Zero(), worth};
        const int point = std::visit([](const auto& move) { return move.point; }, freedom.moves.front());
        end.at = bar.pathAt(found.x)[static_cast<std::size_t>(point)];
        end.text = "how far point " + std::to_string(point + 1) + " of the path may go";
        merge(limits, std::move(end));
    }
    if (const double worth = wish.start.size() > 2 ? worthOfRadius(car, wish, bar, found, worths) : 0;
        worth > kHolds) {
        FitLimit radius{FitLimit::Kind::bend_radius, "bend radius", 0, Vec3::Zero(), worth};
        words.place(radius, {1, 0.5});
        merge(limits, std::move(radius));
    }
    std::ranges::stable_sort(limits, std::greater{}, &FitLimit::worth_mm_per_mm);
    return limits;
}

}  // namespace hoopwright::fitting
