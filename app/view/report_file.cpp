#include "app/view/report_file.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QLocale>
#include <algorithm>
#include <numbers>

namespace hoopwright {
namespace {

constexpr Answer kAnswers[] = {Answer::fails, Answer::cannot_tell, Answer::ask_person, Answer::meets,
                               Answer::does_not_apply};
constexpr double kRadian = std::numbers::pi / 180;

/// Behind the key of a measure; what it holds is in that unit.
struct Suffix {
    Dimension dimension;
    const char* word;
};
constexpr Suffix kSuffixes[] = {
    {Dimension::length, "mm"},     {Dimension::angle, "deg"},  {Dimension::area, "mm2"},
    {Dimension::mass, "kg"},       {Dimension::stress, "mpa"}, {Dimension::inertia, "mm4"},
    {Dimension::speed, "m_per_s"}, {Dimension::time, "s"},     {Dimension::volume, "mm3"}};

std::string textOf(const QJsonObject& object, const char* key) {
    return object[QLatin1String(key)].toString().toStdString();
}

void readMargin(const QJsonObject& object, ReportLine& line) {
    for (auto it = object.begin(); it != object.end(); ++it) {
        if (!it.key().startsWith(QLatin1String("margin")) || !it.value().isDouble()) continue;
        const QString unit = it.key().mid(7);
        for (const Suffix& one : kSuffixes)
            if (unit == QLatin1String(one.word)) line.dimension = one.dimension;
        line.margin = it.value().toDouble() * (line.dimension == Dimension::angle ? kRadian : 1);
    }
}

}  // namespace

Expected<ReportSummary> readReport(const QByteArray& json) {
    QJsonParseError error;
    const QJsonDocument document = QJsonDocument::fromJson(json, &error);
    const QJsonObject top = document.object();
    if (document.isNull())
        return Reason{"it is not JSON: " + error.errorString().toStdString() + " at byte " +
                      std::to_string(error.offset)};
    if (top[QLatin1String("hoopwright")].toString() != QLatin1String("check") ||
        !top[QLatin1String("findings")].isArray())
        return Reason{"it is not what `hoopwright check --json` writes"};
    ReportSummary out;
    for (const QJsonValue& value : top[QLatin1String("findings")].toArray()) {
        const QJsonObject one = value.toObject();
        ReportLine line;
        line.table = textOf(one, "table");
        line.rule = textOf(one, "rule");
        line.subject = textOf(one, "subject");
        line.title = textOf(one, "title");
        line.subject_name = textOf(one, "subject_name");
        line.confirmed = one[QLatin1String("confirmed")].toBool(true);
        const std::string answer = textOf(one, "answer");
        const auto known = std::find_if(std::begin(kAnswers), std::end(kAnswers),
                                        [&](Answer a) { return answerKey(a) == answer; });
        if (known == std::end(kAnswers))
            return Reason{"it has a finding without an answer: '" + answer + "'"};
        line.answer = *known;
        readMargin(one, line);
        out.push_back(std::move(line));
    }
    return out;
}

QByteArray reportText(const ReportSummary& summary) {
    QJsonArray findings;
    for (const ReportLine& line : summary) {
        QJsonObject one;
        const auto put = [&](const char* key, const std::string& value) {
            one[QLatin1String(key)] = QString::fromStdString(value);
        };
        put("table", line.table);
        put("rule", line.rule);
        put("subject", line.subject);
        put("title", line.title);
        put("subject_name", line.subject_name);
        put("answer", std::string(answerKey(line.answer)));
        one[QLatin1String("confirmed")] = line.confirmed;
        if (line.margin) {
            QString key = QStringLiteral("margin");
            for (const Suffix& suffix : kSuffixes)
                if (suffix.dimension == line.dimension) key += QLatin1Char('_') + QLatin1String(suffix.word);
            one[key] = *line.margin / (line.dimension == Dimension::angle ? kRadian : 1);
        }
        findings.append(one);
    }
    QJsonObject top;
    top[QLatin1String("hoopwright")] = QStringLiteral("check");
    top[QLatin1String("version")] = 1;
    top[QLatin1String("findings")] = findings;
    return QJsonDocument(top).toJson();
}

QString agoWords(const QDateTime& then, const QDateTime& now) {
    static const QLocale kEnglish(QLocale::English, QLocale::UnitedKingdom);
    const qint64 days = then.daysTo(now);
    if (days == 0) return then.toString(QStringLiteral("HH:mm"));
    if (days > 0 && days < 7) return kEnglish.dayName(then.date().dayOfWeek());
    return kEnglish.toString(then.date(), QStringLiteral("d MMMM yyyy"));
}

}  // namespace hoopwright
