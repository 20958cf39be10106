#include "core/fit/pre_bent.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "core/fit/bring_together.h"
#include "core/fit/constrained_search.h"
#include "core/fit/path_of.h"
#include "core/mesh/tube_gap.h"

namespace hoopwright {
namespace {

constexpr double kLever_mm = 500;  // a turn counts as the way of a place so far out
constexpr double kStep_mm = 20;
constexpr int kMostPlacings = 6;
constexpr double kHoldsBent = 1e-3;   // of mean gap for a mm: less is rounding
constexpr double kLineInside_mm = 1;  // the centreline stays so far inside, whatever else is missed

Centreline moved(const Centreline& line, const Eigen::Isometry3d& by) {
    std::vector<Piece> pieces(line.pieces().begin(), line.pieces().end());
    for (Piece& piece : pieces) {
        piece.start = by * piece.start;
        piece.centre = by * piece.centre;
        piece.tangent = by.linear() * piece.tangent;
        piece.axis = by.linear() * piece.axis;
    }
    return Centreline(std::move(pieces));
}

class Placing {
public:
    Placing(const FitCar& car, const PreBentWish& wish, const Centreline& start)
        : car_(car), wish_(wish), start_(start), middle_(start.point(start.length_mm() / 2)) {
        keepBetween();
        for (int i = 0; i < 3; ++i) {
            if (!wish.square_to) {
                shifts_.push_back(Vec3::Unit(i));
                turns_.push_back(Vec3::Unit(i));
            }
        }
        if (!wish.square_to) return;
        const Vec3 n = *wish.square_to;
        const Vec3 u = n.unitOrthogonal();
        shifts_ = {u, n.cross(u)};
        turns_ = {n};
    }

    Eigen::Index count() const { return static_cast<Eigen::Index>(shifts_.size() + turns_.size()); }

    Eigen::Isometry3d by(const Eigen::VectorXd& x) const {
        Vec3 shift = Vec3::Zero(), turn = Vec3::Zero();
        for (std::size_t i = 0; i < shifts_.size(); ++i)
            shift += x[static_cast<Eigen::Index>(i)] * shifts_[i];
        for (std::size_t i = 0; i < turns_.size(); ++i)
            turn += x[static_cast<Eigen::Index>(shifts_.size() + i)] / kLever_mm * turns_[i];
        Eigen::Isometry3d out = Eigen::Isometry3d::Identity();
        if (const double angle = turn.norm(); angle > 0)
            out.linear() = Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
        out.translation() = middle_ + shift - out.linear() * middle_;
        return out;
    }

    SearchProblem problem() {
        SearchProblem out;
        out.low = Eigen::VectorXd::Constant(count(), -400);
        out.high = Eigen::VectorXd::Constant(count(), 400);
        out.at = [this](const Eigen::VectorXd& x) { return value(x); };
        out.taken = [this](const Eigen::VectorXd& x) { last_ = by(x), taken_ = true; };
        return out;
    }

    /// One more place that is looked at.
    void watch(double station_mm) {
        extra_.push_back(start_.point(station_mm));
        extra_at_mm_.push_back(station_mm);
        taken_ = false;
    }

    /// What holds it where the search ended.
    std::vector<FitLimit> limits(const SearchResult& found) {
        const auto looks = static_cast<Eigen::Index>(places_.size() + extra_.size());
        Eigen::VectorXd worth = found.multipliers;
        if (found.short_by > kFitError_mm) {
            if (const double price = worth.sum(); price > 0) worth /= price;
        } else {
            Eigen::VectorXd ease = Eigen::VectorXd::Zero(worth.size());
            ease.head(looks).setConstant(kEased_mm);
            worth = easedWorth(found, problem(), ease).limits;
        }
        const Centreline there = moved(start_, by(found.x));
        std::vector<FitLimit> out;
        for (Eigen::Index i = 0; i < worth.size(); ++i) {
            if (worth[i] < kHoldsBent) continue;
            const FitLimit one = i < looks ? gapLimit(there, stationOf(static_cast<std::size_t>(i)))
                                           : footLimit(there, static_cast<int>(i - looks));
            const auto same = std::ranges::find(out, one.text, &FitLimit::text);
            FitLimit& into = same == out.end() ? out.emplace_back(one) : *same;
            into.worth_mm_per_mm += worth[i];
        }
        std::ranges::stable_sort(out, std::greater{}, &FitLimit::worth_mm_per_mm);
        return out;
    }

    /// Where the leg's axis goes through the plane it is cut at: along the leg, outward from its bend.
    Vec3 footOf(const Centreline& line, int end) const {
        const auto e = static_cast<std::size_t>(end);
        const Vec3 outer = end == 0 ? line.start() : line.end();
        const Vec3 along = end == 0 ? Vec3(-line.tangent(0)) : line.tangent(line.length_mm());
        const Vec3 on = wish_.floor_at[e].value_or(end == 0 ? wish_.along.start() : wish_.along.end());
        const double slope = along.dot(wish_.floor_normal[e]);
        if (std::abs(slope) < 0.05) return outer;
        return outer + (on - outer).dot(wish_.floor_normal[e]) / slope * along;
    }

private:
    double stationOf(std::size_t look) const {
        return look < places_.size() ? at_mm_[look] : extra_at_mm_[look - places_.size()];
    }
    FitLimit gapLimit(const Centreline& there, double station_mm) const {
        FitLimit out{FitLimit::Kind::gap, "", station_mm, there.point(station_mm), 0};
        const auto near = car_.nearest(out.at);
        out.text = (near ? car_.nameAt(*near, out.at) : std::string("skin")) + " gap at ";
        int straights = 0, bends = 0;
        for (const Piece& piece : there.pieces()) {
            const bool is_bend = piece.kind == Piece::Kind::bend;
            const int number = is_bend ? ++bends : ++straights;
            if (station_mm > piece.station_mm + piece.length_mm) continue;
            out.text += (is_bend ? "bend " : "straight ") + std::to_string(number);
            break;
        }
        return out;
    }
    FitLimit footLimit(const Centreline& there, int end) const {
        return {FitLimit::Kind::travel,
                std::string("reach of its ") + (end == 0 ? "first foot" : "last foot"),
                end == 0 ? 0 : there.length_mm(), footOf(there, end), 0};
    }

    /// The places of what is left once its legs are cut.
    void keepBetween() {
        double from = wish_.landing_mm, to = start_.length_mm() - wish_.landing_mm;
        from += std::max(0.0, (footOf(start_, 0) - start_.start()).dot(start_.tangent(0)));
        to -= std::max(0.0, (start_.end() - footOf(start_, 1)).dot(start_.tangent(start_.length_mm())));
        const int parts = std::max(4, static_cast<int>((to - from) / kStep_mm));
        for (int i = 0; i <= parts; ++i) {
            at_mm_.push_back(from + (to - from) * i / parts);
            places_.push_back(start_.point(at_mm_.back()));
        }
    }

    std::optional<SearchValue> value(const Eigen::VectorXd& x) const {
        const Eigen::Isometry3d here = by(x);
        const std::size_t looks = places_.size() + extra_.size();
        const double radius = wish_.od_mm / 2, share = 1.0 / static_cast<double>(places_.size());
        std::vector<Vec3> at(looks), away(looks, Vec3::Zero());
        SearchValue out;
        out.limits.resize(static_cast<Eigen::Index>(looks) + 2);
        out.limit_slopes = Eigen::MatrixXd::Zero(out.limits.size(), count());
        out.floors = Eigen::VectorXd::Constant(out.limits.size(), -std::numeric_limits<double>::infinity());
        out.floors.head(static_cast<Eigen::Index>(looks))
            .setConstant(kLineInside_mm - radius - wish_.least_gap_mm);
        out.slope = Eigen::VectorXd::Zero(count());
        for (std::size_t i = 0; i < looks; ++i) {
            const Vec3& body = i < places_.size() ? places_[i] : extra_[i - places_.size()];
            at[i] = here * body;
            if (taken_ && car_.isBetween(last_ * body, at[i])) return std::nullopt;
            const auto near = car_.nearest(at[i]);
            if (!near) return std::nullopt;
            if (near->distance_mm > 0) away[i] = (at[i] - near->at) / near->distance_mm;
            out.limits[static_cast<Eigen::Index>(i)] = near->distance_mm - radius - wish_.least_gap_mm;
            if (i < places_.size()) out.f += share * (near->distance_mm - radius);
        }
        const auto footSlack = [&](const Eigen::Isometry3d& placed, int end) {
            const Vec3 wanted = end == 0 ? wish_.along.start() : wish_.along.end();
            // Smooth also where the foot stands just where it is wanted.
            const double off = (footOf(moved(start_, placed), end) - wanted).norm();
            if (off > wish_.foot_reach_mm) return wish_.foot_reach_mm - off;
            return (wish_.foot_reach_mm * wish_.foot_reach_mm - off * off) /
                   (2 * std::max(1.0, wish_.foot_reach_mm));
        };
        for (int end = 0; end < 2; ++end)
            out.limits[static_cast<Eigen::Index>(looks) + end] = footSlack(here, end);
        constexpr double kProbe_mm = 1e-4;
        for (Eigen::Index k = 0; k < count(); ++k) {
            Eigen::VectorXd probe = x;
            probe[k] += kProbe_mm;
            const Eigen::Isometry3d there = by(probe);
            for (std::size_t i = 0; i < looks; ++i) {
                const Vec3& body = i < places_.size() ? places_[i] : extra_[i - places_.size()];
                const double slope = away[i].dot(there * body - at[i]) / kProbe_mm;
                out.limit_slopes(static_cast<Eigen::Index>(i), k) = slope;
                if (i < places_.size()) out.slope[k] += share * slope;
            }
            for (int end = 0; end < 2; ++end) {
                const Eigen::Index row = static_cast<Eigen::Index>(looks) + end;
                out.limit_slopes(row, k) = (footSlack(there, end) - out.limits[row]) / kProbe_mm;
            }
        }
        return out;
    }

    const FitCar& car_;
    const PreBentWish& wish_;
    const Centreline& start_;
    Vec3 middle_;
    std::vector<Vec3> places_, extra_, shifts_, turns_;
    std::vector<double> at_mm_, extra_at_mm_;  ///< stations of the places
    Eigen::Isometry3d last_ = Eigen::Isometry3d::Identity();
    bool taken_ = false;
};

FitGoodness goodness(const FitCar& car, const Centreline& line, double od_mm, double landing_mm) {
    FitGoodness out;
    const Centreline held = partOf(line, landing_mm, line.length_mm() - landing_mm);
    if (held.empty()) return out;
    const auto gap = gapAlong(held, od_mm / 2, car.meshes());
    if (!gap) return out;
    out.least_mm = gap->least_mm;
    out.mean_mm = out.score_mm = gap->mean_mm;
    out.greatest_mm = gap->greatest_mm;
    out.least_station_mm = gap->least_station_mm + landing_mm;
    out.greatest_station_mm = gap->greatest_station_mm + landing_mm;
    return out;
}

/// Piece by piece: how it stands off, and how the other bar does beside it.
std::vector<PieceStandOff> standOffs(const FitCar& car, const PreBentWish& wish, const Centreline& line) {
    std::vector<PieceStandOff> out;
    int straights = 0, bends = 0;
    const double radius = wish.od_mm / 2;
    for (const Piece& piece : line.pieces()) {
        PieceStandOff one;
        one.is_bend = piece.kind == Piece::Kind::bend;
        one.number = one.is_bend ? ++bends : ++straights;
        const int parts = std::max(4, static_cast<int>(piece.length_mm / kStep_mm));
        one.greatest_mm = -1e300;
        for (int i = 0; i <= parts; ++i) {
            const Vec3 at = piece.point(piece.length_mm * i / parts);
            const Vec3 beside = wish.along.point(wish.along.nearestStation(at));
            const auto gap = car.nearest(at), suited = car.nearest(beside);
            if (!gap || !suited) continue;
            const double share = (i == 0 || i == parts ? 0.5 : 1.0) / parts;
            one.mean_mm += share * (gap->distance_mm - radius);
            one.greatest_mm = std::max(one.greatest_mm, gap->distance_mm - radius);
            one.more_than_suited_mm += share * (gap->distance_mm - suited->distance_mm);
        }
        out.push_back(one);
    }
    return out;
}

/// What keeps it from fitting; empty: nothing.
std::string whyNot(const PreBentFit& fit, const PreBentWish& wish) {
    const auto length = [&](double mm) { return showLength(mm, {wish.unit}); };
    std::string out;
    const auto also = [&](const std::string& what) { out += (out.empty() ? "" : "; ") + what; };
    for (const int end : {0, 1}) {
        const double trim = fit.trim_mm[static_cast<std::size_t>(end)];
        const std::string leg = end == 0 ? "first leg" : "last leg";
        if (trim < -2 * kFitError_mm) also("the " + leg + " is " + length(-trim) + " too short for its foot");
    }
    if (fit.placed.least_mm < wish.least_gap_mm - 2 * kFitError_mm)
        also((fit.placed.least_mm < 0 ? std::string("it goes into the skin")
                                      : "it comes within " + length(fit.placed.least_mm) + " of the skin") +
             " where a gap of " + length(wish.least_gap_mm) + " is wanted");
    for (const int end : {0, 1})
        if (const double off = fit.foot_off_mm[static_cast<std::size_t>(end)];
            off > wish.foot_reach_mm + 2 * kFitError_mm)
            also(std::string("its ") + (end == 0 ? "first" : "last") + " foot stands " + length(off) +
                 " from where it should");
    return out;
}

/// How it stands off against the bar bent to suit.
std::string besideSuited(const PreBentFit& fit, LengthUnit unit) {
    const double more = fit.placed.mean_mm - fit.suited.mean_mm;
    if (more < 1) return "as near to the skin as a bar bent to suit";
    const auto worst = std::ranges::max_element(fit.pieces, {}, &PieceStandOff::more_than_suited_mm);
    return "but in the mean stands " + showLength(more, {unit}) +
           " farther off the skin than a bar bent to suit, most of all at " +
           (worst->is_bend ? "bend " : "straight ") + std::to_string(worst->number);
}

}  // namespace

Expected<PreBentFit> fitPreBent(const FitCar& car, const PreBentWish& wish) {
    if (car.meshes().empty())
        return Reason{
            "there is nothing to fit to: " +
            (car.missing().empty() ? std::string("the car has no skin of these kinds") : car.missing())};
    if (!wish.shape.good())
        return Reason{wish.shape.bends.empty() ? "the tube has no bend: it is not bought bent"
                                               : "the tube has no good shape: tape it again"};
    if (wish.along.empty()) return Reason{"there is no line for the tube to go along"};
    const Centreline own = walkBendTable(bendTable(wish.shape), Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY());
    Centreline lies = moved(own, bringTogether(own, wish.along));
    PreBentFit fit;
    double missing_mm = 0;
    // The legs are cut anew where it has gone; twice is enough, as a leg's end moves little.
    for (int round = 0; round < 2; ++round) {
        Placing placing(car, wish, lies);
        Eigen::VectorXd x = Eigen::VectorXd::Zero(placing.count());
        for (int look = 0; look < kMostPlacings; ++look) {
            const auto found = leastOf(placing.problem(), x, {look == 0 ? 30.0 : 5.0, 1e-4, 60});
            if (!found) break;
            x = found->x;
            missing_mm = found->short_by;
            fit.limits = placing.limits(*found);
            const Centreline there = moved(lies, placing.by(x));
            const double from =
                wish.landing_mm +
                std::max(0.0, (placing.footOf(there, 0) - there.start()).dot(there.tangent(0)));
            const double to =
                there.length_mm() - wish.landing_mm -
                std::max(0.0, (there.end() - placing.footOf(there, 1)).dot(there.tangent(there.length_mm())));
            const Centreline held = partOf(there, from, to);
            if (held.empty()) break;
            const auto least = nearest(held, car.meshes());
            if (least->distance_mm - wish.od_mm / 2 >= wish.least_gap_mm - missing_mm - kFitError_mm) break;
            placing.watch(from + least->station_mm);
        }
        lies = moved(lies, placing.by(x));
    }
    fit.whole = lies;
    const Placing last(car, wish, lies);
    const std::array<Vec3, 2> feet = {last.footOf(lies, 0), last.footOf(lies, 1)};
    fit.trim_mm = {(feet[0] - lies.start()).dot(lies.tangent(0)),
                   (lies.end() - feet[1]).dot(lies.tangent(lies.length_mm()))};
    fit.foot_off_mm = {(feet[0] - wish.along.start()).norm(), (feet[1] - wish.along.end()).norm()};
    fit.line = partOf(lies, std::max(0.0, fit.trim_mm[0]), lies.length_mm() - std::max(0.0, fit.trim_mm[1]));
    fit.path = pathOf(fit.line);
    fit.placed = goodness(car, fit.line, wish.od_mm, wish.landing_mm);
    fit.suited = goodness(car, wish.along, wish.od_mm, wish.landing_mm);
    fit.pieces = standOffs(car, wish, fit.line);
    const double lacks =
        std::max({wish.least_gap_mm - fit.placed.least_mm, fit.foot_off_mm[0] - wish.foot_reach_mm,
                  fit.foot_off_mm[1] - wish.foot_reach_mm, -fit.trim_mm[0], -fit.trim_mm[1]});
    fit.short_by_mm = lacks > 2 * kFitError_mm ? lacks : 0;
    const std::string why_not = whyNot(fit, wish);
    fit.fits = why_not.empty();
    fit.verdict = fit.fits ? "it fits, " + besideSuited(fit, wish.unit) : "it does not fit: " + why_not;
    return fit;
}

}  // namespace hoopwright
