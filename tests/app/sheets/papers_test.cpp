// What each paper says and shows: one tube a page, the rules, spares, tubes bought bent, floor layouts on
// many sheets, wraps on a roll; walked forward from its figures, read by others.
#include <gmock/gmock.h>

#include <cmath>
#include <numbers>
#include <set>

#include "core/base/text.h"
#include "core/shop/bend_checks.h"
#include "tests/app/sheets/read_back.h"

#ifdef HOOPWRIGHT_DXFLIB
#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>

#include <fstream>
#endif

using namespace hoopwright;
using namespace hoopwright::read_back;
using testing::HasSubstr;

namespace {

std::string wordsOf(const std::vector<Drawing>& pages) {
    std::string words;
    for (const Drawing& page : pages)
        for (const DrawnText& text : page.texts) words += text.words + "\n";
    return words;
}

TEST(TheBendSheets, AreOneTubeAPageAndItsFloorPointsOnTheNext) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        const std::vector<Drawing> pages = bendPages(d.head, d.sheets);
        ASSERT_EQ(pages.size(), 2 * d.sheets.bends.size()) << name;
        for (std::size_t i = 0; i < pages.size(); ++i) {
            EXPECT_THAT(pages[i].title, Not(HasSubstr("continued")));
            // Readable at arm's length: what is read at the bender is large.
            double largest = 0;
            for (const DrawnText& text : pages[i].texts)
                if (text.words.starts_with("Saw to")) largest = text.points;
            if (i % 2 == 0) {
                EXPECT_GE(largest, 14) << pages[i].title;
            }
        }
    }
}

TEST(TheBendSheets, SayWhatEveryRuleAboutBendsSaysOfThatBar) {
    const Demo& d = demo("hillclimb_saloon");
    const std::string words = wordsOf(bendPages(d.head, d.sheets));
    EXPECT_THAT(words, HasSubstr("Bend radius (club_hillclimb, 3.1"));
    EXPECT_THAT(words, HasSubstr("at least 3"));
    EXPECT_THAT(words, HasSubstr("Bends of the side bars (club_hillclimb, 3.5"));
    std::set<int> bars;
    for (const BarFinding& one : d.sheets.rulings) {
        if (one.finding.rule != "bend_radius") continue;
        bars.insert(one.member);
        const Piece& bend = d.cage.members[static_cast<std::size_t>(one.member)].line.pieces()[1];
        ASSERT_TRUE(one.finding.value);
        EXPECT_NEAR(*one.finding.value,
                    bend.radius_mm / d.cage.members[static_cast<std::size_t>(one.member)].section.od_mm,
                    1e-9);
    }
    EXPECT_EQ(bars.size(), d.sheets.bends.size()) << "each bar for itself, not one for all";
}

TEST(TheBendSheets, SayHowManyToMakeWhereASpareIsWanted) {
    Demo d = demo("hillclimb_saloon");
    d.sheets.job = &d.job;
    d.sheets.cage = &d.cage;
    d.job.cage.spares.clear();
    EXPECT_THAT(wordsOf(bendPages(d.head, d.sheets)), Not(HasSubstr("to spare")));
    d.job.cage.spares = {{"main_hoop", 1}};
    EXPECT_THAT(wordsOf(bendPages(d.head, d.sheets)), HasSubstr("; make 2 of it, one to spare"));
}

TEST(TheTrimSheet, StandsInPlaceOfABendSheetForATubeBoughtBent) {
    Demo d = demo("hillclimb_saloon");
    Member* hoop = nullptr;
    for (Member& member : d.job.cage.members)
        if (member.id == "main_hoop") hoop = &member;
    ASSERT_NE(hoop, nullptr);
    const BendTable table =
        bendTable(d.cage.members[static_cast<std::size_t>(d.cage.member("main_hoop"))].line);
    BentShape shape;
    for (const BendRow& row : table.rows) {
        shape.bend_radius_mm = row.radius_mm;
        shape.straights_mm.push_back(row.straight_before_mm);
        shape.bends.push_back({row.angle_rad, shape.bends.empty() ? 0 : row.rotation_rad});
    }
    shape.straights_mm.push_back(table.last_straight_mm);
    // Longer by 120 and by 80 than as laid.
    shape.straights_mm.front() += 120;
    shape.straights_mm.back() += 80;
    hoop->bent = shape;
    d.cage = resolve(d.job);
    d.sheets = shopSheets(d.job, d.cage);
    const std::string words = wordsOf(bendPages(d.head, d.sheets));
    EXPECT_THAT(words, HasSubstr("Main hoop, trim and cope"));
    EXPECT_THAT(words, Not(HasSubstr("Main hoop, on the floor")));
    const auto& saw = d.cage.members[static_cast<std::size_t>(d.cage.member("main_hoop"))].bought->saw_mm;
    EXPECT_GT(saw[0], 100);
    EXPECT_THAT(words, HasSubstr("Saw " + showLength(saw[0], {LengthUnit::mm}) + " off the leg at A"));
    EXPECT_THAT(words, HasSubstr("Saw " + showLength(saw[1], {LengthUnit::mm}) + " off the leg at B"));
}

// The figures a shop gets as CSV, walked forward with nothing else known: start and way of end A.
TEST(TheBendFigures, OfTheCsvWalkForwardOntoTheModel) {
    int bars = 0;
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        const auto rows = bendRows(d.sheets);
        const auto column = [&](const std::string& what) {
            const auto at = std::find(rows[0].begin(), rows[0].end(), what);
            EXPECT_NE(at, rows[0].end()) << what;
            return static_cast<std::size_t>(at - rows[0].begin());
        };
        for (const BendSheet& sheet : d.sheets.bends) {
            const ResolvedMember& bar = d.cage.members[static_cast<std::size_t>(sheet.member)];
            BendTable table;
            table.rows.resize(sheet.bends.size());
            double blank = 0;
            for (const auto& row : rows) {
                if (row[0] != bar.id) continue;
                const auto number = [&](const std::string& what) { return *plainNumber(row[column(what)]); };
                BendRow& bend = table.rows[static_cast<std::size_t>(number("bend")) - 1];
                constexpr double kDegree = std::numbers::pi / 180;
                bend.straight_before_mm = number("straight_before_mm");
                bend.rotation_rad = number("rotation_deg") * kDegree;
                bend.angle_rad = number("angle_deg") * kDegree;
                bend.radius_mm = number("radius_mm");
                bend.arc_mm = bend.radius_mm * bend.angle_rad;
                bend.mark_start_mm = number("starts_mm");
                bend.mark_end_mm = number("ends_mm");
                blank = number("blank_mm");
            }
            table.last_straight_mm = blank - table.rows.back().mark_end_mm;
            table.developed_mm = blank;
            const Piece& first = bar.line.pieces()[1];
            const double from_a =
                (first.start - bar.line.start()).norm() - table.rows.front().straight_before_mm;
            const Vec3 start = bar.line.start() + from_a * bar.line.tangent(0);
            const Centreline walked =
                walkBendTable(table, start, bar.line.tangent(0), (first.centre - first.start).normalized());
            for (std::size_t i = 0; i < walked.pieces().size(); ++i) {
                if (walked.pieces()[i].kind != Piece::Kind::bend) continue;
                EXPECT_LT((walked.pieces()[i].start - bar.line.pieces()[i].start).norm(), 1e-6) << bar.id;
                EXPECT_LT((walked.pieces()[i].end() - bar.line.pieces()[i].end()).norm(), 1e-6) << bar.id;
            }
            ++bars;
        }
    }
    EXPECT_GE(bars, 6);
}

/// The frame of a sheet of a floor layout, and its column and row.
struct Tile {
    Vec2 corner = Vec2::Zero(), size = Vec2::Zero();
    int column = 0, row = 0;
};
Tile tileOf(const Drawing& page) {
    Tile tile;
    for (const DrawnPath& path : page.paths) {
        if (path.line != DrawnLine::hair || !path.closed) continue;
        tile.corner = path.points[0];
        tile.size = path.points[2] - path.points[0];
    }
    const auto number = [&](const std::string& after) {
        const std::string rest = page.title.substr(page.title.find(after) + after.size());
        return static_cast<int>(*plainNumber(rest.substr(0, rest.find_first_not_of("0123456789"))));
    };
    tile.column = number("column ");
    tile.row = number("row ");
    return tile;
}

TEST(TheFloorLayout, OnManySheetsIsTheTubeInFullSizeOnceTheyAreLaidTogether) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        ShopSheets one = d.sheets;
        one.bends.resize(1);
        const std::vector<Drawing> pages = floorPages(d.head, one);
        ASSERT_GT(pages.size(), 6u);
        const Drawing whole = floorDrawing(one, one.bends[0]);
        std::vector<Vec2> outline = whole.paths[0].points;
        outline.push_back(outline.front());
        double within = 0;
        std::vector<std::vector<Vec2>> laid;
        for (std::size_t i = 1; i < pages.size(); ++i) {
            const Tile tile = tileOf(pages[i]);
            const Vec2 low((tile.column - 1) * tile.size.x(), (tile.row - 1) * tile.size.y());
            int crosses = 0;
            for (const DrawnPath& path : pages[i].paths) {
                for (const Vec2& p : path.points) {
                    EXPECT_TRUE(p.x() > 6 && p.y() > 6 && p.x() < pages[i].size_mm.x() - 6 &&
                                p.y() < pages[i].size_mm.y() - 6)
                        << pages[i].title;
                }
                crosses += path.line == DrawnLine::mark && path.points.size() == 2 &&
                                   std::abs((path.points[1] - path.points[0]).norm() - 8) < 1e-9
                               ? 1
                               : 0;
                // The bar of 100 mm stands over the frame, by more than paths run past it.
                if (path.line != DrawnLine::part || path.points[0].y() < tile.corner.y() - 4.5) continue;
                std::vector<Vec2> moved;
                for (const Vec2& p : path.points) moved.push_back(p - tile.corner + low);
                for (const Vec2& p : moved) within = std::max(within, offLine(p, outline));
                laid.push_back(std::move(moved));
            }
            EXPECT_EQ(crosses, 8) << pages[i].title << ": two strokes at each corner";
        }
        EXPECT_LT(within, 1e-6) << name;
        double missing = 0;
        for (const Vec2& p : outline) {
            double best = 1e9;
            for (const auto& path : laid) best = std::min(best, offLine(p, path));
            missing = std::max(missing, best);
        }
        EXPECT_LT(missing, 4.1) << "all of it is on one sheet or another";
    }
}

TEST(TheFloorLayout, KeepsTheWordsOfEveryPointWholeOnTheSheetThePointIsOn) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        for (const BendSheet& sheet : d.sheets.bends) {
            ShopSheets one = d.sheets;
            one.bends = {sheet};
            const std::vector<Drawing> pages = floorPages(d.head, one);
            const std::size_t wanted = floorDrawing(one, sheet).texts.size();
            std::size_t found = 0;
            for (std::size_t i = 1; i < pages.size(); ++i) {
                const Tile tile = tileOf(pages[i]);
                for (const DrawnText& text : pages[i].texts) {
                    if (text.points != 14) continue;  // the words beside the tube; the head is strong
                    if (text.strong) continue;
                    ++found;
                    const double half = wordsWidth_mm(text.words, text.points) / 2;
                    EXPECT_EQ(text.align, DrawnText::Align::centre);
                    EXPECT_GE(text.at.x() - half, tile.corner.x()) << pages[i].title << ": " << text.words;
                    EXPECT_LE(text.at.x() + half, tile.corner.x() + tile.size.x())
                        << pages[i].title << ": " << text.words;
                    EXPECT_GE(text.at.y() - 3.6, tile.corner.y()) << pages[i].title << ": " << text.words;
                    EXPECT_LE(text.at.y() + 1, tile.corner.y() + tile.size.y())
                        << pages[i].title << ": " << text.words;
                }
            }
            EXPECT_EQ(found, wanted) << pages[0].title << ": each once";
        }
    }
}

TEST(TheWraps, OnARollAreAPageEachWithItsBarsAndItsWholeLines) {
    Demo d = demo("mile_pickup");
    d.head.strip = true;
    const std::vector<Drawing> strips = wrapStrips(d.head, d.sheets);
    EXPECT_GT(strips.size(), 30u);
    const std::vector<Drawing> figures = copePages(d.head, d.sheets);
    EXPECT_EQ(figures.size(), d.sheets.copes.size()) << "one page of figures a tube, and no wraps on it";
    for (const Drawing& strip : strips) {
        int hundred = 0, four = 0, cut = 0;
        for (const DrawnPath& path : strip.paths) {
            cut += path.line == DrawnLine::cut;
            for (const Vec2& p : path.points) {
                EXPECT_TRUE(p.minCoeff() > 1 && p.x() < strip.size_mm.x() && p.y() < strip.size_mm.y());
            }
            const double length = (path.points.back() - path.points.front()).norm();
            hundred += path.line == DrawnLine::part && std::abs(length - 100) < 1e-9;
            four += path.line == DrawnLine::part && std::abs(length - 101.6) < 1e-9;
        }
        EXPECT_EQ(cut, 1) << strip.title;
        EXPECT_EQ(hundred, 1) << strip.title;
        EXPECT_EQ(four, 1) << strip.title;
    }
    std::vector<std::string> names;
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {SheetKind::copes})) names.push_back(file.name);
    EXPECT_THAT(names, testing::IsSupersetOf({"copes.pdf", "wraps.pdf"}));
}

#ifdef HOOPWRIGHT_PDFTOTEXT
TEST(TheSheets, GiveBackEveryWordTheyWereSetFrom) {
    const Demo& d = demo("hillclimb_saloon");
    ShopSheets few = d.sheets;
    few.copes.resize(3);
    for (const auto& pages : {bendPages(d.head, few), copePages(d.head, few), orderPages(d.head, few)}) {
        // Lines of one row, one large and one small, are woven into each other as they lie on the page.
        const QByteArray pdf = pdfOf(pages, "words");
        std::string found = textOfPdf(pdf) + textOfPdf(pdf, "-raw");
        std::erase_if(found, [](char c) { return c == ' ' || c == '\n' || c == '\f'; });
        for (const Drawing& page : pages) {
            for (const DrawnText& text : page.texts) {
                std::string wanted = text.words;
                std::erase(wanted, ' ');
                // A label of a few signs may be woven into its neighbours.
                if (wanted.size() < 6) continue;
                EXPECT_THAT(found, HasSubstr(wanted)) << page.title;
            }
        }
    }
}

TEST(TheSheets, CarryEveryFontTheyAreSetIn) {
    const Demo& d = demo("mile_pickup");
    for (const SheetKind kind : sheetKinds()) {
        const std::vector<Drawing> pages = pagesOf(kind, d.head, d.sheets);
        ASSERT_FALSE(pages.empty()) << kindWord(kind);
        const QStringList fonts = fontsOfPdf(pdfOf(pages, "fonts"));
        ASSERT_GE(fonts.size(), 1) << kindWord(kind);
        // emb, sub, uni: it is in the file, and has a way back to words.
        for (const QString& font : fonts)
            EXPECT_TRUE(font.contains(QRegularExpression(QStringLiteral("\\byes\\s+(yes|no)\\s+yes\\s"))))
                << font.toStdString();
    }
}
#endif

#ifdef HOOPWRIGHT_DXFLIB
/// What dxflib finds in a file: lines of a layer as points.
class DxfCollector : public DL_CreationAdapter {
public:
    void addPolyline(const DL_PolylineData&) override {
        paths_.emplace_back(attributes.getLayer(), std::vector<Vec2>());
    }
    void addVertex(const DL_VertexData& vertex) override {
        if (!paths_.empty()) paths_.back().second.emplace_back(vertex.x, vertex.y);
    }
    /// A path of two points is a line.
    void addLine(const DL_LineData& line) override {
        paths_.emplace_back(attributes.getLayer(), std::vector<Vec2>{{line.x1, line.y1}, {line.x2, line.y2}});
    }
    std::vector<std::vector<Vec2>> on(const std::string& layer) const {
        std::vector<std::vector<Vec2>> out;
        for (const auto& [name, points] : paths_)
            if (name == layer) out.push_back(points);
        return out;
    }

private:
    std::vector<std::pair<std::string, std::vector<Vec2>>> paths_;
};

// dxflib 3.26, another's reader of the format: lines stand where they were drawn, y up.
TEST(TheDxf, IsReadByAnotherReaderPointForPoint) {
    const Demo& d = demo("hillclimb_saloon");
    std::vector<Drawing> drawings = {floorDrawing(d.sheets, d.sheets.bends[0])};
    for (const CopeSheet& sheet : d.sheets.copes)
        if (!sheet.ends[0].square && sheet.ends[0].trouble.empty())
            drawings.push_back(wrapDrawing(d.sheets, sheet, 0));
    const QTemporaryDir folder;
    const std::string file = folder.filePath(QStringLiteral("in.dxf")).toStdString();
    for (const Drawing& drawing : drawings) {
        {
            std::ofstream out(file, std::ios::binary);
            const QByteArray bytes = dxfOf(drawing);
            out.write(bytes.data(), bytes.size());
        }
        DL_Dxf reader;
        DxfCollector found;
        ASSERT_TRUE(reader.in(file, &found));
        for (const DrawnLine line : {DrawnLine::cut, DrawnLine::bore, DrawnLine::grind, DrawnLine::part}) {
            std::vector<std::vector<Vec2>> drawn;
            for (const DrawnPath& path : drawing.paths)
                if (path.line == line) drawn.push_back(path.points);
            const auto read = found.on(lineWord(line));
            ASSERT_EQ(read.size(), drawn.size()) << drawing.title << " " << lineWord(line);
            for (std::size_t i = 0; i < read.size(); ++i) {
                ASSERT_EQ(read[i].size(), drawn[i].size());
                for (std::size_t k = 0; k < read[i].size(); ++k) {
                    EXPECT_NEAR(read[i][k].x(), drawn[i][k].x(), 1e-4);
                    EXPECT_NEAR(read[i][k].y(), drawing.size_mm.y() - drawn[i][k].y(), 1e-4);
                }
            }
        }
    }
    EXPECT_GT(drawings.size(), 10u);
}
#endif

}  // namespace
