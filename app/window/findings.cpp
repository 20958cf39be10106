#include "app/window/findings.h"

#include <algorithm>
#include <utility>

#include "app/view/finding_text.h"
#include "app/window/form_help.h"
#include "core/base/text.h"
#include "core/edit/cage_edits.h"

namespace hoopwright {
namespace {

/// How bad an answer is for the thing it is about, worst first.
int rank(Answer answer) {
    switch (answer) {
        case Answer::fails:
            return 0;
        case Answer::cannot_tell:
            return 1;
        case Answer::ask_person:
            return 2;
        case Answer::meets:
            return 3;
        case Answer::does_not_apply:
            return 4;
    }
    return 4;
}

LengthStyle styleOf(UnitsShown units) {
    return {units == UnitsShown::in ? LengthUnit::in : LengthUnit::mm};
}

/// "Rear brace against vertical" about "Rear brace, left" is "Rear brace against vertical, left": nothing
/// twice.
QString withSubject(const QString& title, const QString& about) {
    if (about.isEmpty() || title.contains(about, Qt::CaseInsensitive)) return title;
    const qsizetype comma = about.lastIndexOf(QStringLiteral(", "));
    const QString base = about.left(comma);
    if (comma > 0 && title.contains(base, Qt::CaseInsensitive)) return title + about.mid(comma);
    // Within a line it begins small, unless it is a sign of its own: "DOM tube".
    const bool word = about.size() > 1 && about[1].isLower();
    return title + QStringLiteral(", ") + (word ? about.left(1).toLower() + about.mid(1) : about);
}

}  // namespace

QString printed(std::string words) {
    return QString::fromStdString(withSigns(std::move(words)));
}

std::string findingKey(const Finding& finding) {
    return finding.table + "/" + finding.rule + "/" + finding.subject;
}

const Finding* findFinding(const CheckReport& report, std::string_view key) {
    for (const Finding& finding : report.findings) {
        if (findingKey(finding) == key) return &finding;
    }
    return nullptr;
}

QString shortWayOut(const Finding& finding) {
    return printed(wayOutAlone(finding));
}

QString limitWords(const Finding& finding, UnitsShown units) {
    return printed(limitText(finding, styleOf(units)));
}

QString answerWords(Answer answer) {
    const std::string_view word = answerWord(answer);
    return QString::fromUtf8(word.data(), qsizetype(word.size()));
}

FindingWords wordsOf(const Finding& finding, UnitsShown units) {
    FindingWords words;
    words.title = QString::fromStdString(finding.title);
    const QString about = QString::fromStdString(finding.subject_name);
    words.title = withSubject(words.title, about);
    const LengthStyle style = styleOf(units);
    words.value = printed(valueText(finding, style));
    words.limit = limitWords(finding, units);
    // A count or a word that meets has nothing to spare.
    const bool counts = finding.dimension == Dimension::none && finding.margin.value_or(0) >= 0;
    if (!counts) words.by = printed(marginText(finding, style));
    if (finding.answer == Answer::cannot_tell || finding.answer == Answer::ask_person) {
        words.limit = printed(finding.missing);
    }
    words.sentence = QString::fromStdString(answerPhrase(finding)) + QStringLiteral(": ") + words.title;
    for (const QString& more : {words.value, words.limit, words.by, QString::fromStdString(finding.clause)}) {
        if (!more.isEmpty()) words.sentence += QStringLiteral(", ") + more;
    }
    return words;
}

std::optional<Answer> worstOf(const CheckReport& report, std::string_view thing) {
    std::optional<Answer> worst;
    for (const Finding& finding : report.findings) {
        const auto& lit = finding.evidence.members;
        const auto& feet = finding.evidence.plates;
        const bool about = finding.subject == thing ||
                           std::find(lit.begin(), lit.end(), thing) != lit.end() ||
                           std::find(feet.begin(), feet.end(), thing) != feet.end();
        if (!about || (finding.severity == Severity::recommended && finding.answer == Answer::fails))
            continue;
        if (!worst || rank(finding.answer) < rank(*worst)) worst = finding.answer;
    }
    return worst;
}

bool cannotBeBuilt(const CageGeometry& geometry, std::string_view layout_id) {
    return std::any_of(
        geometry.problems.begin(), geometry.problems.end(), [&](const GeometryProblem& problem) {
            return layoutId(problem.member) == layout_id || layoutId(problem.plate) == layout_id;
        });
}

}  // namespace hoopwright
