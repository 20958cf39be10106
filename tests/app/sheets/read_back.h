// Sheets as others' readers find them: paths of an SVG, a DXF, a page of a PDF, its words and its fonts.
#pragma once

#include <gtest/gtest.h>

#include <QFile>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <QXmlStreamReader>
#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "app/sheets/sheet_files.h"
#include "core/model/resolve.h"

namespace hoopwright::read_back {

struct Demo {
    Job job;
    CageGeometry cage;
    ShopSheets sheets;
    SheetHead head;
};
inline const Demo& demo(const std::string& name) {
    static std::map<std::string, Demo> kept;
    const auto [at, is_new] = kept.try_emplace(name);
    Demo& made = at->second;
    if (is_new) {
        const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + name + ".yaml");
        made.job = *read.job;
        made.cage = resolve(made.job);
        std::vector<RuleTableRef> tables;
        for (const auto& file : read.files.rules) tables.push_back(readRuleTable(file).table);
        made.sheets = shopSheets(made.job, made.cage, tables);
        made.head = {made.job.cage.name,
                     "Table, 2026",
                     revisionOf(read.files),
                     "Shop",
                     made.job.cage.unit == LengthUnit::in ? Paper::letter : Paper::a4,
                     made.job.cage.unit};
    }
    return made;
}
inline const std::vector<std::string> kDemos = {"hillclimb_saloon", "mile_pickup"};

inline Vec2 numbers(const QString& x, const QString& y) {
    return {x.toDouble(), y.toDouble()};
}

/// "M x y L x y ..." with or without the letters between.
inline std::vector<Vec2> pointsOf(const QString& d) {
    static const QRegularExpression kPair(
        QStringLiteral("(-?[0-9.]+(?:e-?[0-9]+)?)[ ,]+(-?[0-9.]+(?:e-?[0-9]+)?)"));
    std::vector<Vec2> out;
    auto found = kPair.globalMatch(d);
    while (found.hasNext()) {
        const auto m = found.next();
        out.push_back(numbers(m.captured(1), m.captured(2)));
    }
    return out;
}

/// The paths of one class of an SVG, by Qt's XML reader.
inline std::vector<std::vector<Vec2>> svgPaths(const QByteArray& svg, const QString& line) {
    std::vector<std::vector<Vec2>> out;
    QXmlStreamReader xml(svg);
    while (!xml.atEnd()) {
        xml.readNext();
        if (!xml.isStartElement() || xml.name() != QStringLiteral("path")) continue;
        if (xml.attributes().value(QStringLiteral("class")) == line)
            out.push_back(pointsOf(xml.attributes().value(QStringLiteral("d")).toString()));
    }
    EXPECT_FALSE(xml.hasError()) << xml.errorString().toStdString();
    return out;
}

/// The polylines of one layer of a DXF: pairs of lines, code and value.
inline std::vector<std::vector<Vec2>> dxfPaths(const QByteArray& dxf, const QByteArray& layer) {
    const QList<QByteArray> lines = dxf.split('\n');
    std::vector<std::vector<Vec2>> out;
    QByteArray entity, on;
    Vec2 p = Vec2::Zero();
    const auto finish = [&] {
        if (entity == "VERTEX" && on == layer) out.back().push_back(p);
    };
    for (int i = 0; i + 1 < lines.size(); i += 2) {
        const int code = lines[i].trimmed().toInt();
        const QByteArray value = lines[i + 1].trimmed();
        if (code == 0) {
            finish();
            entity = value;
            on.clear();
        }
        if (code == 8) {
            on = value;
            if (entity == "POLYLINE" && on == layer) out.emplace_back();
        }
        if (code == 10) p.x() = value.toDouble();
        if (code == 20) p.y() = value.toDouble();
    }
    return out;
}

/// How far a point is from a polyline.
inline double offLine(const Vec2& p, const std::vector<Vec2>& line) {
    double best = 1e9;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Vec2 along = line[i + 1] - line[i];
        const double t =
            std::clamp((p - line[i]).dot(along) / std::max(along.squaredNorm(), 1e-30), 0.0, 1.0);
        best = std::min(best, (p - line[i] - t * along).norm());
    }
    return best;
}

#ifdef HOOPWRIGHT_PDFTOCAIRO
/// One page of a PDF as poppler reads it: its paths in millimetres of the page.
inline std::vector<std::vector<Vec2>> pdfPaths(const QByteArray& pdf, int page, QSizeF* size_mm) {
    const QTemporaryDir folder;
    const QString in = folder.filePath(QStringLiteral("in.pdf")),
                  out = folder.filePath(QStringLiteral("out.svg"));
    QFile file(in);
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(pdf);
    file.close();
    const QString number = QString::number(page);
    EXPECT_EQ(QProcess::execute(QStringLiteral(HOOPWRIGHT_PDFTOCAIRO),
                                {QStringLiteral("-svg"), QStringLiteral("-f"), number, QStringLiteral("-l"),
                                 number, in, out}),
              0);
    QFile svg(out);
    EXPECT_TRUE(svg.open(QIODevice::ReadOnly));
    QXmlStreamReader xml(svg.readAll());
    static const QRegularExpression kMatrix(
        QStringLiteral("matrix\\(([^,]+),([^,]+),([^,]+),([^,]+),([^,]+),([^)]+)\\)"));
    constexpr double kPoint_mm = 25.4 / 72;
    std::vector<std::vector<Vec2>> paths;
    while (!xml.atEnd()) {
        xml.readNext();
        if (!xml.isStartElement()) continue;
        const auto attributes = xml.attributes();
        if (xml.name() == QStringLiteral("svg") && size_mm) {
            const QStringList box =
                attributes.value(QStringLiteral("viewBox")).toString().split(QLatin1Char(' '));
            *size_mm = QSizeF(box[2].toDouble() * kPoint_mm, box[3].toDouble() * kPoint_mm);
        }
        if (xml.name() != QStringLiteral("path")) continue;
        std::vector<Vec2> points = pointsOf(attributes.value(QStringLiteral("d")).toString());
        const auto m =
            kMatrix.match(attributes.value(QStringLiteral("transform")).toString().remove(QLatin1Char(' ')));
        for (Vec2& p : points) {
            if (m.hasMatch()) {
                const auto at = [&](int i) { return m.captured(i).toDouble(); };
                p = Vec2(at(1) * p.x() + at(3) * p.y() + at(5), at(2) * p.x() + at(4) * p.y() + at(6));
            }
            p *= kPoint_mm;
        }
        paths.push_back(std::move(points));
    }
    return paths;
}

#endif

#ifdef HOOPWRIGHT_PDFTOTEXT
/// `order`: "-layout" as it lies on the page, "-raw" as it was written.
inline std::string textOfPdf(const QByteArray& pdf, const char* order = "-layout") {
    const QTemporaryDir folder;
    const QString in = folder.filePath(QStringLiteral("in.pdf"));
    QFile file(in);
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(pdf);
    file.close();
    QProcess program;
    program.start(QStringLiteral(HOOPWRIGHT_PDFTOTEXT),
                  {QString::fromLatin1(order), in, QStringLiteral("-")});
    EXPECT_TRUE(program.waitForFinished());
    return program.readAllStandardOutput().toStdString();
}

/// The rows pdffonts has of it, without its heading.
inline QStringList fontsOfPdf(const QByteArray& pdf) {
    const QTemporaryDir folder;
    const QString in = folder.filePath(QStringLiteral("in.pdf"));
    QFile file(in);
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(pdf);
    file.close();
    QProcess program;
    program.start(QStringLiteral(HOOPWRIGHT_PDFFONTS), {in});
    EXPECT_TRUE(program.waitForFinished());
    return QString::fromUtf8(program.readAllStandardOutput())
        .split(QLatin1Char('\n'), Qt::SkipEmptyParts)
        .mid(2);
}

#endif

}  // namespace hoopwright::read_back
