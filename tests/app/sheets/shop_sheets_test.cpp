// The papers of the shop as they come out of the printer: read back by others' readers and measured.
#include <gmock/gmock.h>

#include <QFile>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <QXmlStreamReader>
#include <cmath>
#include <map>
#include <numbers>

#include "app/sheets/sheet_files.h"
#include "app/sheets/wrap_drawing.h"
#include "core/base/text.h"
#include "core/model/resolve.h"

using namespace hoopwright;
using std::numbers::pi;
using testing::HasSubstr;

namespace {

struct Demo {
    Job job;
    CageGeometry cage;
    ShopSheets sheets;
    SheetHead head;
};
const Demo& demo(const std::string& name) {
    static std::map<std::string, Demo> kept;
    const auto [at, is_new] = kept.try_emplace(name);
    Demo& made = at->second;
    if (is_new) {
        const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + name + ".yaml");
        made.job = *read.job;
        made.cage = resolve(made.job);
        made.sheets = shopSheets(made.job, made.cage);
        made.head = {made.job.cage.name,
                     "Table, 2026",
                     revisionOf(read.files),
                     "Shop",
                     made.job.cage.unit == LengthUnit::in ? Paper::letter : Paper::a4,
                     made.job.cage.unit};
    }
    return made;
}
const std::vector<std::string> kDemos = {"hillclimb_saloon", "mile_pickup"};

/// Every end that has a wrap.
template <class Visit>
int everyWrap(Visit visit) {
    int count = 0;
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        for (const CopeSheet& sheet : d.sheets.copes) {
            for (const int end : {0, 1}) {
                const CopeSheetEnd& made = sheet.ends[static_cast<std::size_t>(end)];
                if (made.square || !made.trouble.empty()) continue;
                visit(d, sheet, end);
                ++count;
            }
        }
    }
    return count;
}

Vec2 numbers(const QString& x, const QString& y) {
    return {x.toDouble(), y.toDouble()};
}

/// "M x y L x y ..." with or without the letters between.
std::vector<Vec2> pointsOf(const QString& d) {
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
std::vector<std::vector<Vec2>> svgPaths(const QByteArray& svg, const QString& line) {
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
std::vector<std::vector<Vec2>> dxfPaths(const QByteArray& dxf, const QByteArray& layer) {
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
double offLine(const Vec2& p, const std::vector<Vec2>& line) {
    double best = 1e9;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Vec2 along = line[i + 1] - line[i];
        const double t =
            std::clamp((p - line[i]).dot(along) / std::max(along.squaredNorm(), 1e-30), 0.0, 1.0);
        best = std::min(best, (p - line[i] - t * along).norm());
    }
    return best;
}

/// The cut as the wrap has it, worked out anew from the meeting of tube and host at places the wrap has no
/// station: (distance round the paper, distance over the longest point).
std::vector<Vec2> trueCut(const Demo& d, const CopeSheet& sheet, int end) {
    std::vector<Vec2> out;
    const CopeSheetEnd& made = sheet.ends[static_cast<std::size_t>(end)];
    constexpr int kOdd = 2 * 719;  // shares no station with the wrap's but phi = 0
    const auto fine = jointCope(d.cage, sheet.member, end, kOdd);
    EXPECT_TRUE(fine);
    for (int i = 0; i < kOdd; ++i)
        out.emplace_back(static_cast<double>(i) / kOdd * sheet.wrap_mm,
                         fine->outer.s_mm[static_cast<std::size_t>(i)] - made.long_mm);
    return out;
}

/// Is the drawn line, moved so that its ends lie on the register lines, the true one to that error? `up`: +1
/// where y grows away from the cut.
double worstOff(const std::vector<Vec2>& drawn, const std::vector<Vec2>& truth, double up) {
    // Heights are told from where the line starts: phi = 0 is in both.
    const Vec2 zero = drawn.front();
    std::vector<Vec2> line;
    for (const Vec2& p : drawn)
        line.emplace_back(p.x() - zero.x(), up * (p.y() - zero.y()) + truth.front().y());
    double worst = 0;
    for (const Vec2& p : truth) worst = std::max(worst, offLine(p, line));
    return worst;
}

TEST(TheWraps, InSvgAndDxfHaveTheCutLineToTwoHundredths) {
    double worst = 0;
    const int count = everyWrap([&](const Demo& d, const CopeSheet& sheet, int end) {
        const Drawing drawing = wrapDrawing(d.sheets, sheet, end);
        const std::vector<Vec2> truth = trueCut(d, sheet, end);
        const auto svg = svgPaths(svgOf(drawing), QStringLiteral("CUT"));
        ASSERT_EQ(svg.size(), 1u);
        EXPECT_NEAR(svg[0].back().x() - svg[0].front().x(), sheet.wrap_mm, 1e-4);
        const double off = worstOff(svg[0], truth, -1);
        EXPECT_LT(off, 0.02) << d.cage.members[static_cast<std::size_t>(sheet.member)].id << " end " << end;
        const auto dxf = dxfPaths(dxfOf(drawing), "CUT");
        ASSERT_EQ(dxf.size(), 1u);
        EXPECT_LT(worstOff(dxf[0], truth, 1), 0.02);
        worst = std::max(worst, off);
    });
    EXPECT_GT(count, 60);
    RecordProperty("worst_off_um", static_cast<int>(1000 * worst));
}

#ifdef HOOPWRIGHT_PDFTOCAIRO
/// One page of a PDF as poppler reads it: its paths in millimetres of the page.
std::vector<std::vector<Vec2>> pdfPaths(const QByteArray& pdf, int page, QSizeF* size_mm) {
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

TEST(TheWraps, OnThePagesOfThePdfAreOneToOneAsPopplerReadsThem) {
    int found = 0;
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        // Two bars are enough: each page goes through another program.
        ShopSheets few = d.sheets;
        few.copes.resize(3);
        const std::vector<Drawing> pages = copePages(d.head, few);
        const QByteArray pdf = pdfOf(pages, "copes");
        for (std::size_t page = 0; page < pages.size(); ++page) {
            QSizeF size;
            const auto paths = pdfPaths(pdf, static_cast<int>(page) + 1, &size);
            // ISO 216 A4 and ANSI Y14.1 A; a page counts in whole points.
            EXPECT_NEAR(size.width(), pages[page].size_mm.x(), 0.2);
            EXPECT_NEAR(size.height(), pages[page].size_mm.y(), 0.2);
            for (const DrawnPath& drawn : pages[page].paths) {
                if (drawn.line != DrawnLine::cut) continue;
                // Points on one line may be left out; where they stand on the page may not change.
                double best = 1e9;
                for (const auto& path : paths) {
                    if (path.size() < 50) continue;
                    double worst = 0;
                    for (const Vec2& p : drawn.points) worst = std::max(worst, offLine(p, path));
                    for (const Vec2& p : path) worst = std::max(worst, offLine(p, drawn.points));
                    best = std::min(best, worst);
                }
                EXPECT_LT(best, 0.02) << name << " page " << page + 1;
                ++found;
            }
        }
    }
    EXPECT_GE(found, 8);
}

TEST(TheWraps, ProveThePrintWithBarsOfAHundredMillimetresAndFourInches) {
    const Demo& d = demo("hillclimb_saloon");
    ShopSheets one = d.sheets;
    one.copes.resize(2);
    const std::vector<Drawing> pages = copePages(d.head, one);
    const auto paths = pdfPaths(pdfOf(pages, "copes"), 2, nullptr);
    int hundred = 0, four = 0;
    for (const auto& path : paths) {
        if (path.size() != 2 || std::abs(path[0].y() - path[1].y()) > 1e-3) continue;
        hundred += std::abs(std::abs(path[1].x() - path[0].x()) - 100) < 0.02;
        four += std::abs(std::abs(path[1].x() - path[0].x()) - 101.6) < 0.02;
    }
    EXPECT_EQ(hundred, 1);
    EXPECT_EQ(four, 1);
}
#endif

#ifdef HOOPWRIGHT_PDFTOTEXT
std::string textOfPdf(const QByteArray& pdf) {
    const QTemporaryDir folder;
    const QString in = folder.filePath(QStringLiteral("in.pdf"));
    QFile file(in);
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(pdf);
    file.close();
    QProcess program;
    program.start(QStringLiteral(HOOPWRIGHT_PDFTOTEXT), {QStringLiteral("-layout"), in, QStringLiteral("-")});
    EXPECT_TRUE(program.waitForFinished());
    return program.readAllStandardOutput().toStdString();
}

TEST(TheBendSheets, SayWhatIsInTheFiguresSidesInLoudWordsAndWhoHasTheLastWord) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        const std::string text = textOfPdf(pdfOf(bendPages(d.head, d.sheets), "bends"));
        EXPECT_THAT(text, HasSubstr("It plans and certifies nothing"));
        EXPECT_THAT(text, HasSubstr("Revision " + d.head.revision));
        EXPECT_THAT(text, HasSubstr("Table, 2026"));
        EXPECT_THAT(text, HasSubstr("Side bar, LEFT"));
        EXPECT_THAT(text, HasSubstr("Side bar, RIGHT"));
        for (const BendSheet& sheet : d.sheets.bends) {
            // Without the fraction: the type sets signs between figures with glyphs that have no text.
            const LengthStyle tape{d.head.unit};
            EXPECT_THAT(text, HasSubstr("Saw to " + showLength(sheet.blank_mm, tape)));
            for (const SheetBend& bend : sheet.bends) {
                ASSERT_TRUE(bend.mark_mm);
                EXPECT_THAT(text, HasSubstr(showLength(*bend.mark_mm, tape)));
            }
        }
    }
}
#endif

TEST(TheSheets, KeepEveryWordAndLineOnThePage) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        for (const auto& pages : {bendPages(d.head, d.sheets), copePages(d.head, d.sheets),
                                  orderPages(d.head, d.sheets), quotePages(d.head, d.sheets)}) {
            ASSERT_FALSE(pages.empty());
            for (const Drawing& page : pages) {
                // What a printer leaves white.
                const auto inside = [&](const Vec2& p) {
                    return p.x() > 8 && p.y() > 8 && p.x() < page.size_mm.x() - 8 &&
                           p.y() < page.size_mm.y() - 6;
                };
                for (const DrawnPath& path : page.paths)
                    for (const Vec2& p : path.points)
                        EXPECT_TRUE(inside(p)) << page.title << " " << p.transpose();
                for (const DrawnText& text : page.texts) {
                    const double width = wordsWidth_mm(text.words, text.points, text.strong);
                    const double left = text.align == DrawnText::Align::left    ? 0
                                        : text.align == DrawnText::Align::right ? -width
                                                                                : -width / 2;
                    EXPECT_TRUE(inside(text.at + Vec2(left, 0)) && inside(text.at + Vec2(left + width, 0)))
                        << page.title << ": " << text.words;
                }
            }
        }
    }
}

TEST(TheFloorLayout, IsTheTubeInFullSize) {
    const Demo& d = demo("hillclimb_saloon");
    const BendSheet& hoop = d.sheets.bends.front();
    const Drawing floor = floorDrawing(d.sheets, hoop);
    const auto outline = dxfPaths(dxfOf(floor), "PART");
    ASSERT_EQ(outline.size(), 1u);
    Vec2 low = outline[0][0], high = low;
    for (const Vec2& p : outline[0]) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    // Outside to outside as the tape has it.
    EXPECT_NEAR(high.x() - low.x(), hoop.checks[1].value_mm, 0.05);
}

TEST(TheSheets, AreFilesOfTheKindsAskedFor) {
    const Demo& d = demo("mile_pickup");
    std::vector<std::string> names;
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {SheetKind::order})) names.push_back(file.name);
    EXPECT_THAT(names, testing::ElementsAre("order.pdf", "order.csv"));
    names.clear();
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {SheetKind::bends, SheetKind::copes}))
        names.push_back(file.name);
    EXPECT_THAT(names,
                testing::IsSupersetOf({"bends.pdf", "bends.csv", "floor_main_hoop.dxf", "copes.pdf",
                                       "copes.csv", "wrap_belt_bar_a.svg", "wrap_side_bar_left_b.dxf"}));
}

TEST(TheCsv, IsQuotedWhereItMustBe) {
    // RFC 4180, sections 2.5 to 2.7.
    EXPECT_EQ(csvOf({{"a", "b,c", "d\"e"}, {"", "f\ng", "1"}}).toStdString(),
              "a,\"b,c\",\"d\"\"e\"\r\n,\"f\ng\",1\r\n");
}

}  // namespace
