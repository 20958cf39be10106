// The cage as a whole: how many, how heavy.
#include "rules/measuring.h"

namespace hoopwright {
namespace {

/// Mass means nothing while a bar has no stock: it would count as 0.
Measured missingStock(const TableRun& run) {
    for (int i = 0; i < run.scene().memberCount(); ++i)
        if (!run.scene().facts(i).material) return noStock(run, i);
    return Measured::leftOut();
}

Measured tubeMass(const TableRun& run, const Subject&, const Arguments&, bool) {
    if (Measured missing = missingStock(run); missing.is == Measured::Is::unknown) return missing;
    return Measured::number(run.scene().cage().totals.tube_mass_kg);
}

Measured wholeMass(const TableRun& run, const Subject&, const Arguments&, bool) {
    if (Measured missing = missingStock(run); missing.is == Measured::Is::unknown) return missing;
    const CageTotals& totals = run.scene().cage().totals;
    return Measured::number(totals.tube_mass_kg + totals.plate_mass_kg);
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
        {{"tube_mass", M, "cage", "Mass of all tubes, by developed centreline.", "stock of every bar"},
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
