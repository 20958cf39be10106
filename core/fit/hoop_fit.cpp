#include "core/fit/hoop_fit.h"

#include <algorithm>
#include <cmath>

#include "core/fit/bar_problem.h"

namespace hoopwright {
namespace {

constexpr double kHead_mm = 300;  // over the feet: inside any cabin, above the seats' rails
constexpr double kFarthest_mm = 4000;
constexpr double kNarrowest_mm = 100;

/// The hoop's plane: out to the left, and up its lean, from the middle of its feet.
struct Frame {
    Vec3 middle, left, up;
    explicit Frame(const HoopWish& wish)
        : middle((wish.left_foot + wish.right_foot) / 2),
          left((wish.left_foot - wish.right_foot).normalized()) {
        const Vec3 leaning(-std::sin(wish.lean_rad), 0, std::cos(wish.lean_rad));
        up = (leaning - leaning.dot(left) * left).normalized();
    }
    Vec3 at(double out_mm, double up_mm) const { return middle + out_mm * left + up_mm * up; }
    Vec2 of(const Vec3& p) const { return {(p - middle).dot(left), (p - middle).dot(up)}; }
};

/// Corners of one side, from the foot up: out and up.
using Side2 = std::vector<Vec2>;

std::vector<Side2> guesses(const FitCar& car, const Frame& frame, const HoopWish& wish, int each) {
    const double off = wish.tube.od_mm / 2 + wish.least_gap_mm;
    const double roof = kHead_mm + car.clearAlong(frame.at(0, kHead_mm), frame.up, kFarthest_mm);
    const auto wide = [&](double share) {
        const double height = share * (roof - off);
        const double room = std::min(car.clearAlong(frame.at(0, height), frame.left, kFarthest_mm),
                                     car.clearAlong(frame.at(0, height), -frame.left, kFarthest_mm));
        return Vec2(std::max(kNarrowest_mm, room - off), height);
    };
    const Vec2 corner = wide(1);
    const auto inner = [&](double share) { return Vec2(share * corner.x(), corner.y()); };
    switch (each) {
        case 1:
            return {{corner}, {wide(0.9)}, {Vec2(wide(0.5).x(), corner.y())}};
        case 2:
            return {{wide(0.6), corner}, {wide(0.4), corner}, {wide(0.8), inner(0.7)}};
        case 3:
            return {{wide(0.5), wide(0.85), inner(0.8)}, {wide(0.4), wide(0.7), corner}};
        default:
            return {{wide(0.35), wide(0.6), wide(0.87), inner(0.8)}};
    }
}

std::vector<Vec3> pathOf(const HoopWish& wish, const Frame& frame, const Side2& left, const Side2& right) {
    std::vector<Vec3> path{wish.left_foot};
    for (const Vec2& p : left) path.push_back(frame.at(p.x(), p.y()));
    for (auto p = right.rbegin(); p != right.rend(); ++p) path.push_back(frame.at(-p->x(), p->y()));
    path.push_back(wish.right_foot);
    return path;
}

/// The corners it has now, in its plane; of sides alike, the mean of both.
std::optional<std::vector<Vec3>> asGiven(const HoopWish& wish, const Frame& frame, int bends) {
    if (wish.given.size() != static_cast<std::size_t>(bends) + 2) return std::nullopt;
    Side2 left, right;
    for (int i = 1; i <= bends / 2; ++i) {
        left.push_back(frame.of(wish.given[static_cast<std::size_t>(i)]));
        right.push_back(frame.of(wish.given[wish.given.size() - 1 - static_cast<std::size_t>(i)]));
        right.back().x() *= -1;
        if (wish.sides_alike) left.back() = right.back() = (left.back() + right.back()) / 2;
    }
    return pathOf(wish, frame, left, right);
}

std::vector<std::string> pieceNames(int bends) {
    std::vector<std::string> names(static_cast<std::size_t>(2 * bends + 1));
    const int each = bends / 2;
    for (const bool left : {true, false}) {
        const std::string side = left ? "left " : "right ";
        const auto name = [&](int piece) -> std::string& {
            return names[static_cast<std::size_t>(left ? piece : 2 * bends - piece)];
        };
        for (int bend = 1; bend <= each; ++bend) {
            const std::string which = each > 2 ? " " + std::to_string(bend) : "";
            name(2 * bend - 1) = side + (bend == each ? "roof corner" : "leg bend" + which);
            name(2 * bend - 2) =
                bend == 1 ? side + "leg" : side + "leg above bend " + std::to_string(bend - 1);
        }
    }
    names[static_cast<std::size_t>(bends)] = "top";
    return names;
}

std::vector<Freedom> freedoms(const HoopWish& wish, const Frame& frame, int bends) {
    std::vector<Freedom> out;
    const int last = bends + 1;
    const auto move = [&](int point, const Vec3& along) { return Freedom::Straight{point, along}; };
    for (int i = 1; i <= bends / 2; ++i) {
        if (wish.sides_alike) {
            out.push_back({{move(i, frame.left), move(last - i, -frame.left)}});
            out.push_back({{move(i, frame.up), move(last - i, frame.up)}});
            continue;
        }
        for (const int point : {i, last - i})
            for (const Vec3& along : {frame.left, frame.up}) out.push_back({{move(point, along)}});
    }
    const double far = wish.foot_travel_mm;
    if (!(far > 0)) return out;
    if (wish.sides_alike) {
        out.push_back({{move(0, frame.left), move(last, -frame.left)}, -far, far});
    } else {
        for (const int point : {0, last}) out.push_back({{move(point, frame.left)}, -far, far});
    }
    return out;
}

std::string refusal(const HoopWish& wish) {
    if ((wish.left_foot - wish.right_foot).norm() < 2 * wish.tube.od_mm)
        return "the two feet of the hoop stand in one place: set them apart";
    if (wish.bends < 0 || wish.bends > kMostHoopBends || wish.bends % 2 != 0)
        return "a hoop of " + std::to_string(wish.bends) + " bends: ask for 2, 4, 6 or 8";
    if (!(std::abs(wish.lean_rad) < 1.2)) return "the hoop leans so far that it lies down: ask for less";
    return "";
}

}  // namespace

HoopStarts hoopStarts(const FitCar& car, const HoopWish& wish, int bends) {
    const Frame frame(wish);
    HoopStarts out;
    BarWish& bar = out.wish;
    bar.tube = wish.tube;
    bar.least_gap_mm = wish.least_gap_mm;
    bar.freedoms = freedoms(wish, frame, bends);
    bar.landing_mm = {wish.foot_landing_mm, wish.foot_landing_mm};
    for (const bool left : {true, false}) {
        const Vec3& foot = left ? wish.left_foot : wish.right_foot;
        if (const auto near = car.nearest(foot + wish.foot_landing_mm * frame.up))
            bar.end_gap_mm[left ? 0 : 1] = near->distance_mm - wish.tube.od_mm / 2;
    }
    bar.piece_names = pieceNames(bends);
    bar.unit = wish.unit;
    bar.bend_costs_mm_per_deg.assign(static_cast<std::size_t>(bends) + 2, 0);
    if (bends >= 4)
        bar.bend_costs_mm_per_deg[1] = bar.bend_costs_mm_per_deg[static_cast<std::size_t>(bends)] =
            wish.leg_bend_cost_mm_per_deg;
    if (const auto given = asGiven(wish, frame, bends);
        given && fitting::throughSkin(car, bar, *given).empty())
        out.starts.push_back(*given);
    for (Side2 side : guesses(car, frame, wish, bends / 2)) {
        std::vector<Vec3> path = pathOf(wish, frame, side, side);
        // A guess that goes through the skin shrinks towards the middle of the cabin until it does not.
        const Vec2 middle(0, side.back().y() / 2);
        for (int i = 0; i < 12 && !fitting::throughSkin(car, bar, path).empty(); ++i) {
            for (Vec2& p : side) p = middle + 0.93 * (p - middle);
            path = pathOf(wish, frame, side, side);
        }
        out.starts.push_back(std::move(path));
    }
    bar.start = out.starts.front();
    return out;
}

Expected<HoopFit> fitHoop(const FitCar& car, const HoopWish& wish) {
    if (std::string why = refusal(wish); !why.empty()) return Reason{std::move(why)};
    std::optional<HoopFit> best;
    std::vector<std::pair<int, double>> tried;
    for (int bends = wish.bends > 0 ? wish.bends : 2; bends <= (wish.bends > 0 ? wish.bends : kMostHoopBends);
         bends += 2) {
        const HoopStarts starts = hoopStarts(car, wish, bends);
        Expected<BarFit> bar = fitBar(car, starts.wish, starts.starts);
        if (!bar) {
            if (bends == wish.bends || (bends == kMostHoopBends && !best)) return Reason{bar.reason()};
            continue;
        }
        if (wish.given.size() >= 2) bar->before = goodnessOf(car, starts.wish, wish.given);
        tried.emplace_back(bends, bar->after.mean_mm);
        const bool better = !best || bar->short_by_mm < best->bar.short_by_mm - kFitError_mm ||
                            (bar->short_by_mm <= best->bar.short_by_mm + kFitError_mm &&
                             bar->after.score_mm < best->bar.after.score_mm);
        if (better) best = HoopFit{*std::move(bar), bends, {}, ""};
        if (best->bends == bends && best->bar.trouble.empty() && best->bar.after.mean_mm <= wish.mean_gap_mm)
            break;
    }
    if (wish.bends == 0 && best->bar.after.mean_mm > wish.mean_gap_mm)
        best->note = "no hoop of up to " + std::to_string(kMostHoopBends) +
                     " bends stands off by a mean of " + showLength(wish.mean_gap_mm, {wish.unit}) +
                     " or less; this is the best of them";
    best->mean_gaps_mm = std::move(tried);
    return *std::move(best);
}

}  // namespace hoopwright
