#include "core/solid/plate_solid.h"

#include <cmath>
#include <functional>
#include <numbers>

namespace hoopwright {
namespace {

using std::numbers::pi;
using Corners = std::vector<int>;

// The sheet of the car between a plate and what backs it.
constexpr double kFloorSheet_mm = 1.5;

Vec2 rightOf(const Vec2& d) {
    return {d.y(), -d.x()};
}

using ToSpace = std::function<Vec3(const Vec2&, double)>;

Corners cornersOf(FlatSided& body, const std::vector<Vec2>& outline, const ToSpace& at, double height) {
    Corners out;
    for (const Vec2& p : outline) out.push_back(body.corner(at(p, height)));
    return out;
}

Corners turned(const Corners& loop) {
    return {loop.rbegin(), loop.rend()};
}

/// A round hole from the face `top` down to the face `bottom` of a solid whose faces are both there already.
void pierce(SolidBody& solid, std::size_t top, std::size_t bottom, const Vec3& middle, const Vec3& normal,
            double thickness, double radius) {
    const Vec3 u = normal.unitOrthogonal();
    std::array<std::array<int, 2>, 2> corner;  // above, below
    for (const std::size_t level : {0u, 1u})
        for (const std::size_t side : {0u, 1u})
            corner[level][side] = solid.corner(middle - (level == 0 ? 0 : thickness) * normal +
                                               (side == 0 ? radius : -radius) * u);
    std::array<std::array<int, 2>, 2> arc;
    for (const std::size_t level : {0u, 1u})
        for (const std::size_t side : {0u, 1u})
            arc[level][side] = solid.edge(corner[level][side], corner[level][1 - side],
                                          CircleEdge{middle - (level == 0 ? 0 : thickness) * normal, normal,
                                                     side == 0 ? u : Vec3(-u), radius});
    std::array<int, 2> line;
    for (const std::size_t side : {0u, 1u})
        line[side] = solid.edge(corner[1][side], corner[0][side], StraightEdge{});
    solid.faces[top].loops.push_back({{arc[0][1], false}, {arc[0][0], false}});
    solid.faces[bottom].loops.push_back({{arc[1][0], true}, {arc[1][1], true}});
    for (const std::size_t side : {0u, 1u}) {
        SolidFace wall;
        const Vec3 away = (side == 0 ? -1.0 : 1.0) * normal.cross(u);
        wall.surface = CylinderSurface{middle, normal, away, radius};
        wall.along_normal = false;
        wall.loops = {
            {{arc[1][side], false}, {line[side], true}, {arc[0][side], true}, {line[1 - side], false}}};
        solid.faces.push_back(std::move(wall));
    }
}

FlatSided prism(const std::vector<Vec2>& outline, const ToSpace& at, double top, double bottom) {
    FlatSided body;
    const Corners high = cornersOf(body, outline, at, top), low = cornersOf(body, outline, at, bottom);
    body.face({high});
    body.face({turned(low)});
    for (std::size_t i = 0; i < high.size(); ++i) {
        const std::size_t j = (i + 1) % high.size();
        body.face({{low[i], low[j], high[j], high[i]}});
    }
    return body;
}

ToSpace spaceOf(const ResolvedPlate& plate) {
    return [&plate](const Vec2& p, double height) {
        return Vec3(plate.at + plate.axes * Vec3(p.x(), p.y(), height));
    };
}

/// The flap on an edge of the outline, if there is one.
const PlacedFlap* flapOn(const std::vector<PlacedFlap>& flaps, const Vec3& from, const Vec3& to) {
    for (const PlacedFlap& flap : flaps)
        if ((flap.from - from).norm() < 1e-6 && (flap.to - to).norm() < 1e-6) return &flap;
    return nullptr;
}

/// The strip that goes on from the plate's edge. `outer`, `inner`: the ends of the lines where its faces meet
/// those of the plate; `up`: folded towards the cage.
void addFlap(FlatSided& body, const PlacedFlap& flap, double thickness, const std::array<int, 2>& outer,
             const std::array<int, 2>& inner, bool up) {
    std::array<int, 2> far_outer, far_inner;
    for (const std::size_t i : {0u, 1u}) {
        const Vec3 edge =
            body.solid().corners[static_cast<std::size_t>(outer[i])] + flap.length_mm * flap.along;
        far_outer[i] = body.corner(edge);
        far_inner[i] = body.corner(edge - thickness * flap.outward);
    }
    const auto add = [&](const Corners& loop) { body.face({up ? loop : turned(loop)}); };
    add({outer[0], outer[1], far_outer[1], far_outer[0]});
    add({inner[1], inner[0], far_inner[0], far_inner[1]});
    add({far_outer[0], far_outer[1], far_inner[1], far_inner[0]});
    add({outer[0], far_outer[0], far_inner[0], inner[0]});
    add({outer[1], inner[1], far_inner[1], far_outer[1]});
}

/// Outline of a folded gusset's strip, from edge to edge across it, in (along the open side, out of the
/// plane): its end at each tube follows the tube.
std::vector<Vec2> stripEnd(double radius, double sharp, double half_width) {
    // Chords of an ellipse: sagitta of the circle it comes from, grown by the slant.
    const int chords =
        std::max(8, static_cast<int>(std::ceil(pi / (2 * std::acos(1 - 0.005 * std::sin(sharp) / radius)))));
    std::vector<Vec2> out;
    if (radius < half_width - 1e-9) out.push_back({0, -half_width});
    for (int i = 0; i <= chords; ++i) {
        const double across = -radius * std::cos(pi * i / chords);
        const double start = i == 0 || i == chords ? 0 : stripStart_mm(radius, sharp, across, 0);
        out.push_back({start, across});
    }
    if (radius < half_width - 1e-9) out.push_back({0, half_width});
    return out;
}

SolidBody foldedGusset(const GussetShape& shape, double t) {
    const auto& [corner, end_a, end_b] = shape.centres;
    const double half = shape.between_mm / 2, open = (end_b - end_a).norm();
    const Vec2 along = (end_b - end_a) / open, outwards = rightOf(along);
    const auto [sharp_a, sharp_b] = legAngles_rad(shape);
    const std::vector<Vec2> at_a = stripEnd(shape.radius_mm[0], sharp_a, half),
                            at_b = stripEnd(shape.radius_mm[1], sharp_b, half);
    FlatSided body;
    const auto put = [&](const Vec2& flat, double out) { return body.corner(shape.at(flat, out)); };
    // Ends of the strip's outline on its inner face (level 0) and its outer one (1), from the lower cheek to
    // the upper.
    std::array<Corners, 2> a, b;
    for (const int level : {0, 1}) {
        const Vec2 lift = level * t * outwards;
        for (const Vec2& p : at_a)
            a[static_cast<std::size_t>(level)].push_back(put(end_a + p.x() * along + lift, p.y()));
        for (const Vec2& p : at_b)
            b[static_cast<std::size_t>(level)].push_back(put(end_b - p.x() * along + lift, p.y()));
    }
    std::array<int, 2> inside_corner, outside_corner, leg_a, leg_b, fold_a,
        fold_b;  // of the lower and upper cheek
    for (const std::size_t s : {0u, 1u}) {
        const double side = s == 0 ? -1 : 1;
        inside_corner[s] = put(corner, side * half);
        outside_corner[s] = put(corner, side * (half + t));
        leg_a[s] = put(end_a, side * (half + t)), leg_b[s] = put(end_b, side * (half + t));
        fold_a[s] = put(end_a + t * outwards, side * (half + t)),
        fold_b[s] = put(end_b + t * outwards, side * (half + t));
        const int inner_a = s == 0 ? a[0].front() : a[0].back(),
                  inner_b = s == 0 ? b[0].front() : b[0].back();
        const auto add = [&](const Corners& loop) { body.face({s == 1 ? loop : turned(loop)}); };
        add({outside_corner[s], leg_a[s], fold_a[s], fold_b[s], leg_b[s]});
        add({inside_corner[s], inner_b, inner_a});
        add({inside_corner[s], inner_a, leg_a[s], outside_corner[s]});
        add({inside_corner[s], outside_corner[s], leg_b[s], inner_b});
        const int top_a = s == 0 ? a[1].front() : a[1].back(), top_b = s == 0 ? b[1].front() : b[1].back();
        add({inner_a, top_a, fold_a[s], leg_a[s]});
        add({inner_b, leg_b[s], fold_b[s], top_b});
    }
    // The strip: outer face with the folds' outside, inner face, and its ends along the tubes.
    Corners outer = {fold_a[0], fold_b[0]}, inner;
    outer.insert(outer.end(), b[1].begin(), b[1].end());
    outer.push_back(fold_b[1]), outer.push_back(fold_a[1]);
    outer.insert(outer.end(), a[1].rbegin(), a[1].rend());
    inner = a[0];
    inner.insert(inner.end(), b[0].rbegin(), b[0].rend());
    body.face({outer});
    body.face({inner});
    for (std::size_t i = 0; i + 1 < at_a.size(); ++i)
        body.face({{a[0][i], a[1][i], a[1][i + 1], a[0][i + 1]}});
    for (std::size_t i = 0; i + 1 < at_b.size(); ++i)
        body.face({{b[0][i], b[0][i + 1], b[1][i + 1], b[1][i]}});
    return body.take();
}

}  // namespace

SolidBody plateSolid(const ResolvedPlate& plate) {
    const double t = plate.thickness_mm;
    const std::size_t n = plate.outline.size();
    const ToSpace at = spaceOf(plate);
    std::vector<const PlacedFlap*> of_edge(n, nullptr);
    std::vector<double> in_above(n, 0), in_below(n, 0);
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 &p = plate.outline[i], &q = plate.outline[(i + 1) % n];
        for (const double height : {0.0, -t}) {
            const PlacedFlap* flap = flapOn(plate.flaps, at(p, height), at(q, height));
            if (!flap || (flap->angle_rad > 0) != (height < 0)) continue;
            of_edge[i] = flap;
            (height < 0 ? in_above : in_below)[i] = t * std::tan(std::abs(flap->angle_rad) / 2);
        }
    }
    FlatSided body;
    const Corners high = cornersOf(body, movedIn(plate.outline, in_above), at, 0),
                  low = cornersOf(body, movedIn(plate.outline, in_below), at, -t);
    body.face({high});
    body.face({turned(low)});
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t j = (i + 1) % n;
        if (!of_edge[i]) {
            body.face({{low[i], low[j], high[j], high[i]}});
        } else if (of_edge[i]->angle_rad > 0) {
            addFlap(body, *of_edge[i], t, {low[i], low[j]}, {high[i], high[j]}, true);
        } else {
            addFlap(body, *of_edge[i], t, {high[i], high[j]}, {low[i], low[j]}, false);
        }
    }
    return body.take();
}

std::optional<SolidBody> backingSolid(const ResolvedPlate& plate) {
    if (!plate.backing || !(plate.backing->thickness_mm > 0)) return std::nullopt;
    const Vec2 half = 0.5 * Vec2(plate.backing->length_mm, plate.backing->width_mm);
    const double top = -plate.thickness_mm - plate.riser_height_mm - kFloorSheet_mm;
    const std::vector<Vec2> outline = {
        {-half.x(), -half.y()}, {half.x(), -half.y()}, half, {-half.x(), half.y()}};
    return prism(outline, spaceOf(plate), top, top - plate.backing->thickness_mm).take();
}

std::optional<SolidBody> riserSolid(const ResolvedPlate& plate) {
    if (!(plate.riser_height_mm > 0) || !(plate.riser_wall_mm > 0)) return std::nullopt;
    const std::vector<Vec2> inside =
        movedIn(plate.outline, std::vector<double>(plate.outline.size(), plate.riser_wall_mm));
    FlatSided body;
    const ToSpace at = spaceOf(plate);
    const double top = -plate.thickness_mm, bottom = top - plate.riser_height_mm;
    const Corners high = cornersOf(body, plate.outline, at, top),
                  low = cornersOf(body, plate.outline, at, bottom);
    const Corners high_in = cornersOf(body, inside, at, top), low_in = cornersOf(body, inside, at, bottom);
    body.face({high, turned(high_in)});
    body.face({turned(low), low_in});
    for (std::size_t i = 0; i < high.size(); ++i) {
        const std::size_t j = (i + 1) % high.size();
        const Vec2 was = plate.outline[j] - plate.outline[i], is = inside[j] - inside[i];
        if (was.dot(is) <= 0) return std::nullopt;
        body.face({{low[i], low[j], high[j], high[i]}});
        body.face({{low_in[j], low_in[i], high_in[i], high_in[j]}});
    }
    return body.take();
}

SolidBody gussetSolid(const GussetShape& shape, double thickness_mm) {
    const double t = thickness_mm, radius = shape.hole_mm / 2;
    const Vec3 out = shape.axes.col(2);
    if (shape.between_mm > 0) {
        SolidBody folded = foldedGusset(shape, t);
        if (!shape.hole) return folded;
        // Each cheek's outer and inner face: the first two of its six, the lower cheek first.
        const double half = shape.between_mm / 2;
        pierce(folded, 6, 7, shape.at(*shape.hole, half + t), out, t, radius);
        pierce(folded, 0, 1, shape.at(*shape.hole, -half - t), -out, t, radius);
        return folded;
    }
    const ToSpace at = [&](const Vec2& p, double height) { return shape.at(p, height); };
    SolidBody flat = prism({shape.clear.begin(), shape.clear.end()}, at, t / 2, -t / 2).take();
    if (shape.hole) pierce(flat, 0, 1, shape.at(*shape.hole, t / 2), out, t, radius);
    return flat;
}

double flatSidedVolume_mm3(const SolidBody& solid) {
    // Gauss's theorem, face by face: a third of the distance of its plane times its area. Round edges by
    // their sector beyond the chord; walls of round holes by the prism they bound.
    double sum = 0;
    const auto at = [&](int corner) { return solid.corners[static_cast<std::size_t>(corner)]; };
    for (const SolidFace& face : solid.faces) {
        if (const auto* plane = std::get_if<PlaneSurface>(&face.surface)) {
            Vec3 area = Vec3::Zero();
            for (const EdgeLoop& loop : face.loops) {
                for (const EdgeUse& use : loop) {
                    const SolidEdge& edge = solid.edges[static_cast<std::size_t>(use.edge)];
                    const double sign = use.forward ? 0.5 : -0.5;
                    area += sign * (at(edge.from) - plane->at).cross(at(edge.to) - plane->at);
                    if (const auto* arc = std::get_if<CircleEdge>(&edge.curve))
                        area += sign * pi * arc->radius_mm * arc->radius_mm * arc->axis;
                }
            }
            sum += plane->at.dot(area) / 3;
        } else if (const auto* round = std::get_if<CylinderSurface>(&face.surface)) {
            // Half a wall, its normal towards the axis: the integral of p.n is over the axis point and the
            // radius.
            const SolidEdge& side = solid.edges[static_cast<std::size_t>(face.loops[0][1].edge)];
            const double height = (at(side.to) - at(side.from)).norm();
            const Vec3 inwards =
                2 * round->radius_mm * height * round->away;  // of the normal over the half wall
            const Vec3 middle = round->at;
            sum += (middle.dot(inwards) - round->radius_mm * pi * round->radius_mm * height) / 3;
        }
    }
    return sum;
}

}  // namespace hoopwright
