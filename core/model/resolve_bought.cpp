// Tubes bought bent: whether they lie as taped, and what to saw off their legs.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/model/end_hosts.h"
#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

using std::numbers::pi;

constexpr int kFewStations = 36;  // a cope's extremes are exact however few are asked for

/// Two turns of a plane apart, [0, pi].
double apart(double one_rad, double other_rad) {
    return std::abs(std::remainder(one_rad - other_rad, 2 * pi));
}

/// How far one thing as laid is from what was taped, and how to say so.
struct Difference {
    double part = 0;  ///< of what is let pass
    std::string what;
};

/// How much of an end's centreline its cope takes off the longest point. Negative: that lies beyond the end.
double setBack(const CageGeometry& cage, const ResolvedMember& tube, const ResolvedEnd& end) {
    if (end.on == ResolvedEnd::On::nothing || tube.stock < 0) return 0;
    CopeEnd at;
    at.foot = end.at;
    at.inward = -end.outward;
    at.clock = end.outward.unitOrthogonal();
    at.outer_radius_mm = tube.radius_mm();
    at.bore_radius_mm = tube.section.bore_mm() / 2;
    const Expected<CopeProfile> profile = cope(at, hostsOf(cage, end), kFewStations);
    return profile ? std::min(profile->outer.least_mm, profile->bore.least_mm) : 0;
}

}  // namespace

/// Its bends and what lies between them; its legs are looked at once its ends are known.
void Resolver::checkBought(const Bar& bar, ResolvedMember& made) {
    if (!bar.member->bent->good()) {
        report(Kind::bad_value, bar, "is bought bent and has no good shape.",
               "give its bend radius, its bends, and one straight more than bends");
        return;
    }
    const BentShape shape =
        bar.side == Side::right ? hoopwright::mirrored(*bar.member->bent) : *bar.member->bent;
    const BendTable laid = bendTable(made.line);
    if (laid.rows.size() != shape.bends.size()) {
        const auto count = [](std::size_t n, const std::string& one) {
            return std::to_string(n) + " " + one + (n == 1 ? "" : "s");
        };
        report(Kind::bought_differs, bar,
               "is bought with " + count(shape.bends.size(), "bend") + ", and its path has " +
                   count(laid.rows.size(), "corner") + ".",
               "give its path one corner for each bend");
        return;
    }
    made.bought.emplace();
    BoughtBent& bought = *made.bought;
    bought.shape = shape;
    Difference worst;
    const auto look = [&](double off, double pass, double& greatest, const std::string& what) {
        greatest = std::max(greatest, off);
        if (off > pass && off / pass > worst.part) worst = {off / pass, what};
    };
    for (std::size_t i = 0; i < shape.bends.size(); ++i) {
        const BendRow& row = laid.rows[i];
        const TapedBend& bend = shape.bends[i];
        const std::string number = std::to_string(i + 1);
        look(std::abs(row.angle_rad - bend.angle_rad), kTaped_rad, bought.off_rad,
             "is bought bent " + showAngle(bend.angle_rad) + " at bend " + number + ", and its path bends " +
                 showAngle(row.angle_rad) + " there.");
        if (i == 0) continue;
        look(std::abs(row.straight_before_mm - shape.straights_mm[i]), kTaped_mm, bought.off_mm,
             "is bought with " + length(shape.straights_mm[i]) + " of straight between bends " +
                 std::to_string(i) + " and " + number + ", and its path has " +
                 length(row.straight_before_mm) + " there.");
        // What a turn of the plane does is as great as the flatter of the two bends lets it be.
        const double flatter = std::min(bend.angle_rad, shape.bends[i - 1].angle_rad);
        const double most = flatter < pi / 2 ? std::sin(flatter) : 1;
        look(apart(row.rotation_rad, bend.rotation_rad) * most, kTaped_rad, bought.off_rad,
             "is bought turned " + showAngle(bend.rotation_rad) + " at bend " + number +
                 ", and its path turns " + showAngle(row.rotation_rad) + " there.");
    }
    if (worst.part > 0)
        report(Kind::bought_differs, bar, worst.what,
               "lay it within " + length(kTaped_mm) + " and " + showAngle(kTaped_rad) +
                   " of what was taped, or tape it again",
               made.line.point(made.line.length_mm() / 2));
}

/// What is left of each leg once it is laid, down to the longest point of its cope.
void Resolver::sawBought() {
    for (std::size_t m = 0; m < cage_.members.size(); ++m) {
        ResolvedMember& tube = cage_.members[m];
        if (!tube.bought) continue;
        const BendTable laid = bendTable(tube.line);
        const std::array<double, 2> legs = {laid.rows.front().straight_before_mm, laid.last_straight_mm};
        const std::array<double, 2> taped = {tube.bought->shape.straights_mm.front(),
                                             tube.bought->shape.straights_mm.back()};
        for (std::size_t e = 0; e < 2; ++e) {
            const double saw = taped[e] - legs[e] + setBack(cage_, tube, tube.ends[e]);
            tube.bought->saw_mm[e] = saw;
            if (saw >= -kTaped_mm) continue;
            report(Kind::leg_too_short, barOf(static_cast<int>(m)),
                   std::string("its ") + (e == 0 ? "first" : "last") + " leg is " + length(taped[e]) +
                       " long as bought, " + length(-saw) + " too short to reach.",
                   "place it nearer, raise what it stands on, or buy a longer one", tube.ends[e].at);
        }
    }
}

}  // namespace hoopwright::resolving
