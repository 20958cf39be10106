// What a plate's bolts add up to.
#include <algorithm>
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Of their nominal diameters; nothing for a welded plate.
std::optional<double> boltArea_mm2(const Plate& plate) {
    if (plate.fixing != Fixing::bolted || !(plate.bolts.diameter_mm > 0)) return std::nullopt;
    return plate.bolts.count * M_PI / 4 * plate.bolts.diameter_mm * plate.bolts.diameter_mm;
}

Measured ofBolts(const TableRun& run, const Subject& what) {
    const Plate& plate = run.scene().plateLayout(what);
    if (plate.fixing != Fixing::bolted) return Measured::leftOut();
    const auto area = boltArea_mm2(plate);
    return area ? Measured::number(*area) : Measured::unknown("the plate's bolts have no diameter");
}

Measured boltArea(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    Measured out = ofBolts(run, what);
    return show && out.is == Measured::Is::number
               ? std::move(out).with(shownPoint(run.scene().plate(what).at))
               : std::move(out);
}

Measured boltAreaOver(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    Measured own = ofBolts(run, what);
    if (own.is != Measured::Is::number) return own;
    double least = 1e300;
    Vec3 at = Vec3::Zero();
    const auto& plates = run.scene().cage().plates;
    for (int i = 0; i < static_cast<int>(plates.size()); ++i) {
        const ResolvedPlate& plate = plates[static_cast<std::size_t>(i)];
        const bool theirs = std::any_of(plate.feet.begin(), plate.feet.end(), [&](const auto& foot) {
            return run.picks(with.members, foot.first, what);
        });
        const auto area =
            theirs ? boltArea_mm2(run.scene().plateLayout({SubjectKind::plate, i, -1})) : std::nullopt;
        if (!area || *area >= least) continue;
        least = *area;
        at = plate.at;
    }
    if (least > 1e299) return Measured::unknown("no plate of those bars has bolts");
    Measured out = Measured::number(own.low / least);
    if (!show) return out;
    Shown shown = shownPoint(run.scene().plate(what).at);
    shown.shapes.push_back(ShownPoint{at});
    return std::move(out).with(std::move(shown));
}

/// A figure of a bolted plate's bolts that may not be given.
Measured given(const TableRun& run, const Subject& what, const std::optional<double>& figure,
               const char* called, bool show) {
    if (run.scene().plateLayout(what).fixing != Fixing::bolted) return Measured::leftOut();
    if (!figure) return Measured::unknown("no " + std::string(called) + " of the plate's bolts is given");
    Measured out = Measured::number(*figure);
    return show ? std::move(out).with(shownPoint(run.scene().plate(what).at)) : std::move(out);
}
Measured boltPitch(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return given(run, what, run.scene().plateLayout(what).bolts.pitch_mm, "pitch", show);
}
Measured boltEdge(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return given(run, what, run.scene().plateLayout(what).bolts.edge_mm, "edge distance", show);
}
Measured boltEdgeOverDiameter(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Bolts& bolts = run.scene().plateLayout(what).bolts;
    std::optional<double> ratio;
    if (bolts.edge_mm && bolts.diameter_mm > 0) ratio = *bolts.edge_mm / bolts.diameter_mm;
    return given(run, what, ratio, "edge distance or diameter", show);
}

}  // namespace

std::vector<Quantity> boltQuantities() {
    constexpr auto p = SubjectKind::plate;
    return {
        {{"bolt_area", Dimension::area, "plate",
          "Section of all its bolts, of their nominal diameter; welded plates are left out.",
          "bolt diameter"},
         p,
         ValueKind::number,
         0,
         0,
         boltArea,
         {}},
        {{"bolt_area_over", Dimension::none, "plate",
          "Section of all its bolts over the least of the plates these bars stand on.", "bolt diameters"},
         p,
         ValueKind::number,
         only(Arg::members),
         0,
         boltAreaOver,
         {}},
        {{"bolt_pitch", Dimension::length, "plate",
          "Least distance between two of its bolts, centre to centre; welded plates are left out.",
          "bolt pitch"},
         p,
         ValueKind::number,
         0,
         0,
         boltPitch,
         {}},
        {{"bolt_edge", Dimension::length, "plate",
          "Least distance from a bolt's centre to the plate's edge; welded plates are left out.",
          "bolt edge distance"},
         p,
         ValueKind::number,
         0,
         0,
         boltEdge,
         {}},
        {{"bolt_edge_over_diameter", Dimension::none, "plate",
          "That distance over the bolt's diameter; welded plates are left out.",
          "bolt edge distance and diameter"},
         p,
         ValueKind::number,
         0,
         0,
         boltEdgeOverDiameter,
         {}},
    };
}

}  // namespace hoopwright
