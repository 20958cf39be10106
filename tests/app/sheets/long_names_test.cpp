// Papers of jobs that are not like the demos: names no head has room for, signs of other tongues, no bars.
#include <gmock/gmock.h>

#include "app/sheets/one_line.h"
#include "tests/app/sheets/read_back.h"

using namespace hoopwright;
using namespace hoopwright::read_back;
using testing::HasSubstr;

namespace {

const std::string kLong =
    "Bügel <Ø & \"Łódź\"> \\ Σ of a name so long that no head of any paper could ever hold it in one line, "
    "nor "
    "the foot of one, without it running over what stands beside it";

struct NamedJob {
    Job job;
    CageGeometry cage;
    ShopSheets sheets;
    SheetHead head;
    NamedJob(const std::string& demo_name, const std::string& name, const std::string& shop) {
        const Demo& d = demo(demo_name);
        job = d.job;
        job.cage.name = name;
        for (Member& member : job.cage.members)
            if (member.id == "main_hoop") member.name = "Überrollbügel, " + name;
        cage = resolve(job);
        sheets = shopSheets(job, cage, {});
        head = d.head;
        head.job = name;
        head.shop = shop;
    }
};

/// What a line of words takes of the page, from left to right.
std::pair<double, double> spanOf(const DrawnText& text) {
    const double wide = wordsWidth_mm(text.words, text.points, text.strong);
    const double left = text.align == DrawnText::Align::left     ? text.at.x()
                        : text.align == DrawnText::Align::centre ? text.at.x() - wide / 2
                                                                 : text.at.x() - wide;
    return {left, left + wide};
}

void expectHeadsApart(const std::vector<Drawing>& pages) {
    ASSERT_FALSE(pages.empty());
    for (const Drawing& page : pages) {
        std::vector<const DrawnText*> head;
        for (const DrawnText& text : page.texts) {
            const auto [left, right] = spanOf(text);
            EXPECT_GE(left, 4) << page.title.substr(0, 40) << ": " << text.words;
            EXPECT_LE(right, page.size_mm.x() - 4) << page.title.substr(0, 40) << ": " << text.words;
            if (text.at.y() < 32) head.push_back(&text);
        }
        for (std::size_t i = 0; i < head.size(); ++i) {
            for (std::size_t k = 0; k < i; ++k) {
                if (std::abs(head[i]->at.y() - head[k]->at.y()) > 1) continue;
                const auto a = spanOf(*head[i]), b = spanOf(*head[k]);
                EXPECT_TRUE(a.second < b.first || b.second < a.first)
                    << head[i]->words << " lies on " << head[k]->words;
            }
        }
    }
}

TEST(OneLine, KeepsWhatHasRoomAndSaysWhatIsCut) {
    const auto wide = [](const QString& words) { return 2.0 * static_cast<double>(words.size()); };
    const auto cut = [&](const char* words, double room) {
        return onOneLine(QString::fromUtf8(words), room, wide).toStdString();
    };
    EXPECT_EQ(cut("Hillclimb saloon", 32), "Hillclimb saloon");
    EXPECT_EQ(cut("Hillclimb saloon", 31), "Hillclimb …");
    EXPECT_EQ(cut("Überrollbügel", 16), "Überro …") << "one word is cut between signs";
    EXPECT_EQ(cut("", 0), "");
    EXPECT_EQ(cut("Saloon", 1), "…");
    // A sign outside the first plane takes two units: it is left whole or left out.
    EXPECT_EQ(cut("ab\xF0\x9F\x94\xA7"
                  "cd",
                  11),
              "ab …");
}

TEST(TheSheets, KeepALongNameOffTheShopsAndOnThePage) {
    for (const std::string& name : kDemos) {
        const NamedJob d(name, kLong, "Demo shop, " + kLong);
        expectHeadsApart(layoutPages(d.head, d.sheets));
        expectHeadsApart(bendPages(d.head, d.sheets));
        expectHeadsApart(orderPages(d.head, d.sheets));
        std::vector<Drawing> tiles = floorPages(d.head, d.sheets);
        tiles.resize(std::min<std::size_t>(tiles.size(), 8));
        expectHeadsApart(tiles);
        expectHeadsApart(wrapStrips(d.head, d.sheets));
    }
}

TEST(TheSheets, KeepAShortNameWhole) {
    const NamedJob d("hillclimb_saloon", "Łódź & Σ <2>", "Shop");
    for (const std::vector<Drawing>& pages :
         {layoutPages(d.head, d.sheets), bendPages(d.head, d.sheets), wrapStrips(d.head, d.sheets)}) {
        ASSERT_FALSE(pages.empty());
        for (const Drawing& page : pages) {
            bool named = false;
            for (const DrawnText& text : page.texts)
                named |= text.words.find("Łódź & Σ <2>") != std::string::npos;
            EXPECT_TRUE(named) << page.title;
        }
    }
}

TEST(TheSheets, WriteSignsOfOtherTonguesSoThatReadersTakeThem) {
    const NamedJob d("hillclimb_saloon", kLong, "Shop");
    int drawings = 0;
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {SheetKind::layout, SheetKind::bends})) {
        EXPECT_TRUE(std::ranges::all_of(file.name, [](char c) { return c > ' ' && c < 127 && c != '/'; }))
            << file.name;
        if (file.name.ends_with(".svg")) {
            QXmlStreamReader xml(file.bytes);
            while (!xml.atEnd()) xml.readNext();
            EXPECT_FALSE(xml.hasError()) << file.name << ": " << xml.errorString().toStdString();
            ++drawings;
        }
        if (file.name.ends_with(".dxf")) {
            // Release 12 knows no encoding but that of the machine that reads it.
            EXPECT_TRUE(std::ranges::all_of(file.bytes, [](char c) {
                return static_cast<unsigned char>(c) < 128;
            })) << file.name;
            ++drawings;
        }
        if (file.name == "bends.csv") {
            EXPECT_THAT(file.bytes.toStdString(), HasSubstr("main_hoop"));
        }
    }
    EXPECT_GE(drawings, 8);
}

TEST(TheSheets, OfAJobWithoutABarSayZeroAndNoNonsense) {
    NamedJob d("mile_pickup", "Nothing yet", "Shop");
    d.job.cage.members.clear();
    d.job.cage.plates.clear();
    d.job.cage.gussets.clear();
    d.job.cage.dimensions.clear();
    d.job.cage.spares.clear();
    d.cage = resolve(d.job);
    d.sheets = shopSheets(d.job, d.cage, {});
    EXPECT_TRUE(d.sheets.bends.empty() && d.sheets.copes.empty() && d.sheets.plates.empty());
    const auto all = sheetKinds();
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {all.begin(), all.end()})) {
        EXPECT_FALSE(file.name.starts_with("wrap_") || file.name.starts_with("floor_")) << file.name;
        if (file.name.ends_with(".pdf") || file.name.ends_with(".svg")) continue;
        EXPECT_FALSE(file.bytes.contains("nan") || file.bytes.contains("inf")) << file.name;
    }
    for (const Drawing& page : layoutPages(d.head, d.sheets)) {
        for (const DrawnPath& path : page.paths)
            for (const Vec2& p : path.points) EXPECT_TRUE(p.allFinite()) << page.title;
    }
    EXPECT_TRUE(bendPages(d.head, d.sheets).empty());
    EXPECT_TRUE(copePages(d.head, d.sheets).empty());
}

}  // namespace
