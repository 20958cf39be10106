// The parts of a check that are about more than one table, one edition or one day.
#include <algorithm>
#include <filesystem>
#include <ostream>

#include "app/commands/check_report.h"
#include "app/commands/text_table.h"
#include "app/view/finding_text.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

std::string marginWords(std::optional<double> margin, const FindingChange& change, const LengthStyle& style) {
    if (!margin) return {};
    const Unit unit = baseUnit(change.dimension);
    return showQuantity(std::abs(*margin), change.dimension, unit, style) +
           (*margin < 0 ? " lacking" : " to spare");
}

std::string changeText(const FindingChange& change, const LengthStyle& style) {
    const std::string about = change.title + (change.subject_name.empty() ? "" : ": " + change.subject_name);
    switch (change.kind) {
        case FindingChange::Kind::answer:
            return about + ": " + (change.was.empty() ? "nothing" : change.was) + " before, now " +
                   (change.is.empty() ? "nothing" : change.is);
        case FindingChange::Kind::added:
            return about + ": new, " + change.is;
        case FindingChange::Kind::gone:
            return about + ": no longer judged, " + change.was + " before";
        case FindingChange::Kind::by_how_much:
            return about + ": " + change.is + " as before, " + marginWords(change.was_margin, change, style) +
                   " before, now " + marginWords(change.margin, change, style);
    }
    return about;
}

std::string signedText(double value, int decimals) {
    return (value < 0 ? "-" : "+") + fixed(std::abs(value), decimals);
}

}  // namespace

std::string wordText(const PersonsWord& word, const std::filesystem::path& folder) {
    std::string out = "Said by " + word.who + " on " + word.when;
    if (!word.note.empty()) out += ": " + word.note;
    if (word.photo.empty()) return out;
    std::error_code failed;
    const bool there = std::filesystem::is_regular_file(folder / word.photo, failed);
    return out + "; photo " + word.photo + (there ? "" : ", which is not there");
}

std::string costText(double kg, std::optional<double> price, const Job& job) {
    std::string out = signedText(kg, 2) + " kg";
    if (!price) return out + ", price not stated";
    return out + ", " + signedText(*price, 2) + (job.stock.currency.empty() ? "" : " " + job.stock.currency);
}

void writeSinceText(std::ostream& out, const SinceReport& since, const LengthStyle& style) {
    const auto answers = std::ranges::count_if(
        since.changes, [](const FindingChange& c) { return c.kind != FindingChange::Kind::by_how_much; });
    out << "\n";
    if (since.changes.empty()) {
        out << wrapped("Nothing has changed since " + since.since + " (" + since.file + ").", 0);
        return;
    }
    out << wrapped(std::to_string(answers) + (answers == 1 ? " finding" : " findings") + " changed since " +
                       since.since + " (" + since.file + "):",
                   0);
    for (const FindingChange& change : since.changes)
        out << wrapped(changeText(change, style), 2, kPageWidth, 4);
}

void writeSeveralText(std::ostream& out, const std::vector<SharedLimit>& several) {
    const auto said = [](const SharedLimit& one) { return one.kind != SharedLimit::Kind::alike; };
    const auto count = std::ranges::count_if(several, said);
    if (count == 0) return;
    out << "\nASKED BY SEVERAL TABLES (" << count << "), what cannot be met at once first\n";
    for (const SharedLimit& one : several)
        if (said(one)) out << wrapped(one.says, 2, kPageWidth, 4);
}

void writeEditionsText(std::ostream& out, const std::vector<EditionNews>& editions, bool each_rule) {
    for (const EditionNews& news : editions) {
        if (!news.kept && each_rule)
            out << wrapped(news.title + ", edition " + news.edition +
                               ": the job keeps no edition of it yet; --keep keeps this one.",
                           0);
        if (news.kept && !news.isNews() && each_rule)
            out << wrapped(news.title + ": as kept on " + news.kept_when + ", edition " + news.edition + ".",
                           0);
        if (!news.isNews()) continue;
        const std::size_t count = news.changes.size();
        out << wrapped(news.title + ": edition " + news.edition + " in place of " + news.was_edition +
                           ", kept on " + news.kept_when + "; " + std::to_string(count) +
                           (count == 1 ? " rule differs" : " rules differ") +
                           (each_rule || count == 0 ? "." : " (hoopwright editions shows each)."),
                       each_rule ? 0 : 2);
        if (!each_rule) continue;
        for (const EditionChange& change : news.changes) {
            out << wrapped(std::string(editionChangeKey(change.kind)) + ": " + change.rule +
                               (change.title.empty() ? "" : ", " + change.title),
                           2);
            if (!change.was_says.empty()) out << wrapped("was: " + change.was_says, 6, kPageWidth, 5);
            if (!change.says.empty()) out << wrapped("is:  " + change.says, 6, kPageWidth, 5);
        }
    }
}

void writeMoveText(std::ostream& out, const MendAll& move, const Job& job) {
    const auto fails = [](const CheckReport& report) {
        return std::ranges::count_if(report.findings, [](const Finding& f) {
            return f.answer == Answer::fails && f.severity == Severity::required;
        });
    };
    out << "\nWHAT WOULD HAVE TO CHANGE (" << move.steps.size() << ")\n";
    if (move.steps.empty() && move.left.empty()) out << "  Nothing: no required rule fails.\n";
    int number = 0;
    for (const MendAll::Step& step : move.steps) {
        const std::string label = std::to_string(++number) + ". ";
        out << wrapped(label + step.mend.says + " (" +
                           costText(step.mend.adds_kg, step.mend.adds_price, job) + "); for " +
                           step.of.clause + (step.of.clause.empty() ? "" : " ") + step.of.title,
                       2, kPageWidth, 4);
    }
    if (!move.steps.empty())
        out << wrapped("In all " + costText(move.adds_kg, move.adds_price, job) + "; " +
                           std::to_string(fails(move.before)) + " required findings fail now, " +
                           std::to_string(fails(move.report)) + " then.",
                       2);
    if (move.left.empty()) return;
    out << "  No way out was found for:\n";
    for (const MendAll::Left& left : move.left)
        out << wrapped(left.finding.clause + " " + left.finding.title +
                           (left.finding.subject_name.empty() ? "" : ": " + left.finding.subject_name) +
                           ". " + left.none,
                       4, kPageWidth, 4);
}

}  // namespace hoopwright
