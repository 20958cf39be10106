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

/// Worst first or as the tables have them.
std::vector<const Finding*> findingsOf(const CheckedJob& checked, Answer answer, bool confirmed) {
    std::vector<const Finding*> out;
    std::vector<int> order = worstFirst(checked.report);
    if (checked.in_order) std::ranges::sort(order);
    for (const int i : order) {
        const Finding& finding = checked.report.findings[static_cast<std::size_t>(i)];
        if (finding.answer == answer && (answer != Answer::meets || finding.confirmed == confirmed))
            out.push_back(&finding);
    }
    return out;
}

/// Of several tables: whose rule it is.
std::string whose(const CheckReport& report, const Finding& finding) {
    if (report.tables.size() < 2) return {};
    for (const RuleTableInfo& table : report.tables)
        if (table.id == finding.table) return table.title + " ";
    return finding.table + " ";
}

bool isMeasured(const CheckedJob& checked, const Finding& finding) {
    const auto at = static_cast<std::size_t>(&finding - checked.report.findings.data());
    return at < checked.rests.size() && checked.rests[at] == RestsOn::measured;
}

/// Title and subject on one line; what was found, what is wanted and what would help below.
void writeFull(std::ostream& out, const CheckedJob& checked, const Finding& finding,
               const LengthStyle& style) {
    out << "  " << finding.title << ": " << subjectOf(finding)
        << (finding.severity == Severity::recommended ? "  (recommended)" : "") << "\n";
    out << wrapped(finding.sentence, 6);
    const std::string outcome = outcomeText(finding, style);
    if (!outcome.empty()) out << wrapped(outcome, 6);
    if (!finding.way_out.empty()) out << wrapped(finding.way_out, 6);
    if (!finding.beware.empty()) out << wrapped(bewareText(finding), 6);
    if (finding.answered) out << wrapped(wordText(*finding.answered, checked.folder), 6);
    if (isMeasured(checked, finding)) out << "      Measured on the built cage.\n";
    out << wrapped(whose(checked.report, finding) + clauseText(finding), 6);
}

void writeGroup(std::ostream& out, const CheckedJob& checked, Answer answer, const LengthStyle& style) {
    const std::vector<const Finding*> findings = findingsOf(checked, answer, true);
    if (findings.empty()) return;
    std::string heading(answerWord(answer));
    std::ranges::transform(heading, heading.begin(),
                           [](char c) { return c >= 'a' && c <= 'z' ? char(c - 32) : c; });
    out << "\n" << heading << " (" << findings.size() << ")\n";
    for (const Finding* finding : findings) writeFull(out, checked, *finding, style);
}

/// Figures at the left, lined up; beside them what they are of and what is wanted.
void writeMeets(std::ostream& out, const CheckedJob& checked, bool confirmed, const LengthStyle& style) {
    const std::vector<const Finding*> findings = findingsOf(checked, Answer::meets, confirmed);
    if (findings.empty()) return;
    TextTable figures({Align::right, Align::right, Align::left});
    for (const Finding* finding : findings)
        figures.add({valueText(*finding, style), marginText(*finding, style), "|"});
    out << "\n"
        << (confirmed ? "MEETS (" : "MEETS, NOT CONFIRMED (") << findings.size() << ")"
        << (checked.in_order ? "" : ", least to spare first") << "\n";
    if (!confirmed)
        out << wrapped(
            "These numbers the tables have second hand or from memory. Hold each against the book "
            "in force, then tick it off: hoopwright tick. Until then it is no pass.",
            2);
    std::istringstream labels(figures.text(2));
    for (const Finding* finding : findings) {
        std::string label;
        std::getline(labels, label);
        label.pop_back();
        const std::string limit = limitText(*finding, style);
        std::string words =
            finding->title + ": " + subjectOf(*finding) + (limit.empty() ? "" : "; wanted: " + limit);
        if (checked.report.tables.size() > 1)
            words += "; " + whose(checked.report, *finding) + finding->clause;
        if (finding->answered) words += "; " + wordText(*finding->answered, checked.folder);
        if (isMeasured(checked, *finding)) words += "; measured";
        if (!finding->beware.empty()) words += ". " + bewareText(*finding);
        out << wrappedBehind(label, words);
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
                       " to ask, " + count(Answer::meets) + " meet" +
                       (report.unconfirmed() > 0
                            ? " (" + std::to_string(report.unconfirmed()) + " of them not confirmed)"
                            : "") +
                       ", " + count(Answer::does_not_apply) + " do not apply",
                   0);
    for (const RuleTableInfo& table : report.tables) {
        out << wrapped(table.title + ", edition " + table.edition + ", written by " + table.written_by, 2,
                       kPageWidth, 4);
    }
    if (checked.since) writeSinceText(out, *checked.since, style);
    writeEditionsText(out, checked.editions, false);
    writeGeometryProblems(out, checked.cage);
    for (const Answer answer : {Answer::fails, Answer::cannot_tell, Answer::ask_person}) {
        writeGroup(out, checked, answer, style);
    }
    writeNotes(out, checked.cage);
    writeSeveralText(out, checked.several);
    writeMeets(out, checked, false, style);
    writeMeets(out, checked, true, style);
    writeAsBuiltText(out, checked, style);
    if (checked.move) writeMoveText(out, *checked.move, checked.job);
    out << "\n";
    for (const RuleTableInfo& table : report.tables) {
        if (!table.advice.empty()) out << wrapped(table.title + ": " + table.advice, 0);
    }
    out << wrapped(std::string(caution()), 0);
}

}  // namespace hoopwright
