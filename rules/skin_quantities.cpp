// From a bar to the skin of the car.
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// The gap, or what keeps it from being told.
struct SkinGap {
    const GapToSkin* gap = nullptr;
    std::string missing;
};

SkinGap gapOf(const TableRun& run, const Subject& what, const Arguments& with) {
    SkinGap out;
    const SurfaceKinds kinds = with.surfaces == 0 ? kAllSurfaces : with.surfaces;
    // A scan that is not there could only make the gap smaller.
    if (kinds & bitOf(SurfaceKind::scan)) out.missing = run.scene().skin().missing();
    if (!out.missing.empty()) return out;
    out.gap = run.scene().gapToSkin(what.first, kinds);
    if (!out.gap) out.missing = "the car has no such surface";
    return out;
}

Measured shownGap(Measured out, const GapToSkin& gap) {
    return std::move(out).with(shownLine(gap.gap.on_tube, gap.gap.on_mesh));
}

Measured gapToSkinOf(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (memberOf(run, what).line.empty()) return Measured::leftOut();
    const SkinGap found = gapOf(run, what, with);
    if (!found.gap) return Measured::unknown(found.missing);
    Measured out = Measured::stretch(found.gap->gap.least_mm, found.gap->gap.greatest_mm);
    return show ? shownGap(std::move(out), *found.gap) : std::move(out);
}

Measured meanGapToSkin(const TableRun& run, const Subject& what, const Arguments& with, bool show) {
    if (memberOf(run, what).line.empty()) return Measured::leftOut();
    const SkinGap found = gapOf(run, what, with);
    if (!found.gap) return Measured::unknown(found.missing);
    Measured out = Measured::number(found.gap->gap.mean_mm);
    return show ? shownGap(std::move(out), *found.gap) : std::move(out);
}

}  // namespace

std::vector<Quantity> skinQuantities() {
    constexpr auto m = SubjectKind::member;
    constexpr auto num = ValueKind::number;
    const auto L = Dimension::length;
    return {
        {{"gap_to_skin", L, "member",
          "From its outside to the nearest surface of the car, least and greatest along the whole bar, feet "
          "too; "
          "negative where the surface is in the tube.",
          "the car's shell, glass, floor or scans"},
         m,
         num,
         0,
         only(Arg::surface),
         gapToSkinOf,
         {}},
        {{"mean_gap_to_skin", L, "member",
          "Mean along its length of the gap from its outside to the nearest surface of the car.",
          "the car's shell, glass, floor or scans"},
         m,
         num,
         0,
         only(Arg::surface),
         meanGapToSkin,
         {}},
    };
}

}  // namespace hoopwright
