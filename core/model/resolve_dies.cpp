// Whether the shop's dies can bend a bar as drawn.
#include <algorithm>
#include <vector>

#include "core/model/resolver.h"

namespace hoopwright::resolving {

namespace {

// A straight a tenth of a millimetre short is within any reading of a tape.
constexpr double kShort_mm = 0.1;
constexpr double kOver_rad = 1e-6;

/// Lengths of straight before, between and after the bends: one more than there are bends.
std::vector<double> straights(const Centreline& line) {
    std::vector<double> lengths{0};
    for (const Piece& piece : line.pieces()) {
        if (piece.kind == Piece::Kind::bend) {
            lengths.push_back(0);
        } else {
            lengths.back() += piece.length_mm;
        }
    }
    return lengths;
}

}  // namespace

void Resolver::checkBends(const Bar& bar, const ResolvedMember& made, bool radius_given) {
    if (made.line.bendCount() == 0 || made.stock < 0) return;
    const double od = made.section.od_mm;
    const Die* any = job_.dies.forOd(od);
    if (!any) {
        if (radius_given && job_.dies.dies.empty()) return;
        return report(Kind::no_die, bar,
                      "is bent, and the die list has no die for " + length(od) + " tube" +
                          (radius_given ? "." : "; its bends are drawn at three times the diameter."),
                      "add the die, or choose a tube there is a die for");
    }
    int number = 0;
    const Die* used = nullptr;
    bool said_radius = false;
    for (const Piece& piece : made.line.pieces()) {
        if (piece.kind != Piece::Kind::bend) continue;
        ++number;
        const Die* die = job_.dies.forBend(od, piece.radius_mm);
        if (!die && !said_radius) {
            said_radius = true;
            report(Kind::no_die, bar,
                   "has a bend of " + length(piece.radius_mm) + " radius (bend " + std::to_string(number) +
                       "), which no die for " + length(od) + " tube makes.",
                   "use " + length(any->radius_mm) + ", or add the die", piece.point(piece.length_mm / 2));
        }
        if (!die) continue;
        if (!used) used = die;
        if (piece.angle_rad > die->greatest_angle_rad + kOver_rad) {
            report(Kind::angle_too_great, bar,
                   "bends " + showAngle(piece.angle_rad) + " at bend " + std::to_string(number) + "; die " +
                       die->id + " goes to " + showAngle(die->greatest_angle_rad) + ".",
                   "split the bend in two, or use another die", piece.point(piece.length_mm / 2));
        }
    }
    checkStraights(bar, made, used ? *used : *any);
}

void Resolver::checkStraights(const Bar& bar, const ResolvedMember& made, const Die& die) {
    const std::vector<double> lengths = straights(made.line);
    for (std::size_t i = 1; i + 1 < lengths.size(); ++i) {
        if (lengths[i] >= die.least_straight_mm - kShort_mm) continue;
        report(Kind::straight_too_short, bar,
               "has " + length(lengths[i]) + " of straight between bends " + std::to_string(i) + " and " +
                   std::to_string(i + 1) + "; die " + die.id + " needs " + length(die.least_straight_mm) +
                   ".",
               "move the bends apart");
    }
    const double first = lengths.front(), last = lengths.back();
    const auto fits = [&](double clamped, double free_end) {
        return clamped >= die.least_straight_mm - kShort_mm &&
               free_end >= die.least_end_straight_mm - kShort_mm;
    };
    // The tube may go into the bender either end first.
    if (fits(first, last) || fits(last, first)) return;
    report(Kind::straight_too_short, bar,
           "has " + length(first) + " of straight before its first bend and " + length(last) +
               " after its last; die " + die.id + " needs " + length(die.least_straight_mm) +
               " at one end and " + length(die.least_end_straight_mm) + " at the other.",
           "bend it long and trim it, or move the bend");
}

}  // namespace hoopwright::resolving
