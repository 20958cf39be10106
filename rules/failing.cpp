#include "rules/failing.h"

namespace hoopwright {

RuleKey keyOf(const Finding& finding) {
    return {finding.table, finding.rule, finding.subject};
}

Failing failing(const CheckReport& report) {
    Failing out;
    for (const Finding& finding : report.findings)
        if (failsAnew(finding, {})) out.insert(keyOf(finding));
    return out;
}

bool failsAnew(const Finding& finding, const Failing& before) {
    return finding.answer == Answer::fails && finding.severity == Severity::required &&
           !before.contains(keyOf(finding));
}

namespace {

std::tuple<int, std::string, std::string> troubleOf(const GeometryProblem& problem) {
    return {static_cast<int>(problem.kind), problem.member, problem.plate};
}

}  // namespace

Troubles troublesOf(const CageGeometry& cage) {
    Troubles out;
    for (const GeometryProblem& problem : cage.problems) out.insert(troubleOf(problem));
    return out;
}

const GeometryProblem* newTrouble(const CageGeometry& cage, const Troubles& before) {
    for (const GeometryProblem& problem : cage.problems)
        if (!before.contains(troubleOf(problem))) return &problem;
    return nullptr;
}

}  // namespace hoopwright
