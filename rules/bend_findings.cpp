#include "rules/bend_findings.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

#include "rules/check_rule.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

constexpr std::array<std::string_view, 6> kOfBends = {
    "bend_count", "bend_sum", "greatest_bend", "bend_radius_over_od", "bend_roundness", "gauged_bent_wall"};

bool measuresBends(const RuleTable& table, const Reading& reading) {
    if (reading.quantity < 0) return false;
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(reading.quantity)];
    if (quantity.kind != SubjectKind::member) return false;
    if (std::ranges::find(kOfBends, quantity.info.name) != kOfBends.end()) return true;
    if (reading.with.judged_wall == WallKind::bent) return true;
    if (reading.against.by != Comparison::By::tube_table || reading.against.tube_table < 0) return false;
    const TubeTable& tubes = table.tubes[static_cast<std::size_t>(reading.against.tube_table)];
    return std::ranges::any_of(tubes.rows, [](const TubeRow& row) {
        return std::ranges::any_of(row.any_of, [](const TubeAlternative& one) {
            return std::ranges::any_of(
                one.all, [](const Reading& part) { return part.with.judged_wall == WallKind::bent; });
        });
    });
}

/// Does it ask of bends? "Is every bend made cold?"
bool asksOfBends(const Rule& rule) {
    std::string ask = rule.ask;
    std::ranges::transform(ask, ask.begin(), [](unsigned char c) { return std::tolower(c); });
    return ask.find("bend") != std::string::npos || ask.find("bent") != std::string::npos;
}

void addAnswers(const TableRun& run, const Rule& rule, const CageGeometry& cage,
                std::vector<BarFinding>& out) {
    std::vector<Finding> found;
    RuleRun(run, rule, found).answer();
    for (const Finding& finding : found) {
        if (finding.answer == Answer::does_not_apply) continue;
        for (std::size_t m = 0; m < cage.members.size(); ++m) {
            const ResolvedMember& bar = cage.members[m];
            if (bar.line.bendCount() == 0) continue;
            if (finding.subject.empty() || finding.subject == bar.id)
                out.push_back({static_cast<int>(m), finding});
        }
    }
}

}  // namespace

std::vector<BarFinding> bendFindings(std::span<const RuleTableRef> tables, const Job& job,
                                     const CageGeometry& cage) {
    std::vector<BarFinding> out;
    const CheckScene scene(job, cage);
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        const TableRun run(*table, scene);
        for (const Rule& rule : table->rules) {
            if (!rule.ask.empty()) {
                if (asksOfBends(rule)) addAnswers(run, rule, cage, out);
                continue;
            }
            if (!rule.check || !rule.check->how_many.all || !measuresBends(*table, rule.check->reading))
                continue;
            std::vector<Finding> found;
            RuleRun one(run, rule, found);
            for (std::size_t m = 0; m < cage.members.size(); ++m) {
                if (cage.members[m].line.bendCount() == 0) continue;
                found.clear();
                one.answerBar(static_cast<int>(m));
                for (Finding& finding : found) out.push_back({static_cast<int>(m), std::move(finding)});
            }
        }
    }
    return out;
}

}  // namespace hoopwright
