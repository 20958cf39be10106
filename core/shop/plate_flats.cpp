#include "core/shop/plate_flats.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kFlatClose_mm = 1e-6;
constexpr std::array<PlateEdge, 4> kRound = {PlateEdge::right, PlateEdge::ahead, PlateEdge::left,
                                             PlateEdge::behind};

/// Unit, out over an edge, in the plate's own axes.
Vec2 wayOut(PlateEdge edge) {
    switch (edge) {
        case PlateEdge::ahead:
            return {1, 0};
        case PlateEdge::behind:
            return {-1, 0};
        case PlateEdge::left:
            return {0, 1};
        case PlateEdge::right:
            break;
    }
    return {0, -1};
}

/// Lays a foot plate with its flaps folded out.
class FootFlat {
public:
    FootFlat(PlatePart& part, const Plate& said, const FlatFigures& with)
        : part_(part), said_(said), with_(with) {}

    void lay() {
        for (const Flap& flap : said_.flaps)
            if (!foldUp(flap)) return;
        if (!fits()) return;
        for (std::size_t i = 0; i < kRound.size(); ++i) {
            const PlateEdge edge = kRound[i], next = kRound[(i + 1) % kRound.size()];
            if (on(edge)) strip(edge);
            corner(edge, next);
        }
    }

private:
    struct Made {
        const Flap* flap = nullptr;
        Fold fold;
    };
    std::string length(double mm) const { return showLength(mm, {with_.unit}); }
    const Made* on(PlateEdge edge) const {
        const auto found = std::ranges::find_if(made_, [&](const Made& m) { return m.flap->edge == edge; });
        return found == made_.end() ? nullptr : &*found;
    }
    double half(PlateEdge edge) const {
        return (edge == PlateEdge::ahead || edge == PlateEdge::behind ? said_.length_mm : said_.width_mm) / 2;
    }
    double cut() const { return kCornerRelief * said_.thickness_mm; }

    bool foldUp(const Flap& flap) {
        const Expected<Fold> fold =
            foldOf(with_.book, said_.thickness_mm, std::abs(flap.angle_rad), with_.unit);
        if (!fold) {
            part_.trouble = fold.reason();
            return false;
        }
        const auto figures = std::ranges::find_if(with_.book->folds, [&](const SheetFold& one) {
            return std::abs(one.thickness_mm - said_.thickness_mm) < kSameThickness_mm;
        });
        const double least = std::max(fold->outside_setback_mm(), figures->least_leg_mm.value_or(0));
        if (flap.length_mm < least + (figures->least_leg_mm ? 0 : kFlatClose_mm)) {
            part_.trouble = "The flap " + edgeWord(flap.edge) + " is " + length(flap.length_mm) +
                            " long; this fold needs " + length(least) + " to be held. Make it longer.";
            return false;
        }
        made_.push_back({&flap, *fold});
        return true;
    }

    /// Folds do not run into each other or into a corner's notch.
    bool fits() {
        for (const Made& one : made_) {
            for (const Made& other : made_) {
                const double side_by_side = std::abs(wayOut(one.flap->edge).dot(wayOut(other.flap->edge)));
                if (&one == &other) continue;
                if (side_by_side < 0.5 && one.fold.outside_setback_mm() > cut() + kFlatClose_mm) {
                    part_.trouble = "The fold of the flap " + edgeWord(one.flap->edge) + " takes " +
                                    length(one.fold.outside_setback_mm()) +
                                    " of the corner, the notch there is " + length(cut()) +
                                    ": use a smaller radius, a smaller angle or one flap less.";
                    return false;
                }
            }
            const Made* facing = nullptr;
            for (const Made& other : made_)
                if (wayOut(one.flap->edge).dot(wayOut(other.flap->edge)) < -0.5) facing = &other;
            const double taken =
                one.fold.outside_setback_mm() + (facing ? facing->fold.outside_setback_mm() : 0);
            if (taken > 2 * half(one.flap->edge) - kFlatClose_mm) {
                part_.trouble = "The plate is too small for its folds: they take " + length(taken) +
                                " of it. Make it larger.";
                return false;
            }
        }
        return true;
    }

    void strip(PlateEdge edge) {
        const Made& made = *on(edge);
        const Vec2 out = wayOut(edge), along(-out.y(), out.x());
        const std::size_t at = static_cast<std::size_t>(std::ranges::find(kRound, edge) - kRound.begin());
        const PlateEdge before = kRound[(at + 3) % 4], after = kRound[(at + 1) % 4];
        const double from = -half(after) + (on(before) ? cut() : 0),
                     to = half(after) - (on(after) ? cut() : 0);
        const double setback = made.fold.outside_setback_mm(), allowance = made.fold.allowance_mm();
        const double far = half(edge) - made.fold.deduction_mm() + made.flap->length_mm;
        part_.outline.push_back(from * along + far * out);
        part_.outline.push_back(to * along + far * out);
        const double middle = half(edge) - setback + allowance / 2;
        const bool up = made.flap->angle_rad > 0;
        part_.folds.push_back({from * along + middle * out, to * along + middle * out, made.fold.angle_rad,
                               up, made.fold.radius_mm, allowance, "flap " + edgeWord(edge)});
        const double width = to - from;
        part_.planes.push_back({"flap " + edgeWord(edge), width * made.flap->length_mm});
    }

    void corner(PlateEdge edge, PlateEdge next) {
        const Vec2 at = half(edge) * wayOut(edge) + half(next) * wayOut(next);
        if (on(edge) && on(next)) part_.outline.push_back(at - cut() * (wayOut(edge) + wayOut(next)));
        if (!on(edge) && !on(next)) part_.outline.push_back(at);
    }

    PlatePart& part_;
    const Plate& said_;
    const FlatFigures& with_;
    std::vector<Made> made_;
};

/// Turn of the outline at a corner, left positive.
double turnAt(const std::vector<Vec2>& outline, std::size_t i) {
    const std::size_t n = outline.size();
    const Vec2 in = outline[i] - outline[(i + n - 1) % n], out = outline[(i + 1) % n] - outline[i];
    return std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out));
}

/// How far the last wall stays back from the seam's outer corner to butt on the inside of the first.
double buttBack(double wall_mm, double turn_rad) {
    return wall_mm * std::max(1 / std::sin(turn_rad), std::tan(turn_rad / 2));
}

void addPanel(std::vector<Vec2>& outline, double width, double height) {
    outline = {{0, 0}, {width, 0}, {width, height}, {0, height}};
}

}  // namespace

double outlineArea_mm2(const std::vector<Vec2>& outline) {
    double sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
        sum += a.x() * b.y() - a.y() * b.x();
    }
    return sum / 2;
}

double outlineRound_mm(const std::vector<Vec2>& outline) {
    double sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i)
        sum += (outline[(i + 1) % outline.size()] - outline[i]).norm();
    return sum;
}

Vec2 PlatePart::size_mm() const {
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();
    for (const Vec2& p : outline) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    return high - low;
}

void toDatum(PlatePart& part) {
    if (part.outline.empty()) return;
    Vec2 low = part.outline.front();
    for (const Vec2& p : part.outline) low = low.cwiseMin(p);
    for (Vec2& p : part.outline) p -= low;
    for (PartHole& hole : part.holes) hole.at -= low;
    for (PartFold& fold : part.folds) {
        fold.from -= low;
        fold.to -= low;
    }
    part.middle -= low;
}

void layFoot(PlatePart& part, const Plate& said, const std::vector<Vec2>& outline, const FlatFigures& with) {
    part.planes.push_back({"face", outlineArea_mm2(outline)});
    if (said.flaps.empty()) {
        part.outline = outline;
        part.weld_mm = outlineRound_mm(outline);
        return;
    }
    FootFlat(part, said, with).lay();
    if (!part.trouble.empty()) return;
    // Round the flaps: their ends and free edges, and the edges that are not folded. A notch is no edge.
    const double cut = kCornerRelief * said.thickness_mm;
    const double notched = said.length_mm * said.width_mm - outlineArea_mm2(outline);
    part.weld_mm = 2 * (said.length_mm + said.width_mm) - 2 * cut * std::round(notched / (cut * cut));
    for (const Flap& flap : said.flaps) part.weld_mm += 2 * flap.length_mm;
}

void layRiser(PlatePart& part, const Riser& riser, const std::vector<Vec2>& outline,
              const FlatFigures& with) {
    const std::size_t n = outline.size();
    // The seam is at the corner nearest to a right angle.
    std::size_t seam = 0;
    double best = 1e300;
    for (std::size_t i = 0; i < n; ++i) {
        const double off = std::abs(turnAt(outline, i) - std::numbers::pi / 2);
        if (off >= best - 1e-9) continue;
        best = off;
        seam = i;
    }
    if (best > 80 * std::numbers::pi / 180) {
        part.trouble = "The riser has no corner a seam can be put at.";
        return;
    }
    std::vector<double> flat(n), starts(n),
        ends(n);  // by walls, from the seam on; what each end gives to a fold
    std::vector<Fold> folds(n);
    for (std::size_t w = 1; w < n; ++w) {
        const double turn = turnAt(outline, (seam + w) % n);
        const Expected<Fold> fold = foldOf(with.book, riser.wall_mm, std::abs(turn), with.unit);
        if (!fold) {
            part.trouble = fold.reason();
            return;
        }
        folds[w] = *fold;
        // The outline is the outer face; at a corner that points inwards that is the inside of the fold.
        const double gives = turn > 0 ? fold->outside_setback_mm() : fold->inside_setback_mm();
        ends[w - 1] = gives;
        starts[w] = gives;
    }
    ends[n - 1] = buttBack(riser.wall_mm, turnAt(outline, seam));
    double x = 0;
    for (std::size_t w = 0; w < n; ++w) {
        const std::size_t a = (seam + w) % n;
        const double wall = (outline[(a + 1) % n] - outline[a]).norm();
        flat[w] = wall - starts[w] - ends[w];
        if (flat[w] < 0) {
            part.trouble = "A wall of the riser is " + showLength(wall, {with.unit}) +
                           " long, shorter than its folds take: give the plate fewer or longer edges.";
            part.folds.clear();
            part.planes.clear();
            return;
        }
        if (w > 0) {
            const double allowance = folds[w].allowance_mm(), middle = x + allowance / 2;
            part.folds.push_back({{middle, 0},
                                  {middle, riser.height_mm},
                                  folds[w].angle_rad,
                                  turnAt(outline, a) < 0,
                                  folds[w].radius_mm,
                                  allowance,
                                  "corner " + std::to_string(w)});
            x += allowance;
        }
        x += flat[w];
        part.planes.push_back({"wall " + std::to_string(w + 1), wall * riser.height_mm});
    }
    addPanel(part.outline, x, riser.height_mm);
    part.weld_mm = 2 * outlineRound_mm(outline) + riser.height_mm;
    part.words.push_back(
        "Seen from outside, its upper edge to the plate. The seam is where it begins and ends: the "
        "last wall butts on the inside of the first.");
    part.words.push_back("Weld: to the plate, to the car and up the seam.");
}

void layGusset(PlatePart& part, const GussetShape& shape, const FlatFigures& with) {
    const double pierced = shape.hole ? std::numbers::pi / 4 * shape.hole_mm * shape.hole_mm : 0;
    const auto triangle = [](const std::array<Vec2, 3>& t) { return outlineArea_mm2({t[0], t[1], t[2]}); };
    if (shape.between_mm <= 0) {
        part.outline = {shape.clear[0], shape.clear[1], shape.clear[2]};
        if (shape.hole) part.holes.push_back({*shape.hole, shape.hole_mm, "hole"});
        part.planes.push_back({"face", triangle(shape.clear) - pierced});
        part.weld_mm =
            2 * ((shape.clear[1] - shape.clear[0]).norm() + (shape.clear[2] - shape.clear[0]).norm());
        part.words.push_back("Weld along both tubes, both sides.");
        return;
    }
    constexpr double kRight = std::numbers::pi / 2;
    const Expected<Fold> fold = foldOf(with.book, part.thickness_mm, kRight, with.unit);
    if (!fold) {
        part.trouble = fold.reason();
        return;
    }
    const double radius = fold->radius_mm, half = shape.between_mm / 2, allowance = fold->allowance_mm();
    const std::array<double, 2> sharp = legAngles_rad(shape);
    const double sharp_a = sharp[0], sharp_b = sharp[1];
    const Vec2 open = shape.centres[2] - shape.centres[1];
    const double open_mm = open.norm();
    // How deep a place of a cheek is behind the open side, and how far along it from the first leg's end.
    const Vec2 along = open / open_mm, deep(-along.y(), along.x());
    const auto in_cheek = [&](const Vec2& p) {
        const Vec2 from = p - shape.centres[1];
        return Vec2(from.dot(along), from.dot(deep));
    };
    const Vec2 apex = in_cheek(shape.centres[0]);
    if (half <= radius || apex.y() <= radius) {
        part.trouble = "Its folds of radius " + showLength(radius, {with.unit}) +
                       " leave no flat: give it longer legs, or fold it tighter.";
        return;
    }
    // One half of the blank from the middle of the strip outwards: (developed, along) on either tube's side.
    constexpr int kSteps = 96;
    std::vector<Vec2> first, second;
    const auto edge = [&](double developed, double out, double deep_mm) {
        first.emplace_back(developed, stripStart_mm(shape.radius_mm[0], sharp_a, out, deep_mm));
        second.emplace_back(developed, open_mm - stripStart_mm(shape.radius_mm[1], sharp_b, out, deep_mm));
    };
    for (int i = 0; i <= kSteps; ++i) {
        // By the angle round the tube, so that the steep end is sampled finely.
        const double out = (half - radius) * std::sin(kRight * i / kSteps);
        edge(out, out, 0);
    }
    for (int i = 1; i <= kSteps; ++i) {
        const double turn = kRight * i / kSteps;
        edge(half - radius + allowance * i / kSteps, half - radius + radius * std::sin(turn),
             radius - radius * std::cos(turn));
    }
    const double cheek = half - radius + allowance - radius;  // developed = this + deep, on the cheek
    first.emplace_back(cheek + apex.y(), apex.x());
    // Upright: x developed, y along. Right half down its first side, then the left half, and back.
    std::vector<Vec2> outline;
    const auto put = [&](double sign, const Vec2& p) { outline.emplace_back(sign * p.x(), p.y()); };
    for (std::size_t i = first.size(); i-- > 1;) put(-1, first[i]);
    for (const Vec2& p : first) put(1, p);
    for (std::size_t i = second.size(); i-- > 1;) put(1, second[i]);
    for (std::size_t i = 0; i < second.size(); ++i) put(-1, second[i]);
    part.outline = std::move(outline);
    for (const double sign : {-1.0, 1.0}) {
        const double at = sign * (half - radius + allowance / 2);
        const double out = half - radius + radius * std::sin(kRight / 2),
                     deep_mm = radius - radius * std::cos(kRight / 2);
        part.folds.push_back({{at, stripStart_mm(shape.radius_mm[0], sharp_a, out, deep_mm)},
                              {at, open_mm - stripStart_mm(shape.radius_mm[1], sharp_b, out, deep_mm)},
                              kRight,
                              true,
                              radius,
                              allowance,
                              sign < 0 ? "cheek on the left" : "cheek on the right"});
        if (shape.hole) {
            const Vec2 hole = in_cheek(*shape.hole);
            part.holes.push_back({{sign * (cheek + hole.y()), hole.x()}, shape.hole_mm, "hole"});
        }
    }
    const double cheek_mm2 = triangle(shape.centres) - pierced;
    part.planes = {{"cheek", cheek_mm2}, {"cheek", cheek_mm2}, {"strip", shape.area_mm2 - 2 * cheek_mm2}};
    // Both cheeks along both tubes, and the strip's two ends over the tubes.
    part.weld_mm = 2 * (shape.centres[1].norm() + shape.centres[2].norm());
    for (std::size_t i = 0; i + 1 < first.size() && first[i + 1].x() <= half - radius + 1e-9; ++i)
        part.weld_mm += 2 * ((first[i + 1] - first[i]).norm() + (second[i + 1] - second[i]).norm());
    part.words.push_back("Inside of the U up. The cheeks lie on the sides of the tubes, " +
                         showLength(shape.between_mm, {with.unit}) +
                         " apart inside; the strip closes the open side.");
    const double slack = std::abs(shape.radius_mm[0] - shape.radius_mm[1]);
    if (slack > 0.05)
        part.words.push_back("The thinner tube stands " + showLength(slack, {with.unit}) +
                             " off each cheek: fill that, or set the cheeks in.");
}

}  // namespace hoopwright
