#include "rules/failing.h"

namespace hoopwright {

Failing failing(const CheckReport& report) {
    Failing out;
    for (const Finding& finding : report.findings)
        if (failsAnew(finding, {})) out.emplace(finding.table, finding.rule, finding.subject);
    return out;
}

bool failsAnew(const Finding& finding, const Failing& before) {
    return finding.answer == Answer::fails && finding.severity == Severity::required &&
           !before.contains({finding.table, finding.rule, finding.subject});
}

}  // namespace hoopwright
