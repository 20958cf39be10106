#include "rules/report_changes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace hoopwright {
namespace {

constexpr double kSame = 1e-6;

using RuleOf = std::pair<std::string, std::string>;

/// All one rule said: what does not meet by its subject, and what stands for the rest.
struct Said {
    std::map<std::string, const ReportLine*> short_of;
    const ReportLine* meets = nullptr;
    const ReportLine* silent = nullptr;  ///< does not apply
    std::vector<const ReportLine*> all;
};

std::map<RuleOf, Said> byRule(const ReportSummary& summary) {
    std::map<RuleOf, Said> out;
    for (const ReportLine& line : summary) {
        Said& said = out[{line.table, line.rule}];
        said.all.push_back(&line);
        if (line.answer == Answer::meets)
            said.meets = &line;
        else if (line.answer == Answer::does_not_apply)
            said.silent = &line;
        else
            said.short_of[line.subject] = &line;
    }
    return out;
}

std::string phrase(const ReportLine* line) {
    if (!line) return {};
    Finding finding;
    finding.answer = line->answer;
    finding.confirmed = line->confirmed;
    return answerPhrase(finding);
}

/// What a rule said of a subject: by name, or with all the rest.
const ReportLine* of(const Said& said, const std::string& subject) {
    const auto named = said.short_of.find(subject);
    if (named != said.short_of.end()) return named->second;
    return said.meets ? said.meets : said.silent;
}

FindingChange change(FindingChange::Kind kind, const ReportLine& named, const ReportLine* was,
                     const ReportLine* is) {
    FindingChange out;
    out.kind = kind;
    out.table = named.table;
    out.rule = named.rule;
    out.subject = named.subject;
    out.title = named.title;
    out.subject_name = named.subject_name;
    out.was = phrase(was);
    out.is = phrase(is);
    out.dimension = named.dimension;
    if (was) out.was_margin = was->margin;
    if (is) out.margin = is->margin;
    return out;
}

bool sameMargin(const ReportLine& a, const ReportLine& b) {
    if (!a.margin || !b.margin) return a.margin.has_value() == b.margin.has_value();
    return std::abs(*a.margin - *b.margin) <= kSame * std::max(1.0, std::abs(*a.margin));
}

void compareRule(const Said& was, const Said& is, std::vector<FindingChange>& out) {
    bool told = false;
    const auto compare = [&](const ReportLine& named) {
        const ReportLine *before = of(was, named.subject), *now = of(is, named.subject);
        if (phrase(before) != phrase(now)) {
            told = true;
            out.push_back(change(FindingChange::Kind::answer, named, before, now));
        } else if (before && now && before->answer == Answer::fails && !sameMargin(*before, *now)) {
            out.push_back(change(FindingChange::Kind::by_how_much, named, before, now));
        }
    };
    for (const ReportLine* line : is.all)
        if (is.short_of.contains(line->subject) && is.short_of.at(line->subject) == line) compare(*line);
    for (const ReportLine* line : was.all)
        if (was.short_of.contains(line->subject) && !is.short_of.contains(line->subject)) compare(*line);
    if (told) return;
    // Nothing fell short on either side, and yet it is another answer: applies now, confirmed now.
    const ReportLine* before = was.meets ? was.meets : was.silent;
    const ReportLine* now = is.meets ? is.meets : is.silent;
    if (was.short_of.empty() && is.short_of.empty() && before && now && phrase(before) != phrase(now))
        out.push_back(change(FindingChange::Kind::answer, *now, before, now));
}

}  // namespace

ReportSummary summaryOf(const CheckReport& report) {
    ReportSummary out;
    for (const Finding& f : report.findings)
        out.push_back({f.table, f.rule, f.subject, f.title, f.subject_name, f.answer, f.confirmed, f.margin,
                       f.dimension});
    return out;
}

std::string_view findingChangeKey(FindingChange::Kind kind) {
    switch (kind) {
        case FindingChange::Kind::answer:
            return "answer";
        case FindingChange::Kind::added:
            return "added";
        case FindingChange::Kind::gone:
            return "gone";
        case FindingChange::Kind::by_how_much:
            return "by_how_much";
    }
    return "";
}

std::vector<FindingChange> changesSince(const ReportSummary& before, const ReportSummary& now) {
    const std::map<RuleOf, Said> was = byRule(before), is = byRule(now);
    std::vector<FindingChange> out;
    std::set<RuleOf> told;
    for (const ReportLine& line : now) {
        const RuleOf rule{line.table, line.rule};
        if (!told.insert(rule).second) continue;
        const auto known = was.find(rule);
        if (known != was.end()) {
            compareRule(known->second, is.at(rule), out);
            continue;
        }
        for (const ReportLine* one : is.at(rule).all)
            out.push_back(change(FindingChange::Kind::added, *one, nullptr, one));
    }
    for (const ReportLine& line : before)
        if (!is.contains({line.table, line.rule}))
            out.push_back(change(FindingChange::Kind::gone, line, &line, nullptr));
    return out;
}

}  // namespace hoopwright
