#include "app/window/findings.h"

#include <QRegularExpression>
#include <algorithm>
#include <cmath>

#include "app/window/cage_edits.h"
#include "app/window/form_help.h"
#include "core/base/text.h"

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

/// To a tenth; small things to what tells them from nothing.
QString readable(double value) {
    const double size = std::abs(value);
    if (std::abs(value - std::round(value)) < 1e-9) return text(fixed(value, 0));
    return text(fixed(value, size < 1 ? 3 : size < 10 ? 2 : 1));
}

/// The unit the table speaks in, unless it is a length: those follow the person.
QString figure(double base, const Finding& finding, UnitsShown units) {
    if (finding.dimension == Dimension::length) {
        const UnitsShown one = units == UnitsShown::both ? UnitsShown::mm : units;
        const Unit unit = fieldUnit(Dimension::length, one);
        const double value = base / unit.to_base;
        return (one == UnitsShown::in ? text(fixed(value, 3)) : readable(value)) + QLatin1Char(' ') +
               text(unit.word);
    }
    const double value = base / (finding.unit.word.empty() ? 1.0 : finding.unit.to_base);
    if (finding.dimension == Dimension::angle) return text(fixed(value, 1)) + QStringLiteral("°");
    return finding.unit.word.empty() ? readable(value)
                                     : readable(value) + QLatin1Char(' ') + unitSign(finding.unit.word);
}

/// "Rear brace against vertical" about "Rear brace, left" is "Rear brace against vertical, left": nothing
/// twice.
QString withSubject(const QString& title, const QString& about) {
    if (about.isEmpty() || title.contains(about, Qt::CaseInsensitive)) return title;
    const qsizetype comma = about.lastIndexOf(QStringLiteral(", "));
    const QString base = about.left(comma);
    if (comma > 0 && title.contains(base, Qt::CaseInsensitive)) return title + about.mid(comma);
    return title + QStringLiteral(", ") + about;
}

}  // namespace

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
    static const QRegularExpression kAmount(QStringLiteral("^[^.]*\\d[^:;]* needed\\. (?=\\S)"));
    return text(finding.way_out).remove(kAmount);
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
    if (finding.value) words.value = figure(*finding.value, finding, units);
    words.limit = QString::fromStdString(finding.limit_text);
    if (finding.margin) {
        const QString amount = figure(std::abs(*finding.margin), finding, units);
        if (*finding.margin >= 0 && finding.dimension == Dimension::none) {
            words.by.clear();  // a count or a word has nothing to spare
        } else if (*finding.margin >= 0) {
            words.by = QObject::tr("%1 to spare").arg(amount);
        } else {
            const bool over = finding.value && finding.limit && *finding.value > *finding.limit;
            words.by = over ? QObject::tr("%1 too much").arg(amount) : QObject::tr("%1 short").arg(amount);
        }
    }
    if (finding.answer == Answer::cannot_tell || finding.answer == Answer::ask_person) {
        words.limit = QString::fromStdString(finding.missing);
    }
    words.sentence = answerWords(finding.answer) + QStringLiteral(": ") + words.title;
    for (const QString& more : {words.value, words.limit, words.by, QString::fromStdString(finding.clause)}) {
        if (!more.isEmpty()) words.sentence += QStringLiteral(", ") + more;
    }
    return words;
}

std::optional<Answer> worstOf(const CheckReport& report, std::string_view subject) {
    std::optional<Answer> worst;
    for (const Finding& finding : report.findings) {
        const auto& lit = finding.evidence.members;
        const auto& feet = finding.evidence.plates;
        const bool about = finding.subject == subject ||
                           std::find(lit.begin(), lit.end(), subject) != lit.end() ||
                           std::find(feet.begin(), feet.end(), subject) != feet.end();
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
