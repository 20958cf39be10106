#include "app/sheets/shop_sheets.h"

#include "rules/sheet_findings.h"

namespace hoopwright {

int ShopSheets::spares(int member) const {
    int count = 0;
    for (const SparePiece& spare : job->cage.spares)
        if (spare.of == cage->members[static_cast<std::size_t>(member)].id) count += spare.count;
    return count;
}

ShopSheets shopSheets(const Job& job, const CageGeometry& cage, std::span<const RuleTableRef> tables) {
    ShopSheets out;
    out.job = &job;
    out.cage = &cage;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const auto member = static_cast<int>(m);
        if (cage.members[m].line.bendCount() > 0 && !cage.members[m].bought) {
            Expected<BendSheet> sheet = bendSheet(job, cage, member);
            if (sheet) {
                out.bends.push_back(*std::move(sheet));
            } else {
                out.left_out.push_back(sheet.reason());
            }
        }
        Expected<CopeSheet> sheet = copeSheet(job, cage, member);
        if (sheet) {
            out.copes.push_back(*std::move(sheet));
        } else {
            out.left_out.push_back(sheet.reason());
        }
    }
    out.rulings = bendFindings(tables, job, cage);
    out.plates = plateParts(job, cage, out.copes);
    out.sheet_plans = layOnSheets(out.plates, job.shop ? &*job.shop : nullptr, job.cage.unit);
    out.plate_rulings = sheetFindings(tables, job, cage);
    out.order = order(job, cage);
    if (Expected<Quote> priced = quote(job, cage, out.order, out.sheet_plans)) {
        out.quote = *std::move(priced);
    } else {
        out.no_quote = priced.reason();
    }
    return out;
}

}  // namespace hoopwright
