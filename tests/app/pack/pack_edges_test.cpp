// Packs of jobs unlike the demos: nothing built yet, a name no head has room for, inches, a hand that says
// stop.
#include "core/base/text.h"
#include "tests/app/pack/packed.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::Not;

std::string allWords(const std::vector<PackPage>& pages) {
    std::string out;
    for (const PackPage& page : pages) out += wordsOf(page);
    return out;
}

TEST(PackOfNothing, SaysItHasNoTubesAndThatNothingMeetsForWantOfThem) {
    auto p = packed("hillclimb_saloon");
    p->job.cage.members.clear();
    p->job.cage.plates.clear();
    p->job.cage.gussets.clear();
    p->job.cage.dimensions.clear();
    p->make();
    EXPECT_TRUE(p->pack.tubes.empty() && p->pack.joints.empty() && p->pack.spots.empty());
    const std::vector<PackPage> pages = packPages(p->head, p->pack, {});
    ASSERT_FALSE(pages.empty());
    EXPECT_THAT(allWords(pages), HasSubstr("0 tubes, 0 bends, 0 welded ends, 0 plates"));
    for (const PackPage& page : pages) {
        for (const DrawnPath& path : page.words.paths)
            for (const Vec2& at : path.points) ASSERT_TRUE(at.allFinite()) << page.words.title;
        for (const DrawnText& text : page.words.texts) ASSERT_TRUE(text.at.allFinite()) << text.words;
    }
    EXPECT_THAT(allWords(pages), HasSubstr("There is no bar and no plate to draw yet."));
    EXPECT_THAT(allWords(pages), Not(HasSubstr("From the front")));
    // A cage that is not there is no cage that meets: a required hoop fails.
    EXPECT_TRUE(std::ranges::any_of(p->pack.report.findings,
                                    [](const Finding& f) { return f.answer == Answer::fails; }));
    EXPECT_FALSE(p->pack.report.allMeet());
}

TEST(PackRowsOf, EveryTableAreAsWideAsTheirHeadWithOrWithoutACage) {
    auto empty = packed("mile_pickup");
    empty->job.cage.members.clear();
    empty->job.cage.gussets.clear();
    empty->make();
    for (const Packed* p : {static_cast<const Packed*>(empty.get()), &demoPack("mile_pickup")}) {
        for (const auto& rowsOf : {tubeRows, weldRows, plateRows, wallRows, clearanceRows, beltRows,
                                   checklistRows, asBuiltRows, dateRows, changeRows}) {
            const PackRows rows = rowsOf(p->pack);
            ASSERT_FALSE(rows.empty());
            for (const auto& row : rows) EXPECT_EQ(row.size(), rows[0].size()) << rows[0][0];
        }
    }
    EXPECT_EQ(tubeRows(empty->pack).size(), 1u) << "the head alone";
    EXPECT_EQ(weldRows(demoPack("mile_pickup").pack).size(),
              1 + 2 * demoPack("mile_pickup").cage.members.size());
}

TEST(PackRowsOf, AnInchJobAreInMillimetres) {
    // The hoop of the pickup: 1-5/8 in, .083 in wall; its corners 68.4 and 51.6 in apart.
    const PackRows rows = tubeRows(demoPack("mile_pickup").pack);
    const auto column = [&](const char* name) {
        const auto at = std::find(rows[0].begin(), rows[0].end(), name);
        EXPECT_NE(at, rows[0].end()) << name;
        return static_cast<std::size_t>(at - rows[0].begin());
    };
    ASSERT_GT(rows.size(), 1u);
    EXPECT_NEAR(plainNumber(rows[1][column("od_mm")]).value_or(0), 41.275, 1e-9);
    EXPECT_NEAR(plainNumber(rows[1][column("wall_mm")]).value_or(0), 2.1082, 1e-9);
}

TEST(PackHeads, OfALongNameStayOffTheShopsAndOnThePaper) {
    auto p = packed("hillclimb_saloon");
    p->job.cage.name =
        "Bügel <Ø & \"Łódź\"> of a name so long that no head of any paper could ever hold it in one line of "
        "words without running over what stands beside it";
    p->make();
    p->head.job = p->job.cage.name;
    p->head.shop = "Demo shop";
    const std::vector<PackPage> pages = packPages(p->head, p->pack, {});
    ASSERT_GT(pages.size(), 5u);
    for (const PackPage& page : pages) {
        double shop_left = 1e9, name_right = 0;
        for (const DrawnText& text : page.words.texts) {
            if (text.at.y() > 30) continue;
            const double wide = wordsWidth_mm(text.words, text.points, text.strong);
            if (text.words == "Demo shop") shop_left = text.at.x() - wide;
            if (text.align != DrawnText::Align::left) continue;
            EXPECT_LE(text.at.x() + wide, page.words.size_mm.x() - 12) << text.words;
            if (text.words.starts_with("Inspector's pack")) name_right = text.at.x() + wide;
        }
        EXPECT_GT(name_right, 0);
        EXPECT_LT(name_right, shop_left);
    }
}

TEST(PackOfASmallCage, HasAScaleBarThatStaysOnThePaperAndSaysItsTrueLength) {
    // 345 wide and 322 high: on one page 1:4, on the other, two views beside each other on 156 mm, 1:5. A bar
    // of 500 mm would leave its words no room.
    auto p = packed("hillclimb_saloon");
    p->job.cage.members.resize(1);
    p->job.cage.plates.clear();
    p->job.cage.gussets.clear();
    p->job.cage.dimensions.clear();
    Member& hoop = p->job.cage.members[0];
    hoop.path = {{FixedPoint{{0, 150, 0}}, {}},
                 {FixedPoint{{0, 150, 300}}, {}},
                 {FixedPoint{{0, -150, 300}}, {}},
                 {FixedPoint{{0, -150, 0}}, {}}};
    p->make();
    std::vector<std::string> bars;
    for (const PackPage& page : packPages(p->head, p->pack, {})) {
        for (const DrawnText& text : page.words.texts) {
            if (text.words.find("this bar is ") == std::string::npos) continue;
            bars.push_back(text.words);
            const double right = text.at.x() + wordsWidth_mm(text.words, text.points, text.strong);
            EXPECT_LE(right, page.words.size_mm.x() - 13) << text.words;
        }
    }
    EXPECT_THAT(
        bars, testing::UnorderedElementsAre("1:4; this bar is 100 mm of the cage, and 25.0 mm on this page",
                                            "1:5; this bar is 100 mm of the cage, and 20.0 mm on this page"));
}

TEST(PackOfACage, StoppedOnceIsNotAskedAgain) {
    const Packed& p = demoPack("hillclimb_saloon");
    int asked = 0;
    EXPECT_TRUE(packFiles(p.head, p.pack, [&](int, int, std::string_view) { return ++asked < 2; }).empty());
    EXPECT_EQ(asked, 2);
}

TEST(Dates, ThatAreNoDaysAreNotCounted) {
    // 2028 is a leap year, 2027 is none (Gregorian calendar).
    EXPECT_EQ(daysLeft("2028-03-01", "2028-02-28"), 2);
    EXPECT_EQ(daysLeft("2027-03-01", "2027-02-28"), 1);
    EXPECT_EQ(daysLeft("2027-01-01", "2026-12-31"), 1);
    EXPECT_EQ(daysLeft("2026-02-28", "2026-03-02"), -2);
    for (const char* no_day : {"", "soon", "2027-02-29", "2027-13-01", "2027-00-10", "2027-1-1"})
        EXPECT_FALSE(daysLeft(no_day, "2026-03-02")) << no_day;
    EXPECT_EQ(timeLeftWords(0), "runs out today");
    EXPECT_EQ(timeLeftWords({}), "");
}

}  // namespace
}  // namespace hoopwright
