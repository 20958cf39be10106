// What only the built cage can tell: readings and papers kept with the job.
#include <algorithm>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// What one reading is about, and where to look.
struct Built {
    std::string id;
    Vec3 at;
};
Built builtThing(const TableRun& run, const Subject& what) {
    if (what.kind == SubjectKind::plate) return {run.scene().plate(what).id, run.scene().plate(what).at};
    const ResolvedMember& m = memberOf(run, what);
    return {m.id, m.line.empty() ? Vec3(Vec3::Zero()) : m.line.point(m.line.length_mm() / 2)};
}

/// Least and greatest of the readings of that name kept of it.
Measured readings(const TableRun& run, const Subject& what, const char* name, Dimension dimension,
                  bool show) {
    const Built built = builtThing(run, what);
    double low = 1e300, high = -1e300;
    for (const BuiltReading& one : run.scene().job().cage.readings) {
        if (one.of != built.id || one.quantity != name) continue;
        if (one.dimension != dimension)
            return Measured::unknown("the reading '" + std::string(name) + "' of it is not " +
                                     std::string(dimensionPhrase(dimension)));
        low = std::min(low, one.value);
        high = std::max(high, one.value);
    }
    if (low > high) return Measured::unknown("no reading '" + std::string(name) + "' of it is kept");
    Measured out = Measured::stretch(low, high);
    return show ? std::move(out).with(shownPoint(built.at)) : std::move(out);
}

Measured bendRoundness(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    if (factsOf(run, what).bends == 0) return Measured::leftOut();
    return readings(run, what, "bend_roundness", Dimension::none, show);
}
Measured gaugedBentWall(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    if (factsOf(run, what).bends == 0) return Measured::leftOut();
    return readings(run, what, "gauged_bent_wall", Dimension::length, show);
}
Measured inspectionHole(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return readings(run, what, "inspection_hole", Dimension::length, show);
}
Measured holeFromWeld(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return readings(run, what, "hole_from_weld", Dimension::length, show);
}
Measured weldShare(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return readings(run, what, "weld_share", Dimension::none, show);
}
Measured contactArea(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    return readings(run, what, "contact_area", Dimension::area, show);
}

Measured certificate(const TableRun& run, const Subject& what, const Arguments&, bool show) {
    const Built built = builtThing(run, what);
    const auto& kept = run.scene().job().cage.certificates;
    Measured out = Measured::yesNo(
        std::any_of(kept.begin(), kept.end(), [&](const Certificate& one) { return one.of == built.id; }));
    return show ? std::move(out).with(shownPoint(built.at)) : std::move(out);
}

Quantity read(const char* name, Dimension dimension, SubjectKind kind, const char* meaning,
              MeasureFunction measure) {
    return {{name, dimension, std::string(kindWord(kind)), meaning, "a reading of that name, of it"},
            kind,
            ValueKind::number,
            0,
            0,
            measure,
            {}};
}

}  // namespace

std::vector<Quantity> builtQuantities() {
    constexpr auto m = SubjectKind::member;
    const auto L = Dimension::length;
    const auto N = Dimension::none;
    return {
        read("bend_roundness", N, m,
             "Least over greatest outside diameter at a bend, as read; straight bars are left out.",
             bendRoundness),
        read("gauged_bent_wall", L, m, "Wall on the outside of a bend, as read; straight bars are left out.",
             gaugedBentWall),
        read("inspection_hole", L, m, "Diameter of its inspection hole, as read.", inspectionHole),
        read("hole_from_weld", L, m, "From its hole to the nearest weld or bend, as read.", holeFromWeld),
        read("weld_share", N, m, "Share of the way round its ends that is welded, as read; 1 is all round.",
             weldShare),
        read("contact_area", Dimension::area, SubjectKind::plate,
             "Area of the plate that lies on the car, all its planes together, as read.", contactArea),
        {{"certificate", N, "member", "A certificate of its metal is kept with the job.", ""},
         m,
         ValueKind::yes_no,
         0,
         0,
         certificate,
         {}},
    };
}

}  // namespace hoopwright
