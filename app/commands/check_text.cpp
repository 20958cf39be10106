#include <algorithm>
#include <ostream>
#include <sstream>

#include "app/commands/check_report.h"
#include "app/commands/command_kit.h"
#include "app/commands/text_table.h"
#include "app/view/finding_text.h"

namespace hoopwright {
namespace {

LengthStyle styleOf(const Job& job) {
    LengthStyle style;
    style.unit = job.cage.unit;
    return style;
}

std::string subjectOf(const Finding& finding) {
    if (!finding.subject_name.empty()) return finding.subject_name;
    return finding.subject.empty() ? "whole cage" : finding.subject;
}

std::vector<const Finding*> findingsOf(const CheckReport& report, Answer answer) {
    std::vector<const Finding*> out;
    for (const int i : worstFirst(report)) {
        const Finding& finding = report.findings[static_cast<std::size_t>(i)];
        if (finding.answer == answer) out.push_back(&finding);
    }
    return out;
}

/// Title and subject on one line; what was found, what is wanted and what would help below.
void writeFull(std::ostream& out, const Finding& finding, const LengthStyle& style) {
    out << "  " << finding.title << ": " << subjectOf(finding)
        << (finding.severity == Severity::recommended ? "  (recommended)" : "") << "\n";
    out << wrapped(finding.sentence, 6);
    const std::string outcome = outcomeText(finding, style);
    if (!outcome.empty()) out << wrapped(outcome, 6);
    if (!finding.way_out.empty()) out << wrapped(finding.way_out, 6);
    if (!finding.beware.empty()) out << wrapped("Beware: " + finding.beware, 6);
    out << wrapped(clauseText(finding), 6);
}

void writeGroup(std::ostream& out, const CheckReport& report, Answer answer, const LengthStyle& style) {
    const std::vector<const Finding*> findings = findingsOf(report, answer);
    if (findings.empty()) return;
    std::string heading(answerWord(answer));
    std::ranges::transform(heading, heading.begin(),
                           [](char c) { return c >= 'a' && c <= 'z' ? char(c - 32) : c; });
    out << "\n" << heading << " (" << findings.size() << ")\n";
    for (const Finding* finding : findings) writeFull(out, *finding, style);
}

/// Figures at the left, lined up; beside them what they are of and what is wanted.
void writeMeets(std::ostream& out, const CheckReport& report, const LengthStyle& style) {
    const std::vector<const Finding*> findings = findingsOf(report, Answer::meets);
    if (findings.empty()) return;
    TextTable figures({Align::right, Align::right, Align::left});
    for (const Finding* finding : findings)
        figures.add({valueText(*finding, style), marginText(*finding, style), "|"});
    out << "\nMEETS (" << findings.size() << "), least to spare first\n";
    std::istringstream labels(figures.text(2));
    for (const Finding* finding : findings) {
        std::string label;
        std::getline(labels, label);
        label.pop_back();
        const std::string limit = limitText(*finding, style);
        out << wrappedBehind(label, finding->title + ": " + subjectOf(*finding) +
                                        (limit.empty() ? "" : "; wanted: " + limit) +
                                        (finding->beware.empty() ? "" : ". Beware: " + finding->beware));
    }
}

void writeNotes(std::ostream& out, const CageGeometry& cage) {
    if (cage.notes.empty()) return;
    out << "\nTO KNOW (" << cage.notes.size() << ")\n";
    for (const LayoutNote& note : cage.notes) {
        out << wrapped(note.text, 2);
        out << wrapped(note.remedy, 6);
    }
}

void writeGeometryProblems(std::ostream& out, const CageGeometry& cage) {
    if (cage.problems.empty()) return;
    out << "\nDOES NOT FIT TOGETHER (" << cage.problems.size() << ")\n";
    for (const GeometryProblem& problem : cage.problems) {
        out << wrapped(problem.text, 2);
        if (!problem.remedy.empty()) out << wrapped(problem.remedy, 6);
    }
}

}  // namespace

void writeCheckText(std::ostream& out, const CheckedJob& checked) {
    const CheckReport& report = checked.report;
    const LengthStyle style = styleOf(checked.job);
    const auto count = [&](Answer answer) { return std::to_string(report.count(answer)); };
    out << wrapped(checked.job.cage.name + ": " + count(Answer::fails) + " fail, " +
                       count(Answer::cannot_tell) + " can't tell, " + count(Answer::ask_person) +
                       " to ask, " + count(Answer::meets) + " meet, " + count(Answer::does_not_apply) +
                       " do not apply",
                   0);
    for (const RuleTableInfo& table : report.tables) {
        out << wrapped(table.title + ", edition " + table.edition + ", written by " + table.written_by, 2,
                       kPageWidth, 4);
    }
    writeGeometryProblems(out, checked.cage);
    for (const Answer answer : {Answer::fails, Answer::cannot_tell, Answer::ask_person}) {
        writeGroup(out, report, answer, style);
    }
    writeNotes(out, checked.cage);
    writeMeets(out, report, style);
    out << "\n";
    for (const RuleTableInfo& table : report.tables) {
        if (!table.advice.empty()) out << wrapped(table.title + ": " + table.advice, 0);
    }
    out << wrapped(std::string(caution()), 0);
}

}  // namespace hoopwright
