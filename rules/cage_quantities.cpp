// The cage as a whole: how many, how heavy.
#include <cmath>

#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Mass means nothing while a bar has no stock: it would count as 0.
Measured missingStock(const TableRun& run) {
    for (int i = 0; i < run.scene().memberCount(); ++i)
        if (!run.scene().facts(i).material) return noStock(run, i);
    return Measured::leftOut();
}

/// All bars, and where the tubes' centre of mass is.
Measured shownWeighed(double mass_kg, const TableRun& run, bool show) {
    Measured out = Measured::number(mass_kg);
    if (!show || run.scene().memberCount() == 0) return out;
    Shown shown;
    Vec3 sum = Vec3::Zero();
    double all_kg = 0;
    for (int i = 0; i < run.scene().memberCount(); ++i) {
        const ResolvedMember& m = run.scene().member(i);
        for (const Piece& piece : m.line.pieces()) {
            const double share_kg = m.mass_kg * piece.length_mm / m.line.length_mm();
            const Vec3 middle = piece.point(piece.length_mm / 2);
            const double half = piece.angle_rad / 2;
            sum += share_kg * (piece.kind == Piece::Kind::bend && half > 0
                                   ? Vec3(piece.centre + std::sin(half) / half * (middle - piece.centre))
                                   : middle);
            all_kg += share_kg;
        }
        shown.members.push_back(i);
    }
    if (!(all_kg > 0)) return out;
    shown.look_at = sum / all_kg;
    shown.shapes = {ShownPoint{shown.look_at}};
    return std::move(out).with(std::move(shown));
}

Measured tubeMass(const TableRun& run, const Subject&, const Arguments&, bool show) {
    if (Measured missing = missingStock(run); missing.is == Measured::Is::unknown) return missing;
    return shownWeighed(run.scene().cage().totals.tube_mass_kg, run, show);
}

Measured wholeMass(const TableRun& run, const Subject&, const Arguments&, bool show) {
    if (Measured missing = missingStock(run); missing.is == Measured::Is::unknown) return missing;
    const CageTotals& totals = run.scene().cage().totals;
    return shownWeighed(totals.tube_mass_kg + totals.plate_mass_kg, run, show);
}

Quantity counting(std::string name, SubjectKind of, std::string what) {
    return {{std::move(name), Dimension::none, "cage", "How many " + what + " are selected.", ""},
            SubjectKind::cage,
            ValueKind::number,
            0,
            0,
            nullptr,
            of};
}

}  // namespace

std::vector<Quantity> cageQuantities() {
    constexpr auto c = SubjectKind::cage;
    constexpr auto num = ValueKind::number;
    const auto M = Dimension::mass;
    return {
        counting("member_count", SubjectKind::member, "bars"),
        counting("joint_count", SubjectKind::joint, "joints"),
        counting("pair_count", SubjectKind::pair, "pairs of bars"),
        counting("plate_count", SubjectKind::plate, "plates"),
        counting("gusset_count", SubjectKind::gusset, "gussets"),
        counting("driver_count", SubjectKind::driver, "people"),
        {{"tube_mass", M, "cage", "Mass of all tubes, their ends cut to what they land on.",
          "stock of every bar"},
         c,
         num,
         0,
         0,
         tubeMass,
         {}},
        {{"whole_mass", M, "cage", "Mass of all tubes and plates.", "stock of every bar"},
         c,
         num,
         0,
         0,
         wholeMass,
         {}},
    };
}

}  // namespace hoopwright
