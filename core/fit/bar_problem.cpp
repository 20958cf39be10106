#include "core/fit/bar_problem.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace hoopwright::fitting {
namespace {

constexpr double kProbe_mm = 1e-4;      // for slopes of places; these are smooth, so one side is enough
constexpr double kCentreInside_mm = 1;  // the centreline stays so far inside, whatever else is missed
constexpr double kSmallBend_deg = 0.5;  // rounds the corner of |angle| at no bend at all

double degrees(double rad) {
    return rad * 180 / std::numbers::pi;
}

}  // namespace

double bendCost(const BentPath& path, const std::vector<double>& costs_mm_per_deg) {
    double cost = 0;
    for (std::size_t i = 0; i < std::min(costs_mm_per_deg.size(), path.points().size()); ++i) {
        if (!(costs_mm_per_deg[i] > 0)) continue;
        const double bent_deg = degrees(path.angle_rad(static_cast<int>(i)));
        cost += costs_mm_per_deg[i] * (std::hypot(bent_deg, kSmallBend_deg) - kSmallBend_deg);
    }
    return cost;
}

std::vector<Vec3> samplesBeside(const BentPath& path, const std::vector<std::vector<Vec3>>& lines,
                                double step_mm) {
    std::vector<Vec3> out;
    const int last = path.pieces() - 1;
    for (const auto& line : lines)
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            const double length = (line[i + 1] - line[i]).norm();
            const int parts = std::max(1, static_cast<int>(std::ceil(length / step_mm)));
            for (int k = 0; k < parts + (i + 2 == line.size() ? 1 : 0); ++k) {
                const Vec3 p = line[i] + (line[i + 1] - line[i]) * k / parts;
                const BarPlace near = path.nearest(p).place;
                const bool beyond =
                    (near.piece == 0 && near.share <= 0) || (near.piece == last && near.share >= 1);
                if (!beyond) out.push_back(p);
            }
        }
    return out;
}

BarProblem::BarProblem(const FitCar& car, const BarWish& wish, std::vector<Vec3> start, double step_mm)
    : car_(car), wish_(&wish), start_(std::move(start)) {
    listPlaces(step_mm);
    const BentPath as_given(wish.start, wish.tube.bend_radius_mm);
    samples_ = samplesBeside(as_given, wish.follow, kLineStep_mm);
    listLimits();
}

/// The trapezoid rule on each piece.
void BarProblem::listPlaces(double step_mm) {
    const BentPath path(start_, wish_->tube.bend_radius_mm, wish_->landing_mm);
    for (int piece = 0; piece < path.pieces(); ++piece) {
        const double length = std::max(path.length_mm(piece), 1.0);
        const int parts =
            std::max(BentPath::isBend(piece) ? 4 : 2, static_cast<int>(std::ceil(length / step_mm)));
        for (int i = 0; i <= parts; ++i) {
            places_.push_back({piece, static_cast<double>(i) / parts});
            shares_.push_back((i == 0 || i == parts ? 0.5 : 1.0) / parts);
        }
    }
}

void BarProblem::listLimits() {
    limits_.clear();
    if (!car_.meshes().empty()) {
        for (const BarPlace& place : places_) limits_.push_back({FitLimit::Kind::gap, place, 0});
        for (const BarPlace& place : extra_) limits_.push_back({FitLimit::Kind::gap, place, 0});
    }
    for (int i = 0; i < static_cast<int>(samples_.size()); ++i)
        limits_.push_back({FitLimit::Kind::line_gap, {}, i});
    const int points = static_cast<int>(start_.size());
    if (points > 2)
        for (int i = 0; i + 1 < points; ++i)
            limits_.push_back(
                {i == 0 || i + 2 == points ? FitLimit::Kind::end_straight : FitLimit::Kind::least_straight,
                 {},
                 i});
    for (int i = 1; i + 1 < points; ++i) limits_.push_back({FitLimit::Kind::greatest_angle, {}, i});
}

std::vector<Vec3> BarProblem::pathAt(const Eigen::VectorXd& x) const {
    std::vector<Vec3> path = start_;
    for (Eigen::Index k = 0; k < x.size(); ++k)
        for (const auto& move : wish_->freedoms[static_cast<std::size_t>(k)].moves) {
            if (const auto* straight = std::get_if<Freedom::Straight>(&move)) {
                path[static_cast<std::size_t>(straight->point)] += x[k] * straight->along;
            } else {
                const auto& on_host = *std::get_if<Freedom::OnHost>(&move);
                path[static_cast<std::size_t>(on_host.point)] +=
                    on_host.host.point(on_host.station_mm + on_host.sense * x[k]) -
                    on_host.host.point(on_host.station_mm);
            }
        }
    return path;
}

BentPath BarProblem::bentAt(const Eigen::VectorXd& x) const {
    return BentPath(pathAt(x), wish_->tube.bend_radius_mm, wish_->landing_mm);
}

BarProblem BarProblem::as(const BarWish& wish) const {
    BarProblem out = *this;
    out.wish_ = &wish;
    out.forget();
    return out;
}

/// The nearest place of the skin; nothing where the skin lies between here and where it was last.
std::optional<BarProblem::Seen> BarProblem::see(std::size_t place, const Vec3& at) const {
    double within = MeshTree::kAnyDistance;
    if (place < last_.size()) {
        const Seen& before = last_[place];
        const double gone = (at - before.at).norm();
        if (gone >= before.near.distance_mm && car_.isBetween(before.at, at)) return std::nullopt;
        within = (before.near.distance_mm + gone) * (1 + 1e-9) + 1e-6;
    }
    const auto near = car_.nearest(at, within);
    if (!near) return std::nullopt;
    return Seen{at, *near};
}

double BarProblem::wantedAt(const BentPath& path, const BarPlace& place) const {
    double wanted = wish_->least_gap_mm + tighter_mm_;
    const double along = place.share * path.length_mm(place.piece);
    if (place.piece == 0) wanted = std::min(wanted, wish_->end_gap_mm[0] + kComesFree * along);
    if (place.piece + 1 == path.pieces())
        wanted = std::min(wanted, wish_->end_gap_mm[1] + kComesFree * (path.length_mm(place.piece) - along));
    return wanted;
}

SearchProblem BarProblem::problem() {
    SearchProblem out;
    const auto count = static_cast<Eigen::Index>(wish_->freedoms.size());
    out.low.resize(count);
    out.high.resize(count);
    for (Eigen::Index k = 0; k < count; ++k) {
        out.low[k] = wish_->freedoms[static_cast<std::size_t>(k)].low_mm;
        out.high[k] = wish_->freedoms[static_cast<std::size_t>(k)].high_mm;
    }
    out.at = [this](const Eigen::VectorXd& x) { return value(x); };
    out.taken = [this](const Eigen::VectorXd& x) {
        for (const Look& look : looks_)
            if (look.x.size() == x.size() && look.x == x) last_ = look.seen;
    };
    return out;
}

std::optional<SearchValue> BarProblem::value(const Eigen::VectorXd& x) {
    const BentPath path = bentAt(x);
    const Eigen::Index n = x.size();
    const std::size_t looks = car_.meshes().empty() ? 0 : places_.size() + extra_.size();
    const auto placeAt = [&](std::size_t i) -> const BarPlace& {
        return i < places_.size() ? places_[i] : extra_[i - places_.size()];
    };
    const double radius = wish_->tube.od_mm / 2, wanted = wish_->least_gap_mm + tighter_mm_;

    std::vector<Seen> seen(looks);
    std::vector<Vec3> away(looks, Vec3::Zero());  // slope of the gap as the place moves
    for (std::size_t i = 0; i < looks; ++i) {
        const auto one = see(i, path.point(placeAt(i)));
        if (!one) return std::nullopt;
        seen[i] = *one;
        if (one->near.distance_mm > 0) away[i] = (one->at - one->near.at) / one->near.distance_mm;
    }
    std::vector<BentPath::Near> beside(samples_.size());
    for (std::size_t i = 0; i < samples_.size(); ++i) beside[i] = path.nearest(samples_[i]);

    // Means: numerator and denominator apart, so that the slopes follow the quotient.
    const auto lengthShare = [&](const BentPath& of, std::size_t i) {
        return shares_[i] * std::max(0.0, of.length_mm(places_[i].piece));
    };
    SearchValue out;
    double sum = 0, whole = 0;
    if (samples_.empty()) {
        for (std::size_t i = 0; i < std::min(looks, places_.size()); ++i) {
            const double share = lengthShare(path, i);
            sum += share * (seen[i].near.distance_mm - radius);
            whole += share;
        }
    } else {
        whole = static_cast<double>(samples_.size());
        for (const auto& one : beside) sum += one.distance_mm - radius;
    }
    const double mean = whole > 0 ? sum / whole : 0;
    const double cost = bendCost(path, wish_->bend_costs_mm_per_deg);
    out.f = mean + cost;

    const auto limitAt = [&](const BentPath& of, const LimitOf& limit) {
        if (limit.kind == FitLimit::Kind::greatest_angle)
            return wish_->tube.bend_radius_mm * (wish_->tube.greatest_angle_rad - of.angle_rad(limit.number));
        return of.straight_mm(limit.number) - wish_->tube.least_straight_mm;
    };
    const auto rows = static_cast<Eigen::Index>(limits_.size());
    out.limits.resize(rows);
    out.limit_slopes.resize(rows, n);
    out.floors = Eigen::VectorXd::Constant(rows, -std::numeric_limits<double>::infinity());
    out.slope.resize(n);
    const std::size_t first_shape = looks + samples_.size();
    for (std::size_t i = 0; i < limits_.size(); ++i)
        out.limits[static_cast<Eigen::Index>(i)] =
            i < looks         ? seen[i].near.distance_mm - radius - wantedAt(path, placeAt(i))
            : i < first_shape ? beside[i - looks].distance_mm - radius - wanted
                              : limitAt(path, limits_[i]);
    for (std::size_t i = 0; i < looks; ++i)
        out.floors[static_cast<Eigen::Index>(i)] = kCentreInside_mm - radius - wantedAt(path, placeAt(i));
    for (Eigen::Index k = 0; k < n; ++k) {
        Eigen::VectorXd probe = x;
        probe[k] += kProbe_mm;
        const BentPath moved = bentAt(probe);
        double sum_slope = 0, whole_slope = 0;
        for (std::size_t i = 0; i < limits_.size(); ++i) {
            double slope = 0;
            if (i < looks) {
                slope = away[i].dot(moved.point(placeAt(i)) - seen[i].at) / kProbe_mm;
                if (samples_.empty() && i < places_.size()) {
                    const double share = lengthShare(path, i);
                    const double share_slope = (lengthShare(moved, i) - share) / kProbe_mm;
                    sum_slope += share * slope + share_slope * (seen[i].near.distance_mm - radius);
                    whole_slope += share_slope;
                }
                slope -= (wantedAt(moved, placeAt(i)) - wantedAt(path, placeAt(i))) / kProbe_mm;
            } else if (i < first_shape) {
                const BentPath::Near& near = beside[i - looks];
                if (near.distance_mm > 0)
                    slope = (near.at - samples_[i - looks]).dot(moved.point(near.place) - near.at) /
                            near.distance_mm / kProbe_mm;
                sum_slope += slope;
            } else {
                slope = (limitAt(moved, limits_[i]) - out.limits[static_cast<Eigen::Index>(i)]) / kProbe_mm;
            }
            out.limit_slopes(static_cast<Eigen::Index>(i), k) = slope;
        }
        out.slope[k] = (whole > 0 ? (sum_slope - mean * whole_slope) / whole : 0) +
                       (bendCost(moved, wish_->bend_costs_mm_per_deg) - cost) / kProbe_mm;
    }
    looks_[1] = std::move(looks_[0]);
    looks_[0] = {x, std::move(seen)};
    return out;
}

}  // namespace hoopwright::fitting
