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

}  // namespace hoopwright
