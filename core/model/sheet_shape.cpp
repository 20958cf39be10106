#include "core/model/sheet_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

/// Unit, in the plate's plane, out over that edge.
Vec2 outOver(PlateEdge edge) {
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

const Flap* flapOn(const Plate& said, PlateEdge edge) {
    const auto found = std::ranges::find(said.flaps, edge, &Flap::edge);
    return found == said.flaps.end() ? nullptr : &*found;
}

bool runsAcross(PlateEdge edge) {
    return edge == PlateEdge::ahead || edge == PlateEdge::behind;
}

/// Of an edge, the one to the right and the one to the left of whoever looks out over it.
std::array<PlateEdge, 2> besides(PlateEdge edge) {
    switch (edge) {
        case PlateEdge::ahead:
            return {PlateEdge::right, PlateEdge::left};
        case PlateEdge::behind:
            return {PlateEdge::left, PlateEdge::right};
        case PlateEdge::left:
            return {PlateEdge::ahead, PlateEdge::behind};
        case PlateEdge::right:
            break;
    }
    return {PlateEdge::behind, PlateEdge::ahead};
}

/// What a flap leaves free at the end of its edge that is towards `beside`.
double relief_mm(const Plate& said, PlateEdge beside) {
    return flapOn(said, beside) ? kCornerRelief * said.thickness_mm : 0;
}

double flapWidth_mm(const Plate& said, PlateEdge edge) {
    const auto ends = besides(edge);
    return (runsAcross(edge) ? said.width_mm : said.length_mm) - relief_mm(said, ends[0]) -
           relief_mm(said, ends[1]);
}

double crossOf(const Vec2& a, const Vec2& b) {
    return a.x() * b.y() - a.y() * b.x();
}
double areaOf(const std::array<Vec2, 3>& corners) {
    return crossOf(corners[1] - corners[0], corners[2] - corners[0]) / 2;
}

/// Of the circle that touches all three sides, its middle and radius.
std::pair<Vec2, double> incircle(const std::array<Vec2, 3>& t) {
    const double a = (t[1] - t[2]).norm(), b = (t[2] - t[0]).norm(), c = (t[0] - t[1]).norm();
    return {(a * t[0] + b * t[1] + c * t[2]) / (a + b + c), 2 * areaOf(t) / (a + b + c)};
}

/// Unit, in the plate's plane, from the plate to where the flap is.
Vec3 outOverFold(const ResolvedPlate& plate, const PlacedFlap& flap) {
    return (flap.front_to - flap.front_from).normalized().cross(plate.axes.col(2));
}

}  // namespace

std::optional<SheetTrouble> flapTrouble(const Plate& said) {
    if (said.flaps.empty()) return std::nullopt;
    if (!said.outline.empty())
        return SheetTrouble{"has flaps and an outline of its own.", "leave out one of them"};
    if (said.riser)
        return SheetTrouble{"has flaps and a riser; the box stands on the edges they are folded from.",
                            "leave out one of them"};
    for (std::size_t i = 0; i < said.flaps.size(); ++i) {
        const Flap& flap = said.flaps[i];
        for (std::size_t k = 0; k < i; ++k)
            if (said.flaps[k].edge == flap.edge)
                return SheetTrouble{"has two flaps on one edge.", "give each edge one at most"};
        const double angle = std::abs(flap.angle_rad);
        if (!(angle > 0) || !(angle < 120 * std::numbers::pi / 180 + 1e-9))
            return SheetTrouble{"has a flap that is not folded by between 0 and 120 degrees.",
                                "give it such an angle, up positive and down negative"};
        if (!(flap.length_mm > said.thickness_mm * std::tan(angle / 2)) || !(flap.length_mm <= 1e5))
            return SheetTrouble{"has a flap that is no longer than its own fold.", "make it longer"};
        if (!(flapWidth_mm(said, flap.edge) > 0))
            return SheetTrouble{"is too small for its flaps: their corners leave no edge to fold.",
                                "make it larger, or leave out a flap"};
    }
    return std::nullopt;
}

std::vector<Vec2> notchedRectangle(const Plate& said) {
    const double u = said.length_mm / 2, v = said.width_mm / 2;
    const double cut = kCornerRelief * said.thickness_mm;
    std::vector<Vec2> out;
    const auto corner = [&](PlateEdge one, PlateEdge other) {
        const Vec2 to = outOver(one) + outOver(other);
        const Vec2 at{to.x() * u, to.y() * v};
        if (!flapOn(said, one) || !flapOn(said, other)) return out.push_back(at);
        // From the edge that is walked, into the notch, to the edge that is walked next.
        out.push_back(at - cut * outOver(other));
        out.push_back(at - cut * to);
        out.push_back(at - cut * outOver(one));
    };
    corner(PlateEdge::behind, PlateEdge::right);
    corner(PlateEdge::right, PlateEdge::ahead);
    corner(PlateEdge::ahead, PlateEdge::left);
    corner(PlateEdge::left, PlateEdge::behind);
    return out;
}

std::string edgeWord(PlateEdge edge) {
    constexpr std::array<const char*, 4> kWords = {"ahead", "behind", "left", "right"};
    return kWords[static_cast<std::size_t>(edge)];
}

PlateEdge edgeOnSide(PlateEdge edge, Side side) {
    if (side != Side::right || runsAcross(edge)) return edge;
    return edge == PlateEdge::left ? PlateEdge::right : PlateEdge::left;
}

std::vector<PlacedFlap> placedFlaps(const Plate& said, const ResolvedPlate& plate) {
    std::vector<PlacedFlap> out;
    if (flapTrouble(said)) return out;
    for (const Flap& flap : said.flaps) {
        PlacedFlap made;
        made.edge = edgeOnSide(flap.edge, plate.side);
        made.length_mm = flap.length_mm;
        made.angle_rad = flap.angle_rad;
        made.width_mm = flapWidth_mm(said, flap.edge);
        const bool up = flap.angle_rad > 0;
        // Ends of the edge in the left-hand plate's own axes, then turned over for the right-hand one.
        const Vec2 out_over = outOver(flap.edge), on(-out_over.y(), out_over.x());
        const auto ends = besides(flap.edge);
        const double half = (runsAcross(flap.edge) ? said.width_mm : said.length_mm) / 2;
        const Vec2 middle(out_over.x() * said.length_mm / 2, out_over.y() * said.width_mm / 2);
        Vec2 from = middle - (half - relief_mm(said, ends[0])) * on;
        Vec2 to = middle + (half - relief_mm(said, ends[1])) * on;
        Vec2 away = out_over;
        if (plate.side == Side::right) {
            for (Vec2* p : {&from, &to, &away}) p->y() = -p->y();
            std::swap(from, to);
        }
        // Folded up, the outer face of the fold is the plate's lower one.
        const double height = up ? -plate.thickness_mm : 0;
        made.from = plate.at + plate.axes * Vec3(from.x(), from.y(), height);
        made.to = plate.at + plate.axes * Vec3(to.x(), to.y(), height);
        const Vec3 over = plate.axes * Vec3(away.x(), away.y(), 0), normal = plate.axes.col(2);
        const double angle = std::abs(flap.angle_rad), sign = up ? 1 : -1;
        made.along = std::cos(angle) * over + sign * std::sin(angle) * normal;
        made.outward = std::sin(angle) * over - sign * std::cos(angle) * normal;
        const double takes = up ? plate.thickness_mm * std::tan(angle / 2) : 0;
        const Vec3 to_front = up ? Vec3(plate.thickness_mm * normal - takes * over) : Vec3(Vec3::Zero());
        made.front_from = made.from + to_front;
        made.front_to = made.to + to_front;
        made.front_length_mm = made.length_mm - takes;
        out.push_back(made);
    }
    return out;
}

double flapsVolume_mm3(const Plate& said) {
    double sum = 0;
    if (flapTrouble(said)) return sum;
    for (const Flap& flap : said.flaps)
        sum += flapWidth_mm(said, flap.edge) * said.thickness_mm *
               (flap.length_mm - said.thickness_mm * std::tan(std::abs(flap.angle_rad) / 2));
    return sum;
}

Vec3 placeOnSheet(const ResolvedPlate& plate, const Vec2& offset) {
    const Vec3 flat = plate.at + plate.axes.leftCols<2>() * offset;
    Vec3 place = flat;
    double farthest = 0;
    for (const PlacedFlap& flap : plate.flaps) {
        const Vec3 out = outOverFold(plate, flap);
        const double past = (flat - flap.front_from).dot(out);
        if (past <= farthest) continue;
        farthest = past;
        place = flat + past * (flap.along - out);
    }
    return place;
}

Vec2 offsetOnSheet(const ResolvedPlate& plate, const Vec3& place) {
    Vec3 flat = place;
    double nearest = std::abs((place - plate.at).dot(plate.axes.col(2)));
    for (const PlacedFlap& flap : plate.flaps) {
        const double past = (place - flap.front_from).dot(flap.along);
        const double off = std::abs((place - flap.front_from).dot(flap.front()));
        if (past <= 0 || off >= nearest) continue;
        nearest = off;
        flat = place + past * (outOverFold(plate, flap) - flap.along);
    }
    return plate.axes.leftCols<2>().transpose() * (flat - plate.at);
}

std::vector<Vec2> movedIn(const std::vector<Vec2>& outline, const std::vector<double>& by_mm) {
    const std::size_t n = outline.size();
    const auto leftOf = [](const Vec2& d) { return Vec2(-d.y(), d.x()); };
    std::vector<Vec2> out(n);
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t before = (i + n - 1) % n;
        const Vec2 d0 = (outline[i] - outline[before]).normalized();
        const Vec2 d1 = (outline[(i + 1) % n] - outline[i]).normalized();
        const Vec2 in0 = leftOf(d0), in1 = leftOf(d1);
        if (std::abs(crossOf(d0, d1)) < 1e-9) {
            out[i] = outline[i] + by_mm[i] * in1;
            continue;
        }
        // Where the two moved sides cross.
        const double along = (by_mm[i] - by_mm[before] * in0.dot(in1)) / d0.dot(in1);
        out[i] = outline[i] + by_mm[before] * in0 + along * d0;
    }
    return out;
}

std::optional<double> riserVolume_mm3(const std::vector<Vec2>& outline, const Riser& riser) {
    const std::vector<Vec2> inside = movedIn(outline, std::vector<double>(outline.size(), riser.wall_mm));
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const std::size_t j = (i + 1) % outline.size();
        if ((outline[j] - outline[i]).dot(inside[j] - inside[i]) <= 0) return std::nullopt;
        twice += crossOf(outline[i], outline[j]) - crossOf(inside[i], inside[j]);
    }
    return twice / 2 * riser.height_mm;
}

std::optional<GussetShape> gussetShape(const Gusset& said, const std::array<Vec3, 3>& corners, double a_mm,
                                       double b_mm) {
    GussetShape out;
    const Vec3 a = corners[1] - corners[0], b = corners[2] - corners[0], normal = a.cross(b);
    if (!(normal.norm() > 1e-9)) return std::nullopt;
    out.corner = corners[0];
    out.axes.col(0) = a.normalized();
    out.axes.col(2) = normal.normalized();
    out.axes.col(1) = out.axes.col(2).cross(out.axes.col(0));
    out.radius_mm = {a_mm, b_mm};
    out.angle_rad = std::atan2(normal.norm(), a.dot(b));
    const Vec2 end_a(a.norm(), 0), end_b(b.dot(out.axes.col(0)), b.dot(out.axes.col(1)));
    out.centres = {Vec2::Zero(), end_a, end_b};
    // Heights of each leg's end over the other bar; a tube takes its radius off them.
    const double over_a = end_b.y(), over_b = std::abs(crossOf(end_b.normalized(), end_a));
    const double at_a = a_mm / over_a, at_b = 1 - b_mm / over_b;
    const double share = at_b - at_a;
    if (!(share > 0)) return std::nullopt;
    const Vec2 near_a = end_a + at_a * (end_b - end_a), near_b = end_a + at_b * (end_b - end_a);
    out.clear = {near_a - share * end_a, near_a, near_b};
    out.between_mm = said.formed ? 2 * std::max(a_mm, b_mm) : 0;

    const auto [middle, inner] = incircle(out.clear);
    out.greatest_hole_mm = std::max(0.0, 2 * (inner - kHoleWeb * said.thickness_mm));
    if (said.hole_mm && *said.hole_mm <= out.greatest_hole_mm) {
        out.hole = middle;
        out.hole_mm = *said.hole_mm;
    }
    const double pierced = out.hole ? std::numbers::pi / 4 * out.hole_mm * out.hole_mm : 0;
    const double t = said.thickness_mm;
    if (!said.formed) {
        out.area_mm2 = areaOf(out.clear) - pierced;
        out.volume_mm3 = out.area_mm2 * t;
        return out;
    }
    const double open = (end_b - end_a).norm();
    const auto [sharp_a, sharp_b] = legAngles_rad(out);
    // The strip ends where it meets the tubes: half an ellipse is taken out at each.
    const double strip =
        open * out.between_mm -
        std::numbers::pi / 2 * (a_mm * a_mm / std::sin(sharp_a) + b_mm * b_mm / std::sin(sharp_b));
    out.area_mm2 = 2 * (areaOf(out.centres) - pierced) + strip;
    out.volume_mm3 = out.area_mm2 * t + 2 * open * t * t;
    return out;
}

GussetShape gussetShape(const CageGeometry& cage, const ResolvedGusset& gusset) {
    const auto radius = [&](int member) {
        return cage.members[static_cast<std::size_t>(member)].radius_mm();
    };
    Gusset said;
    said.thickness_mm = gusset.thickness_mm;
    said.formed = gusset.formed;
    said.hole_mm = gusset.hole_mm;
    return gussetShape(said, gusset.corners, radius(gusset.member_a), radius(gusset.member_b))
        .value_or(GussetShape{});
}

double stripStart_mm(double radius_mm, double sharp_rad, double out_mm, double deep_mm) {
    const double half = std::sqrt(std::max(0.0, radius_mm * radius_mm - out_mm * out_mm));
    return (half + deep_mm * std::cos(sharp_rad)) / std::sin(sharp_rad);
}

std::array<double, 2> legAngles_rad(const GussetShape& shape) {
    const auto between = [](const Vec2& a, const Vec2& b) {
        return std::atan2(std::abs(crossOf(a, b)), a.dot(b));
    };
    const auto& [corner, a, b] = shape.centres;
    return {between(corner - a, b - a), between(corner - b, a - b)};
}

}  // namespace hoopwright
