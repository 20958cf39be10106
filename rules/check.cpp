#include "rules/check.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "rules/check_rule.h"

namespace hoopwright {
namespace {

int rank(const Finding& finding) {
    const int advice = finding.severity == Severity::required ? 0 : 1;
    switch (finding.answer) {
        case Answer::fails:
            return advice;
        case Answer::cannot_tell:
            return 2 + advice;
        case Answer::ask_person:
            return 4;
        case Answer::meets:
            return 5;
        case Answer::does_not_apply:
            break;
    }
    return 6;
}

/// What is to spare against the size of the limit. Without a number, a failing rule is as bad as can be.
double spare(const Finding& finding) {
    if (!finding.margin || !finding.limit) return finding.answer == Answer::fails ? -1 : 1e9;
    const double size =
        std::abs(*finding.limit) > 0 ? std::abs(*finding.limit) : usualSize(finding.dimension);
    return *finding.margin / size;
}

}  // namespace

CheckReport check(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage) {
    CheckReport out;
    const CheckScene scene(job, cage);
    std::size_t rules = 0;
    for (const RuleTableRef& table : tables) rules += table ? table->rules.size() : 0;
    out.findings.reserve(rules + rules / 4);
    for (const RuleTableRef& table : tables) {
        if (!table) continue;
        out.tables.push_back(table->info);
        const TableRun run(*table, scene);
        for (const Rule& rule : table->rules) RuleRun(run, rule, out.findings).answer();
    }
    return out;
}

int CheckReport::count(Answer answer) const {
    return static_cast<int>(std::count_if(findings.begin(), findings.end(),
                                          [&](const Finding& f) { return f.answer == answer; }));
}

int CheckReport::unconfirmed() const {
    return static_cast<int>(std::count_if(findings.begin(), findings.end(), [](const Finding& f) {
        return f.answer == Answer::meets && !f.confirmed;
    }));
}

bool CheckReport::allMeet() const {
    return std::none_of(findings.begin(), findings.end(), [](const Finding& f) {
        return f.severity == Severity::required &&
               (f.answer == Answer::fails || f.answer == Answer::cannot_tell ||
                (f.answer == Answer::meets && !f.confirmed));
    });
}

std::vector<int> worstFirst(const CheckReport& report) {
    std::vector<int> order(report.findings.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        const Finding &fa = report.findings[static_cast<std::size_t>(a)],
                      &fb = report.findings[static_cast<std::size_t>(b)];
        return rank(fa) != rank(fb) ? rank(fa) < rank(fb) : spare(fa) < spare(fb);
    });
    return order;
}

std::string_view answerWord(Answer answer) {
    switch (answer) {
        case Answer::fails:
            return "fails";
        case Answer::cannot_tell:
            return "can't tell";
        case Answer::ask_person:
            return "ask a person";
        case Answer::meets:
            return "meets";
        case Answer::does_not_apply:
            return "does not apply";
    }
    return "";
}

std::string answerPhrase(const Finding& finding) {
    std::string words(answerWord(finding.answer));
    if (finding.answer == Answer::meets && !finding.confirmed) words += ", not confirmed";
    return words;
}

std::string_view knownKey(Known known) {
    switch (known) {
        case Known::read:
            return "read";
        case Known::second_hand:
            return "second_hand";
        case Known::memory:
            return "memory";
    }
    return "";
}

std::string_view answerKey(Answer answer) {
    switch (answer) {
        case Answer::fails:
            return "fails";
        case Answer::cannot_tell:
            return "cannot_tell";
        case Answer::ask_person:
            return "ask_person";
        case Answer::meets:
            return "meets";
        case Answer::does_not_apply:
            return "does_not_apply";
    }
    return "";
}

}  // namespace hoopwright
