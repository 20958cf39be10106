#include "core/starter/fitted.h"

#include <algorithm>
#include <cmath>

#include "core/fit/hoop_fit.h"
#include "core/mesh/tube_gap.h"

namespace hoopwright::starting {
namespace {

constexpr double kEnough_mm = 0.2;
constexpr int kMostTries = 3;
/// Tidying moves a corner by half a step along each axis: so much of a step can a gap lose by it.
constexpr double kTidyCosts = 0.8;
/// How far from the pillar's foot the bend at the dash may go up and down. Lower, and the dash bar
/// under it is where knees are.
constexpr double kKneeDown_mm = 30, kKneeUp_mm = 60;
constexpr double kTopTravel_mm = 250;
constexpr double kGuesses[] = {1.0, 1.3, 1.7, 2.6};  ///< how far in, against the gap
constexpr double kInside_mm = 2;                     ///< a guess that stands off by less is not searched from

const Reason kRoughly{};  ///< why a bar is not fitted that nobody wants fitted

double footLanding_mm(const FitTube& tube, double gap_mm) {
    // As far as a scanned floor under the foot would count as skin.
    return std::max({60.0, 1.5 * tube.od_mm, gap_mm + tube.od_mm});
}

/// The waist at the belt line and the roof's corner, off the measured points: for a car without a skin.
std::vector<Vec3> byPoints(const CarPlaces& places, const Vec3& foot, double off) {
    const Vec3 rail = places.point("b_pillar_top.left");
    const Vec2 low(places.point("sill_b.left").y(), places.beltAt(foot.x())), high(rail.y(), rail.z());
    const Vec2 up = (high - low).normalized(), in(-up.y(), up.x());
    const Vec2 waist = low + off * in, top = waist + (high.y() - off - waist.y()) / up.y() * up;
    const Vec3 a(foot.x(), waist.x(), waist.y()), b(foot.x(), top.x(), top.y());
    return {foot, a, b, mirrored(b), mirrored(a), mirrored(foot)};
}

/// Along the left windshield pillar, `share` of the gap inside it: under the roof's front corner, and ahead
/// of the pillar's foot.
std::array<Vec3, 2> besidePillar(const CarPlaces& places, const FitTube& tube, const Vec3& foot, double off) {
    const Vec3 head = places.point("windshield_top.left"), base = places.point("a_pillar_foot.left");
    const Vec3 along = (base - head).normalized();
    // As far ahead of the pillar's foot as a bend needs, never ahead of the foot on the floor.
    const double knee_x = std::min(base.x() + tube.od_mm, foot.x());
    const Vec3 top = head + Vec3(0, -0.75 * off, -0.6 * off);
    return {top, top + (knee_x - top.x()) / along.x() * along};
}

void follow(const FitCar& skin, BarWish& wish, std::initializer_list<const char*> lines) {
    for (const char* name : lines)
        if (const SmoothLine* line = skin.line(name)) wish.follow.push_back(line->points);
}

/// Free where a pillar's bar turns: the top and the knee; of a hoop with their mirror images. How far they
/// may go counts from `guess`, wherever the search starts.
void freePillar(BarWish& wish, const std::vector<Vec3>& guess, int top, int knee, bool is_hoop) {
    const int last = static_cast<int>(wish.start.size()) - 1;
    const auto free = [&](int point, const Vec3& along, double low, double high) {
        const auto at = static_cast<std::size_t>(point);
        const double gone = (wish.start[at] - guess[at]).dot(along);
        Freedom freedom{{Freedom::Straight{point, along}}, low - gone, high - gone};
        if (is_hoop) freedom.moves.push_back(Freedom::Straight{last - point, mirrored(along)});
        wish.freedoms.push_back(std::move(freedom));
    };
    for (int axis = 0; axis < 3; ++axis) free(top, Vec3::Unit(axis), -kTopTravel_mm, kTopTravel_mm);
    free(knee, Vec3::UnitY(), -kTopTravel_mm, kTopTravel_mm);
    free(knee, Vec3::UnitZ(), -kKneeDown_mm, kKneeUp_mm);
}

/// The first guess inside the skin: from there the search finds its way. Else the farthest in.
void chooseStart(const FitCar& skin, BarWish& wish, std::span<const std::vector<Vec3>> guesses) {
    for (const std::vector<Vec3>& guess : guesses) {
        wish.start = guess;
        if (skin.meshes().empty() || goodnessOf(skin, wish, guess).least_mm > kInside_mm) return;
    }
}

/// What gap the ends have where their landings begin, so that the fit does not ask for more there.
void lookAtEnds(const FitCar& skin, BarWish& wish) {
    const Centreline line = bent(wish.start, wish.tube.bend_radius_mm);
    for (const std::size_t end : {0u, 1u}) {
        const double at = end == 0 ? wish.landing_mm[0] : line.length_mm() - wish.landing_mm[1];
        if (const auto near = skin.nearest(line.point(at)))
            wish.end_gap_mm[end] = near->distance_mm - wish.tube.od_mm / 2;
    }
}

}  // namespace

double tidyStep_mm(LengthUnit unit) {
    return unit == LengthUnit::in ? 25.4 / 16 : 1.0;
}

double tidied(double mm, LengthUnit unit) {
    const double step = tidyStep_mm(unit);
    return std::round(mm / step) * step;
}

double setback(const Vec3& before, const Vec3& corner, const Vec3& after, double radius_mm) {
    const Vec3 in = (corner - before).normalized(), out = (after - corner).normalized();
    return radius_mm * std::tan(std::atan2(in.cross(out).norm(), in.dot(out)) / 2);
}

Centreline bent(const std::vector<Vec3>& path, double radius_mm) {
    std::vector<PathPoint> points;
    for (const Vec3& p : path) points.push_back({p, radius_mm});
    return makeCentreline(points).line;
}

template <class Fit>
const Fitted& BarFitter::kept(int kind, const FitTube& tube, const std::vector<Vec3>& places,
                              std::vector<double> numbers, Fit&& fit) {
    numbers.insert(numbers.end(), {static_cast<double>(kind), tube.od_mm, tube.bend_radius_mm,
                                   tube.least_straight_mm, tube.greatest_angle_rad});
    for (const Vec3& p : places) numbers.insert(numbers.end(), {p.x(), p.y(), p.z()});
    const auto found = kept_.find(numbers);
    if (found != kept_.end()) return found->second;
    return kept_.emplace(std::move(numbers), fit()).first->second;
}

/// Tidied, and measured as it is then. Where there is nothing to fit to, the guess.
Fitted BarFitter::settled(const BarWish& wish, const Expected<BarFit>& fit,
                          const std::vector<Vec3>& guess) const {
    Fitted out;
    out.path = fit ? fit->path : guess;
    for (std::size_t i = 1; i + 1 < out.path.size(); ++i)
        for (int axis = 0; axis < 3; ++axis) out.path[i][axis] = tidied(out.path[i][axis], wish.unit);
    const bool roughly = !fit && fit.reason().empty();
    if (roughly) return out;
    out.gap = goodnessOf(places_.skin(), wish, out.path);
    if (fit) {
        out.limits = fit->limits;
        out.trouble = fit->trouble;
    } else if (!places_.skin().meshes().empty()) {
        out.trouble = fit.reason();
    }
    return out;
}

const Fitted& BarFitter::hoop(const FitTube& tube, const Vec3& left_foot, const HowFitted& how) {
    return kept(0, tube, {left_foot}, {how.gap_mm, how.roughly ? 1.0 : 0.0}, [&] {
        HoopWish wish;
        wish.tube = tube;
        wish.least_gap_mm = how.gap_mm + kTidyCosts * tidyStep_mm(how.unit);
        wish.left_foot = left_foot;
        wish.right_foot = mirrored(left_foot);
        wish.foot_landing_mm = footLanding_mm(tube, how.gap_mm);
        wish.unit = how.unit;
        const Expected<HoopFit> fit =
            how.roughly ? Expected<HoopFit>(kRoughly) : fitHoop(places_.skin(), wish);
        BarWish as;
        as.tube = tube;
        as.landing_mm = {wish.foot_landing_mm, wish.foot_landing_mm};
        as.unit = how.unit;
        as.start = fit ? fit->bar.path : byPoints(places_, left_foot, wish.least_gap_mm + tube.od_mm / 2);
        return settled(as, fit ? Expected<BarFit>(fit->bar) : Expected<BarFit>(Reason{fit.reason()}),
                       as.start);
    });
}

const Fitted& BarFitter::side(const FitTube& tube, const std::vector<Vec3>& before, const Vec3& foot,
                              double host_radius_mm, const HowFitted& how) {
    std::vector<Vec3> ends = before;
    ends.push_back(foot);
    return kept(1, tube, ends, {how.gap_mm, host_radius_mm, how.roughly ? 1.0 : 0.0}, [&] {
        const FitCar& skin = places_.skin();
        const int top = static_cast<int>(before.size()), knee = top + 1;
        double asked = how.gap_mm + kTidyCosts * tidyStep_mm(how.unit);
        std::vector<Vec3> last;  // where the try before ended
        for (int i = 1;; ++i) {
            BarWish wish;
            wish.tube = tube;
            wish.least_gap_mm = asked;
            wish.unit = how.unit;
            wish.landing_mm = {
                before.size() > 1 ? footLanding_mm(tube, how.gap_mm) : host_radius_mm + 1.5 * tube.od_mm,
                footLanding_mm(tube, how.gap_mm)};
            std::vector<std::vector<Vec3>> starts;
            for (const double share : kGuesses) {
                const auto [head, dash] = besidePillar(places_, tube, foot, share * (asked + tube.od_mm / 2));
                starts.push_back(before);
                starts.back().insert(starts.back().end(), {head, dash, foot});
            }
            chooseStart(skin, wish, starts);
            const std::vector<Vec3> guess = wish.start;
            if (!last.empty()) wish.start = last;
            follow(skin, wish, {"roof_rail.left", "a_pillar.left"});
            freePillar(wish, guess, top, knee, false);
            if (before.size() > 1)
                for (const Vec3& along : {Vec3(0, 1, 0), Vec3(0, 0, 1)})
                    wish.freedoms.push_back(
                        {{Freedom::Straight{top - 1, along}}, -kTopTravel_mm, kTopTravel_mm});
            lookAtEnds(skin, wish);
            const Expected<BarFit> fit = how.roughly ? Expected<BarFit>(kRoughly) : fitBar(skin, wish);
            Fitted out = settled(wish, fit, wish.start);
            if (!fit || i == kMostTries) return out;
            std::vector<Vec3> right;
            for (const Vec3& p : out.path) right.push_back(places_.onTheRight(p));
            right.front() = mirrored(out.path.front());
            right.back() = mirrored(out.path.back());
            const double lacks = how.gap_mm - goodnessOf(skin, wish, right).least_mm;
            // Where the left one itself falls short, so may the right one.
            if (lacks < kEnough_mm || out.gap.least_mm < how.gap_mm - kEnough_mm) return out;
            asked += lacks + kEnough_mm;
            last = fit->path;
        }
    });
}

const Fitted& BarFitter::frontHoop(const FitTube& tube, const Vec3& left_foot, const HowFitted& how) {
    return kept(2, tube, {left_foot}, {how.gap_mm, how.roughly ? 1.0 : 0.0}, [&] {
        const FitCar& skin = places_.skin();
        BarWish wish;
        wish.tube = tube;
        wish.least_gap_mm = how.gap_mm + kTidyCosts * tidyStep_mm(how.unit);
        wish.unit = how.unit;
        wish.landing_mm = {footLanding_mm(tube, how.gap_mm), footLanding_mm(tube, how.gap_mm)};
        std::vector<std::vector<Vec3>> starts;
        for (const double share : kGuesses) {
            const auto [top, knee] =
                besidePillar(places_, tube, left_foot, share * (wish.least_gap_mm + tube.od_mm / 2));
            starts.push_back({left_foot, knee, top, mirrored(top), mirrored(knee), mirrored(left_foot)});
        }
        chooseStart(skin, wish, starts);
        follow(skin, wish, {"a_pillar.left", "a_pillar.right"});
        freePillar(wish, wish.start, 2, 1, true);
        lookAtEnds(skin, wish);
        return settled(wish, how.roughly ? Expected<BarFit>(kRoughly) : fitBar(skin, wish), wish.start);
    });
}

}  // namespace hoopwright::starting
