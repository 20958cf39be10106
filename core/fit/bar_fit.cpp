#include "core/fit/bar_fit.h"

#include <algorithm>
#include <cmath>

#include "core/fit/bar_problem.h"
#include "core/fit/fit_limits.h"
#include "core/fit/path_of.h"
#include "core/mesh/tube_gap.h"

namespace hoopwright {
namespace {

using fitting::BarProblem;

constexpr double kCoarse_mm = 60, kFine_mm = 20;
constexpr double kInside_mm = 0.5;  // nearer to the skin than this, a start counts as through it
constexpr int kMostLooks = 8;

Centreline lineOf(const std::vector<Vec3>& path, double radius_mm) {
    std::vector<PathPoint> points;
    for (const Vec3& at : path) points.push_back({at, radius_mm});
    return makeCentreline(points).line;
}

Centreline between(const Centreline& line, const BarWish& wish) {
    return partOf(line, wish.landing_mm[0], line.length_mm() - wish.landing_mm[1]);
}

/// How far from an end the whole gap is not yet held to.
double comingFree(const BarWish& wish, int end) {
    const auto e = static_cast<std::size_t>(end);
    return wish.landing_mm[e] + std::max(0.0, (wish.least_gap_mm - wish.end_gap_mm[e]) / kComesFree);
}

std::string endsNote(const BarWish& wish) {
    std::string out;
    for (const int end : {0, 1}) {
        const double gap = wish.end_gap_mm[static_cast<std::size_t>(end)];
        if (gap >= wish.least_gap_mm - kFitError_mm) continue;
        std::string called = end == 0 ? "first end" : "last end";
        if (!wish.piece_names.empty())
            called = "end of the " + (end == 0 ? wish.piece_names.front() : wish.piece_names.back());
        out += out.empty() ? "" : "; ";
        out += "the " + called + " itself stands " + showLength(gap, {wish.unit}) +
               " off the skin, so the gap asked for is held to from " +
               showLength(comingFree(wish, end), {wish.unit}) + " on";
    }
    return out;
}

std::string troubleOf(const BarFit& fit, LengthUnit unit) {
    std::string which;
    for (const FitLimit& limit : fit.limits)
        if (limit.kind != FitLimit::Kind::bend_radius) which += (which.empty() ? "" : "; ") + limit.text;
    return "no bar from these ends meets every limit; this one, the nearest to it, misses each of these by " +
           showLength(fit.short_by_mm, {unit}) + ": " + which;
}

/// The place of a station, in the terms of the search.
BarPlace placeAt(const BentPath& path, double station_mm, double skipped_mm) {
    double left = station_mm - skipped_mm;
    for (int piece = 0; piece < path.pieces(); ++piece) {
        const double length = path.length_mm(piece);
        if (left <= length || piece + 1 == path.pieces())
            return {piece, length > 0 ? std::clamp(left / length, 0.0, 1.0) : 0};
        left -= length;
    }
    return {};
}

struct Found {
    SearchResult search;
    std::vector<Vec3> start;
};

/// Looks between the places of the search too, until nothing there is nearer than wanted.
std::optional<SearchResult> closely(const FitCar& car, const BarWish& wish, BarProblem& bar,
                                    Eigen::VectorXd x) {
    std::optional<SearchResult> found;
    for (int i = 0; i < kMostLooks; ++i) {
        bar.forget();
        found = leastOf(bar.problem(), x, {i == 0 ? 20.0 : 5.0, 2e-4, 60});
        if (!found || car.meshes().empty()) return found;
        x = found->x;
        const Centreline line = lineOf(bar.pathAt(x), wish.tube.bend_radius_mm);
        const double from = comingFree(wish, 0);
        const Centreline held = partOf(line, from, line.length_mm() - comingFree(wish, 1));
        if (held.empty()) return found;
        const auto least = nearest(held, car.meshes());
        const double lacks = wish.least_gap_mm + wish.tube.od_mm / 2 - least->distance_mm;
        if (lacks <= kFitError_mm + found->short_by || i + 1 == kMostLooks) return found;
        bar.watch(placeAt(bar.bentAt(x), least->station_mm + from, wish.landing_mm[0]));
        if (i >= kMostLooks / 2) bar.tighten(lacks);
    }
    return found;
}

std::string refusal(const FitCar& car, const BarWish& wish) {
    const FitTube& tube = wish.tube;
    for (const auto& [value, what] :
         {std::pair{tube.od_mm, "diameter"}, std::pair{tube.bend_radius_mm, "bend radius"}})
        if (!(value > 0) || !std::isfinite(value))
            return std::string("the tube's ") + what + " is not above zero: give it one";
    if (!(wish.least_gap_mm >= 0) || !std::isfinite(wish.least_gap_mm))
        return "the wanted gap is below zero: ask for zero or more";
    if (car.meshes().empty() && wish.follow.empty())
        return car.missing().empty() ? "there is nothing to fit to: the car has no skin of these kinds"
                                     : "there is nothing to fit to: " + car.missing();
    return "";
}

}  // namespace

std::string fitting::throughSkin(const FitCar& car, const BarWish& wish, const std::vector<Vec3>& start) {
    if (car.meshes().empty()) return "";
    const Centreline held = between(lineOf(start, wish.tube.bend_radius_mm), wish);
    if (held.empty()) return "the bar is shorter than its two landings";
    const auto place = nearest(held, car.meshes());
    if (place->distance_mm > kInside_mm) return "";
    const auto at = [&](int axis) { return showLength(place->on_line[axis], {wish.unit}); };
    return "the start goes through the skin of the car at x " + at(0) + ", y " + at(1) + ", z " + at(2) +
           ": move its corners inward first";
}

FitGoodness goodnessOf(const FitCar& car, const BarWish& wish, const std::vector<Vec3>& path) {
    FitGoodness out;
    const double radius = wish.tube.od_mm / 2;
    const Centreline held = between(lineOf(path, wish.tube.bend_radius_mm), wish);
    if (!car.meshes().empty() && !held.empty())
        if (const auto gap = gapAlong(held, radius, car.meshes())) {
            out.least_mm = gap->least_mm;
            out.mean_mm = out.score_mm = gap->mean_mm;
            out.greatest_mm = gap->greatest_mm;
            out.least_station_mm = gap->least_station_mm + wish.landing_mm[0];
            out.greatest_station_mm = gap->greatest_station_mm + wish.landing_mm[0];
        }
    const BentPath bent(path, wish.tube.bend_radius_mm, wish.landing_mm);
    const BentPath as_given(wish.start, wish.tube.bend_radius_mm);
    const std::vector<Vec3> samples = fitting::samplesBeside(as_given, wish.follow, fitting::kLineStep_mm);
    if (!samples.empty()) {
        FitGoodness::OfLines lines{1e300, 0, -1e300};
        for (const Vec3& p : samples) {
            const double gap = bent.nearest(p).distance_mm - radius;
            lines.least_mm = std::min(lines.least_mm, gap);
            lines.greatest_mm = std::max(lines.greatest_mm, gap);
            lines.mean_mm += gap / static_cast<double>(samples.size());
        }
        out.lines = lines;
        out.score_mm = lines.mean_mm;
    }
    out.score_mm += fitting::bendCost(bent, wish.bend_costs_mm_per_deg);
    return out;
}

Expected<BarFit> fitBar(const FitCar& car, const BarWish& wish, std::span<const std::vector<Vec3>> starts) {
    if (const std::string why = refusal(car, wish); !why.empty()) return Reason{why};
    std::optional<Found> best;
    std::string why;
    for (const std::vector<Vec3>& start : starts) {
        if (std::string through = fitting::throughSkin(car, wish, start); !through.empty()) {
            if (why.empty()) why = std::move(through);
            continue;
        }
        BarProblem bar(car, wish, start, kCoarse_mm);
        auto found =
            leastOf(bar.problem(), Eigen::VectorXd::Zero(static_cast<Eigen::Index>(wish.freedoms.size())),
                    {60, 0.01, 40});
        if (!found) continue;
        const auto worth = [](const SearchResult& of) { return of.value.f + 100 * of.short_by; };
        if (!best || worth(*found) < worth(best->search)) best = Found{*std::move(found), start};
    }
    if (!best) return Reason{why.empty() ? "there is no start for this bar" : why};
    BarProblem bar(car, wish, best->start, kFine_mm);
    const auto found = closely(car, wish, bar, best->search.x);
    if (!found) return Reason{"the bar cannot be followed from its start: move its corners inward first"};

    BarFit fit;
    fit.path = bar.pathAt(found->x);
    fit.line = lineOf(fit.path, wish.tube.bend_radius_mm);
    fit.before = goodnessOf(car, wish, wish.start);
    fit.after = goodnessOf(car, wish, fit.path);
    fit.limits = fitting::limitsOf(car, wish, bar, *found);
    for (const double x : found->x) fit.moved_mm.push_back(x);
    fit.ends_note = endsNote(wish);
    if (found->short_by > kFitError_mm) {
        fit.short_by_mm = found->short_by;
        fit.trouble = troubleOf(fit, wish.unit);
    }
    return fit;
}

Expected<BarFit> fitBar(const FitCar& car, const BarWish& wish) {
    return fitBar(car, wish, std::span(&wish.start, 1));
}

}  // namespace hoopwright
