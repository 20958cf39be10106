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

Measured shownOnPlate(Measured value, const ResolvedPlate& plate, bool show) {
    if (!show) return value;
    Shown shown = shownPoint(plate.at);
    for (std::size_t i = 0; i < plate.outline.size(); ++i) {
        const Vec2 &a = plate.outline[i], &b = plate.outline[(i + 1) % plate.outline.size()];
        const auto in_space = [&](const Vec2& p) -> Vec3 {
            return plate.at + plate.axes.col(0) * p.x() + plate.axes.col(1) * p.y();
        };
        shown.shapes.push_back(ShownLine{in_space(a), in_space(b), false});
    }
    return std::move(value).with(std::move(shown));
}

template <double (*figure)(const ResolvedPlate&)>
Measured ofPlate(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return shownOnPlate(Measured::number(figure(run.scene().plate(what))), run.scene().plate(what), show);
}
double area(const ResolvedPlate& p) {
    return p.area_mm2;
}
double thickness(const ResolvedPlate& p) {
    return p.thickness_mm;
}
double leastSide(const ResolvedPlate& p) {
    return std::min(sidesOf(p).along, sidesOf(p).across);
}
double greatestSide(const ResolvedPlate& p) {
    return std::max(sidesOf(p).along, sidesOf(p).across);
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

template <double (*figure)(const ResolvedPlate&)>
Measured overOd(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    Measured od = greatestOd(run, what);
    if (od.is != Measured::Is::number) return od;
    const ResolvedPlate& plate = run.scene().plate(what);
    return shownOnPlate(Measured::number(figure(plate) / od.low), plate, show);
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
    const double value = backing ? backing->length_mm * backing->width_mm : 0;
    return shownOnPlate(Measured::number(value), run.scene().plate(what), show);
}
Measured backingThickness(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const auto& backing = run.scene().plateLayout(what).backing;
    return shownOnPlate(Measured::number(backing ? backing->thickness_mm : 0), run.scene().plate(what), show);
}

Measured tiedToRail(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return shownOnPlate(Measured::yesNo(!run.scene().plateLayout(what).rail.empty()), run.scene().plate(what),
                        show);
}

const ResolvedGusset& gussetOf(const TableRun& run, const Subject& what) {
    return run.scene().cage().gussets[static_cast<std::size_t>(what.first)];
}

Measured shownOnGusset(Measured value, const ResolvedGusset& g, bool show) {
    if (!show) return value;
    const auto& c = g.corners;
    Shown shown{{ShownLine{c[0], c[1], true}, ShownLine{c[0], c[2], true}}, {g.member_a, g.member_b}, c[0]};
    return std::move(value).with(std::move(shown));
}

Measured gussetThickness(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = gussetOf(run, what);
    return shownOnGusset(Measured::number(g.thickness_mm), g, show);
}

/// The shorter leg.
double legOf(const ResolvedGusset& g) {
    return std::min((g.corners[1] - g.corners[0]).norm(), (g.corners[2] - g.corners[0]).norm());
}
Measured gussetLeg(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = gussetOf(run, what);
    return shownOnGusset(Measured::number(legOf(g)), g, show);
}
Measured gussetLegOverOd(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const ResolvedGusset& g = gussetOf(run, what);
    for (int i : {g.member_a, g.member_b})
        if (!run.scene().facts(i).stock) return noStock(run, i);
    const double od =
        std::max(run.scene().member(g.member_a).section.od_mm, run.scene().member(g.member_b).section.od_mm);
    return shownOnGusset(Measured::number(legOf(g) / od), g, show);
}

}  // namespace

std::vector<Quantity> plateQuantities() {
    constexpr auto p = SubjectKind::plate;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    const auto N = Dimension::none;
    return {
        {{"plate_area", Dimension::area, "plate", "Area of one face.", ""}, p, num, 0, 0, ofPlate<area>, {}},
        {{"plate_thickness", L, "plate", "Thickness.", ""}, p, num, 0, 0, ofPlate<thickness>, {}},
        {{"plate_least_side", L, "plate", "The shorter of its lengths along and across.", ""},
         p,
         num,
         0,
         0,
         ofPlate<leastSide>,
         {}},
        {{"plate_greatest_side", L, "plate", "The longer of its lengths along and across.", ""},
         p,
         num,
         0,
         0,
         ofPlate<greatestSide>,
         {}},
        {{"plate_area_over_od", L, "plate", "Area over the greatest outside diameter that stands on it.",
          "a bar on it, its stock"},
         p,
         num,
         0,
         0,
         overOd<area>,
         {}},
        {{"plate_side_over_od", N, "plate",
          "Shorter side over the greatest outside diameter that stands on it.", "a bar on it, its stock"},
         p,
         num,
         0,
         0,
         overOd<leastSide>,
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
