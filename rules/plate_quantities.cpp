// Foot plates and gussets.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Corner of a plate's bounding rectangle in its own axes.
struct Sides {
    double along = 0, across = 0;
    Vec2 low = Vec2::Zero();
};
Sides sidesOf(const ResolvedPlate& plate) {
    if (plate.outline.empty()) return {};
    Vec2 low = plate.outline.front(), high = low;
    for (const Vec2& p : plate.outline) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    return {high.x() - low.x(), high.y() - low.y(), low};
}

Vec3 inSpace(const ResolvedPlate& plate, const Vec2& p) {
    return plate.at + plate.axes.col(0) * p.x() + plate.axes.col(1) * p.y();
}

/// The place of a plate and an outline in its plane.
Shown shownOutline(const ResolvedPlate& plate, const std::vector<Vec2>& outline) {
    Shown shown = shownPoint(plate.at);
    for (std::size_t i = 0; i < outline.size(); ++i)
        shown.shapes.push_back(
            ShownLine{inSpace(plate, outline[i]), inSpace(plate, outline[(i + 1) % outline.size()]), false});
    return shown;
}

Measured shownOnPlate(Measured value, const ResolvedPlate& plate, bool show) {
    return show ? std::move(value).with(shownOutline(plate, plate.outline)) : std::move(value);
}

/// The outline, and through the plate a line as long as it is thick.
Measured shownThrough(double thickness_mm, const ResolvedPlate& plate, double way, bool show) {
    Measured value = Measured::number(thickness_mm);
    if (!show) return value;
    Shown shown = shownOutline(plate, plate.outline);
    shown.shapes.push_back(
        ShownLine{plate.at, plate.at + way * thickness_mm * Vec3(plate.axes.col(2)), true});
    return std::move(value).with(std::move(shown));
}

/// The outline, and a line along the shorter or the longer side.
Measured shownSide(Measured value, const ResolvedPlate& plate, bool longer, bool show) {
    if (!show) return value;
    const Sides sides = sidesOf(plate);
    const bool along = (sides.along >= sides.across) == longer;
    const Vec2 to = sides.low + (along ? Vec2(sides.along, 0) : Vec2(0, sides.across));
    Shown shown = shownOutline(plate, plate.outline);
    shown.shapes.push_back(ShownLine{inSpace(plate, sides.low), inSpace(plate, to), true});
    return std::move(value).with(std::move(shown));
}

double area(const ResolvedPlate& p) {
    return p.area_mm2;
}
Measured plateArea(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedPlate& plate = run.scene().plate(what);
    return shownOnPlate(Measured::number(area(plate)), plate, show);
}
double leastSide(const ResolvedPlate& p) {
    return std::min(sidesOf(p).along, sidesOf(p).across);
}
double greatestSide(const ResolvedPlate& p) {
    return std::max(sidesOf(p).along, sidesOf(p).across);
}

Measured thickness(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedPlate& plate = run.scene().plate(what);
    return shownThrough(plate.thickness_mm, plate, 1, show);
}
template <bool longer>
Measured side(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedPlate& plate = run.scene().plate(what);
    return shownSide(Measured::number(longer ? greatestSide(plate) : leastSide(plate)), plate, longer, show);
}

/// Greatest OD that stands on the plate, or what is missing.
Measured greatestOd(const TableRun& run, const Subject& what) {
    const ResolvedPlate& plate = run.scene().plate(what);
    if (plate.feet.empty()) return Measured::unknown("no bar stands on it");
    double greatest = 0;
    for (const auto& [member, end] : plate.feet) {
        if (!run.scene().facts(member).stock) return noStock(run, member);
        greatest = std::max(greatest, run.scene().member(member).section.od_mm);
    }
    return Measured::number(greatest);
}

Measured areaOverOd(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    Measured od = greatestOd(run, what);
    if (od.is != Measured::Is::number) return od;
    const ResolvedPlate& plate = run.scene().plate(what);
    return shownOnPlate(Measured::number(area(plate) / od.low), plate, show);
}
Measured sideOverOd(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    Measured od = greatestOd(run, what);
    if (od.is != Measured::Is::number) return od;
    const ResolvedPlate& plate = run.scene().plate(what);
    return shownSide(Measured::number(leastSide(plate) / od.low), plate, false, show);
}

Measured fixing(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const bool bolted = run.scene().plateLayout(what).fixing == Fixing::bolted;
    return shownOnPlate(Measured::word(bolted ? "bolted" : "welded"), run.scene().plate(what), show);
}

Measured bolts(const TableRun& run, const Subject& what, bool show, Measured (*figure)(const Bolts&)) {
    const Plate& plate = run.scene().plateLayout(what);
    if (plate.fixing != Fixing::bolted) return Measured::leftOut();
    return shownOnPlate(figure(plate.bolts), run.scene().plate(what), show);
}
Measured boltCount(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return bolts(run, what, show, [](const Bolts& b) { return Measured::number(b.count); });
}
Measured boltDiameter(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return bolts(run, what, show, [](const Bolts& b) {
        return b.diameter_mm > 0 ? Measured::number(b.diameter_mm)
                                 : Measured::unknown("the plate's bolts have no diameter");
    });
}
Measured boltGrade(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return bolts(run, what, show, [](const Bolts& b) {
        return b.grade.empty() ? Measured::unknown("the plate's bolts have no grade")
                               : Measured::word(b.grade);
    });
}

Measured backingArea(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const auto& backing = run.scene().plateLayout(what).backing;
    const ResolvedPlate& plate = run.scene().plate(what);
    if (!backing) return shownOnPlate(Measured::number(0), plate, show);
    Measured out = Measured::number(backing->length_mm * backing->width_mm);
    if (!show) return out;
    // Its own outline, square to the plate above it.
    const double l = backing->length_mm / 2, w = backing->width_mm / 2;
    return std::move(out).with(shownOutline(plate, {{-l, -w}, {l, -w}, {l, w}, {-l, w}}));
}
Measured backingThickness(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const auto& backing = run.scene().plateLayout(what).backing;
    return shownThrough(backing ? backing->thickness_mm : 0, run.scene().plate(what), -1, show);
}

Measured tiedToRail(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return shownOnPlate(Measured::yesNo(!run.scene().plateLayout(what).rail.empty()), run.scene().plate(what),
                        show);
}

const ResolvedGusset& gussetOf(const TableRun& run, const Subject& what) {
    return run.scene().cage().gussets[static_cast<std::size_t>(what.first)];
}

Shown shownSheet(const ResolvedGusset& g) {
    Shown shown{{}, {g.member_a, g.member_b}, g.corners[0]};
    for (std::size_t i = 0; i < g.corners.size(); ++i)
        shown.shapes.push_back(ShownLine{g.corners[i], g.corners[(i + 1) % g.corners.size()], false});
    return shown;
}

/// Through its middle.
Measured gussetThickness(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = gussetOf(run, what);
    Measured out = Measured::number(g.thickness_mm);
    if (!show) return out;
    const auto& c = g.corners;
    const Vec3 middle = (c[0] + c[1] + c[2]) / 3, through = (c[1] - c[0]).cross(c[2] - c[0]).normalized();
    Shown shown = shownSheet(g);
    shown.shapes.push_back(
        ShownLine{middle - g.thickness_mm / 2 * through, middle + g.thickness_mm / 2 * through, true});
    return std::move(out).with(std::move(shown));
}

/// The shorter leg: where it ends, and how long it is.
std::pair<Vec3, double> legOf(const ResolvedGusset& g) {
    const double first = (g.corners[1] - g.corners[0]).norm(), second = (g.corners[2] - g.corners[0]).norm();
    return first <= second ? std::pair{g.corners[1], first} : std::pair{g.corners[2], second};
}
Measured shownOnGusset(Measured value, const ResolvedGusset& g, bool show) {
    if (!show) return value;
    Shown shown = shownSheet(g);
    shown.shapes.push_back(ShownLine{g.corners[0], legOf(g).first, true});
    return std::move(value).with(std::move(shown));
}
Measured gussetLeg(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = gussetOf(run, what);
    return shownOnGusset(Measured::number(legOf(g).second), g, show);
}
Measured gussetLegOverOd(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = gussetOf(run, what);
    for (int i : {g.member_a, g.member_b})
        if (!run.scene().facts(i).stock) return noStock(run, i);
    const double od =
        std::max(run.scene().member(g.member_a).section.od_mm, run.scene().member(g.member_b).section.od_mm);
    return shownOnGusset(Measured::number(legOf(g).second / od), g, show);
}

}  // namespace

std::vector<Quantity> plateQuantities() {
    constexpr auto p = SubjectKind::plate;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    const auto N = Dimension::none;
    return {
        {{"plate_area", Dimension::area, "plate", "Area of one face.", ""}, p, num, 0, 0, plateArea, {}},
        {{"plate_thickness", L, "plate", "Thickness.", ""}, p, num, 0, 0, thickness, {}},
        {{"plate_least_side", L, "plate", "The shorter of its lengths along and across.", ""},
         p,
         num,
         0,
         0,
         side<false>,
         {}},
        {{"plate_greatest_side", L, "plate", "The longer of its lengths along and across.", ""},
         p,
         num,
         0,
         0,
         side<true>,
         {}},
        {{"plate_area_over_od", L, "plate", "Area over the greatest outside diameter that stands on it.",
          "a bar on it, its stock"},
         p,
         num,
         0,
         0,
         areaOverOd,
         {}},
        {{"plate_side_over_od", N, "plate",
          "Shorter side over the greatest outside diameter that stands on it.", "a bar on it, its stock"},
         p,
         num,
         0,
         0,
         sideOverOd,
         {}},
        {{"fixing", N, "plate", "How it is fixed: welded or bolted.", ""},
         p,
         ValueKind::word,
         0,
         0,
         fixing,
         {}},
        {{"bolt_count", N, "plate", "Bolts of a bolted plate; welded ones are left out.", ""},
         p,
         num,
         0,
         0,
         boltCount,
         {}},
        {{"bolt_diameter", L, "plate", "Diameter of its bolts; welded plates are left out.", "bolt diameter"},
         p,
         num,
         0,
         0,
         boltDiameter,
         {}},
        {{"bolt_grade", N, "plate", "Grade of its bolts; welded plates are left out.", "bolt grade"},
         p,
         ValueKind::word,
         0,
         0,
         boltGrade,
         {}},
        {{"backing_area", Dimension::area, "plate", "Area of the plate on the other side; 0 without one.",
          ""},
         p,
         num,
         0,
         0,
         backingArea,
         {}},
        {{"backing_thickness", L, "plate", "Thickness of the plate on the other side; 0 without one.", ""},
         p,
         num,
         0,
         0,
         backingThickness,
         {}},
        {{"tied_to_rail", N, "plate", "Stands on a frame rail or sill, not on skin alone.", ""},
         p,
         ValueKind::yes_no,
         0,
         0,
         tiedToRail,
         {}},
    };
}

std::vector<Quantity> gussetQuantities() {
    constexpr auto g = SubjectKind::gusset;
    constexpr auto num = ValueKind::number;
    return {
        {{"gusset_thickness", Dimension::length, "gusset", "Thickness of its sheet.", ""},
         g,
         num,
         0,
         0,
         gussetThickness,
         {}},
        {{"gusset_leg", Dimension::length, "gusset",
          "The shorter leg along its bars, from the corner of their centrelines.", ""},
         g,
         num,
         0,
         0,
         gussetLeg,
         {}},
        {{"gusset_leg_over_od", Dimension::none, "gusset",
          "The shorter leg over the greater outside diameter.", "stock"},
         g,
         num,
         0,
         0,
         gussetLegOverOd,
         {}},
    };
}

}  // namespace hoopwright
