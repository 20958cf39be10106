// The papers of the shop as they come out of the printer: read back by others' readers and measured.
#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "app/sheets/wrap_drawing.h"
#include "core/base/text.h"
#include "tests/app/sheets/read_back.h"

using namespace hoopwright;
using namespace hoopwright::read_back;
using std::numbers::pi;
using testing::HasSubstr;

namespace {

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

/// How many level lines are that long, to two hundredths.
int barsOf(const std::vector<std::vector<Vec2>>& paths, double long_mm) {
    return static_cast<int>(std::ranges::count_if(paths, [&](const std::vector<Vec2>& path) {
        return path.size() == 2 && std::abs(path[0].y() - path[1].y()) < 1e-3 &&
               std::abs(std::abs(path[1].x() - path[0].x()) - long_mm) < 0.02;
    }));
}

/// The LINEs of a DXF: pairs of lines, code and value.
std::vector<std::vector<Vec2>> dxfLines(const QByteArray& dxf) {
    const QList<QByteArray> lines = dxf.split('\n');
    std::vector<std::vector<Vec2>> out;
    bool in = false;
    for (int i = 0; i + 1 < lines.size(); i += 2) {
        const int code = lines[i].trimmed().toInt();
        const QByteArray value = lines[i + 1].trimmed();
        if (code == 0) {
            in = value == "LINE";
            if (in) out.emplace_back(2, Vec2::Zero());
        }
        if (!in) continue;
        if (code == 10 || code == 11) out.back()[static_cast<std::size_t>(code - 10)].x() = value.toDouble();
        if (code == 20 || code == 21) out.back()[static_cast<std::size_t>(code - 20)].y() = value.toDouble();
    }
    return out;
}

TEST(TheWraps, ProveThePrintWithBarsOfAHundredMillimetresAndFourInches) {
    const Demo& d = demo("hillclimb_saloon");
    ShopSheets one = d.sheets;
    one.copes.resize(2);
    SheetHead head = d.head;
    for (const Paper paper : {Paper::a4, Paper::letter}) {
        head.paper = paper;
        const auto paths = pdfPaths(pdfOf(copePages(head, one), "copes"), 2, nullptr);
        EXPECT_EQ(barsOf(paths, 100), 1);
        EXPECT_EQ(barsOf(paths, 101.6), 1);
    }
    const std::vector<Drawing> strips = wrapStrips(head, one);
    const auto paths = pdfPaths(pdfOf({strips[0]}, "strip"), 1, nullptr);
    EXPECT_EQ(barsOf(paths, 100), 1);
    EXPECT_EQ(barsOf(paths, 101.6), 1);
    const QByteArray svg = svgOf(strips[0]), dxf = dxfOf(strips[0]);
    EXPECT_EQ(barsOf(svgPaths(svg, QStringLiteral("PART")), 100), 1);
    EXPECT_EQ(barsOf(svgPaths(svg, QStringLiteral("PART")), 101.6), 1);
    EXPECT_EQ(barsOf(dxfLines(dxf), 100), 1);
    EXPECT_EQ(barsOf(dxfLines(dxf), 101.6), 1);
}

TEST(TheFloorLayout, ProvesThePrintOnEverySheetOfIt) {
    const Demo& d = demo("mile_pickup");
    ShopSheets one = d.sheets;
    one.bends.resize(1);
    const std::vector<Drawing> pages = floorPages(d.head, one);
    const auto paths = pdfPaths(pdfOf({pages[3]}, "floor"), 1, nullptr);
    EXPECT_EQ(barsOf(paths, 100), 1);
    EXPECT_EQ(barsOf(paths, 101.6), 1);
}
#endif

#ifdef HOOPWRIGHT_PDFTOTEXT
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
            const LengthStyle tape{d.head.unit, 1, d.head.unit == LengthUnit::in ? 16 : 0};
            EXPECT_THAT(text, HasSubstr("Saw to " + showLength(sheet.blank_mm, tape)));
            for (const SheetBend& bend : sheet.bends) {
                ASSERT_TRUE(bend.mark_mm);
                EXPECT_THAT(text, HasSubstr(showLength(*bend.mark_mm, {d.head.unit})));
            }
        }
    }
}
#endif

TEST(TheBendSheets, SetEveryMarkAndAngleLargeEnoughForArmsLength) {
    constexpr double kLarge_pt = 15;
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        const std::vector<Drawing> pages = bendPages(d.head, d.sheets);
        for (std::size_t i = 0; i < d.sheets.bends.size(); ++i) {
            const auto largest = [&](const std::string& words) {
                double points = 0;
                for (const DrawnText& text : pages[2 * i].texts)
                    if (text.words == words) points = std::max(points, text.points);
                return points;
            };
            for (const SheetBend& bend : d.sheets.bends[i].bends) {
                EXPECT_GE(largest(showLength(*bend.mark_mm, {d.head.unit})), kLarge_pt) << pages[2 * i].title;
                EXPECT_GE(largest(showAngle(bend.angle_rad)), kLarge_pt) << pages[2 * i].title;
            }
        }
    }
}

TEST(TheHead, BearsTheShopsMarkOnEveryPageAndNoWordLiesOnIt) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        SheetHead head = d.head;
        head.mark = QImage(300, 90, QImage::Format_ARGB32);
        head.mark.fill(Qt::darkGreen);
        for (const SheetKind kind :
             {SheetKind::layout, SheetKind::bends, SheetKind::copes, SheetKind::order, SheetKind::quote}) {
            for (const Drawing& page : pagesOf(kind, head, d.sheets)) {
                ASSERT_EQ(page.pictures.size(), 1u) << page.title;
                const DrawnPicture& mark = page.pictures[0];
                EXPECT_NEAR(mark.size.x() / mark.size.y(), 300.0 / 90, 1e-6) << "not drawn out of shape";
                for (const DrawnText& text : page.texts) {
                    const double width = wordsWidth_mm(text.words, text.points, text.strong);
                    const double right = text.align == DrawnText::Align::left    ? text.at.x() + width
                                         : text.align == DrawnText::Align::right ? text.at.x()
                                                                                 : text.at.x() + width / 2;
                    EXPECT_FALSE(right > mark.at.x() && text.at.y() < mark.at.y() + mark.size.y())
                        << page.title << ": " << text.words;
                }
            }
        }
        EXPECT_TRUE(svgOf(orderPages(head, d.sheets)[0]).contains("<image x=\""));
    }
}

TEST(TheFloorPoints, StandUnderTheirPlanAndNotOnIt) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        const std::vector<Drawing> pages = bendPages(d.head, d.sheets);
        for (std::size_t i = 1; i < 2 * d.sheets.bends.size(); i += 2) {
            double low = 0, table = 1e9;
            for (const DrawnPath& path : pages[i].paths)
                if (path.line == DrawnLine::part)
                    for (const Vec2& p : path.points) low = std::max(low, p.y());
            for (const DrawnText& text : pages[i].texts)
                if (text.words == "of the tube's middle") table = text.at.y();
            EXPECT_LT(low, table - 2) << pages[i].title;
        }
    }
}

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
