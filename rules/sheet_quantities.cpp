// Folded plates, and what gussets are made like.
#include <algorithm>

#include "core/model/sheet_shape.h"
#include "rules/measuring.h"

namespace hoopwright {
namespace {

using Ring = std::vector<Vec3>;
struct SheetPlane {
    double area_mm2 = 0;
    Ring ring;
};

/// The flat face, then each flap, over the outside of the folds.
std::vector<SheetPlane> planesOf(const TableRun& run, const Subject& what) {
    const ResolvedPlate& plate = run.scene().plate(what);
    Ring face;
    for (const Vec2& p : plate.outline)
        face.emplace_back(plate.at + plate.axes.col(0) * p.x() + plate.axes.col(1) * p.y());
    std::vector<SheetPlane> out = {{plate.area_mm2, std::move(face)}};
    for (const PlacedFlap& flap : plate.flaps) {
        const Vec3 far = flap.length_mm * flap.along;
        out.push_back({flap.area_mm2(), {flap.from, flap.to, flap.to + far, flap.from + far}});
    }
    return out;
}

Measured shownRings(Measured value, const TableRun& run, const Subject& what,
                    const std::vector<SheetPlane>& planes, bool show) {
    if (!show) return value;
    Shown shown = shownPoint(run.scene().plate(what).at);
    for (const SheetPlane& plane : planes)
        for (std::size_t i = 0; i < plane.ring.size(); ++i)
            shown.shapes.push_back(ShownLine{plane.ring[i], plane.ring[(i + 1) % plane.ring.size()], false});
    return std::move(value).with(std::move(shown));
}

Measured developedArea(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const std::vector<SheetPlane> planes = planesOf(run, what);
    double sum = 0;
    for (const SheetPlane& plane : planes) sum += plane.area_mm2;
    return shownRings(Measured::number(sum), run, what, planes, show);
}
Measured planeCount(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const std::vector<SheetPlane> planes = planesOf(run, what);
    return shownRings(Measured::number(static_cast<double>(planes.size())), run, what, planes, show);
}
Measured leastPlane(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const std::vector<SheetPlane> planes = planesOf(run, what);
    const SheetPlane& least = *std::ranges::min_element(planes, {}, &SheetPlane::area_mm2);
    return shownRings(Measured::number(least.area_mm2), run, what, {least}, show);
}

Measured riserArea(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return shownRings(Measured::number(run.scene().plate(what).riser_area_mm2), run, what,
                      {planesOf(run, what).front()}, show);
}

const ResolvedGusset& sheetGusset(const TableRun& run, const Subject& what) {
    return run.scene().cage().gussets[static_cast<std::size_t>(what.first)];
}
const Gusset& gussetLayout(const TableRun& run, const Subject& what) {
    return run.scene().job().cage.gussets[static_cast<std::size_t>(sheetGusset(run, what).layout)];
}

Measured gussetFormed(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    Measured value = Measured::yesNo(gussetLayout(run, what).formed);
    if (!show) return value;
    const ResolvedGusset& g = sheetGusset(run, what);
    const auto& c = g.corners;
    return std::move(value).with(
        Shown{{ShownLine{c[0], c[1], false}, ShownLine{c[0], c[2], false}, ShownLine{c[1], c[2], false}},
              {g.member_a, g.member_b},
              c[0]});
}

/// As it is cut: one that does not fit is not there.
Measured gussetHole(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = sheetGusset(run, what);
    const GussetShape shape = gussetShape(run.scene().cage(), g);
    Measured value = Measured::number(shape.hole ? shape.hole_mm : 0);
    if (!show) return value;
    Shown shown{{}, {g.member_a, g.member_b}, g.corners[0]};
    if (shape.hole) {
        const Vec2 half(shape.hole_mm / 2, 0);
        shown.look_at = shape.at(*shape.hole);
        shown.shapes.push_back(ShownLine{shape.at(*shape.hole - half), shape.at(*shape.hole + half), true});
    } else {
        shown.shapes.push_back(ShownPoint{g.corners[0]});
    }
    return std::move(value).with(std::move(shown));
}

}  // namespace

std::vector<Quantity> sheetQuantities() {
    constexpr auto p = SubjectKind::plate;
    constexpr auto g = SubjectKind::gusset;
    constexpr auto num = ValueKind::number;
    const auto A = Dimension::area;
    return {
        {{"plate_developed_area", A, "plate",
          "Area in every plane: of its face and its flaps, over the outside of the folds; a riser apart.",
          ""},
         p,
         num,
         0,
         0,
         developedArea,
         {}},
        {{"plate_planes", Dimension::none, "plate", "How many planes it has: its face and each flap.", ""},
         p,
         num,
         0,
         0,
         planeCount,
         {}},
        {{"plate_least_plane", A, "plate", "Area of the smallest of its planes.", ""},
         p,
         num,
         0,
         0,
         leastPlane,
         {}},
        {{"riser_area", A, "plate", "Area of the walls of the box under it; 0 without one.", ""},
         p,
         num,
         0,
         0,
         riserArea,
         {}},
        {{"gusset_formed", Dimension::none, "gusset",
          "Folded of one sheet, a cheek on each side of the tubes.", ""},
         g,
         ValueKind::yes_no,
         0,
         0,
         gussetFormed,
         {}},
        {{"gusset_hole", Dimension::length, "gusset", "Diameter of the round hole in it; 0 without one.", ""},
         g,
         num,
         0,
         0,
         gussetHole,
         {}},
    };
}

}  // namespace hoopwright
