// The pack of a built cage: readings, inspections, several tables, dates, photographs.
#include <QFile>
#include <QTemporaryDir>
#include <algorithm>
#include <numbers>

#include "app/view/report_file.h"
#include "packed.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

TEST(Pack, WallReadingsStandAtTheirSpot) {
    auto p = packed("hillclimb_saloon");
    p->job.cage.readings = {
        {"main_hoop", "measured_wall", "1.0", 2.44, Dimension::length, "A. Fitter", "2026-03-01", ""},
        {"main_hoop", "gauged_bent_wall", "1.2", 2.13, Dimension::length, "A. Fitter", "2026-03-01", ""},
        {"main_hoop", "gauged_bent_wall", "1.3", 1.9, Dimension::length, "A. Fitter", "2026-03-01", ""}};
    p->make();
    std::map<std::string, std::optional<double>> read;
    for (const PackSpot& spot : p->pack.spots) read[spot.number] = spot.read_mm;
    EXPECT_EQ(read["1.0"], 2.44);
    EXPECT_EQ(read["1.1"], std::nullopt);
    EXPECT_EQ(read["1.2"], 2.13);
    for (const PackSpot& spot : p->pack.spots) {
        EXPECT_EQ(spot.read_by, spot.read_mm ? "A. Fitter" : "");
        // 10 % under 2.5 by the mill, and the bend: 2.25 x 135 / 157.5 = 1.929.
        EXPECT_EQ(spotTrouble(spot), spot.number == "1.3" ? "thinner than the mill's least leaves it" : "");
    }
    const std::string sheet = wordsAbout(packPages(p->head, p->pack, {}), "Wall readings");
    EXPECT_THAT(sheet, HasSubstr("A. Fitter"));
    EXPECT_EQ(p->pack.tubes[0].read_wall_mm, 2.44);
    EXPECT_FALSE(p->pack.tubes[0].wall_of_rack);
}

TEST(Pack, ChangesSinceTheLastInspectionComeFromItsSavedReport) {
    const QTemporaryDir folder;
    auto p = packed("hillclimb_saloon");
    const fs::path at = folder.path().toStdString();
    QFile file(folder.filePath(QStringLiteral("then.json")));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(reportText(summaryOf(p->pack.report)));
    file.close();
    p->job.cage.inspections = {{"2025-03-01", "An inspector", "passed", "then.json", ""},
                               {"2024-03-01", "An inspector", "passed", "gone.json", ""}};
    p->make(at);
    ASSERT_EQ(p->pack.inspections.size(), 2u);
    EXPECT_TRUE(p->pack.inspections[0].trouble.empty());
    EXPECT_TRUE(p->pack.inspections[0].changes.empty());
    EXPECT_THAT(p->pack.inspections[1].trouble, HasSubstr("gone.json"));
    // A brace found too upright: that answer is another now.
    p->job.cage.readings = {{"rear_brace.left", "angle_to_vertical", "side view", 20 * std::numbers::pi / 180,
                             Dimension::angle, "A. Fitter", "2026-03-01", ""}};
    p->make(at);
    bool told = false;
    for (const FindingChange& change : p->pack.inspections[0].changes)
        told = told || (change.subject == "rear_brace.left" && change.is == "fails");
    EXPECT_TRUE(told);
    // A table that was not used then is said in a sentence, not answer by answer.
    p->tables.push_back(
        readRuleTable(fs::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules/saloon_article_253.yaml").table);
    p->make(at);
    const auto& both = p->pack.report.tables;
    ASSERT_EQ(both.size(), 2u);
    const auto of_new = std::ranges::count(p->pack.report.findings, both[1].id, &Finding::table);
    std::string since = wordsAbout(packPages(p->head, p->pack, {}), "Dates");
    std::ranges::replace(since, '\n', ' ');
    EXPECT_THAT(since,
                HasSubstr("was not used then: all its " + std::to_string(of_new) + " answers are new."));
    EXPECT_THAT(since, testing::Not(HasSubstr("not asked")));
    EXPECT_THAT(since, HasSubstr("Rear brace")) << "what changed in the other is told";
    p->tables.pop_back();
    p->make(at);
    const std::string words = wordsAbout(packPages(p->head, p->pack, {}), "As built");
    EXPECT_THAT(words, HasSubstr("47.6"));   // the plan
    EXPECT_THAT(words, HasSubstr("-27.6"));  // the drift
}

TEST(Pack, WithSeveralTablesHeadFootAndChecklistStayReadable) {
    auto p = packed("hillclimb_saloon");
    p->tables.push_back(
        readRuleTable(fs::path(HOOPWRIGHT_SOURCE_DIR) / "data/rules/saloon_article_253.yaml").table);
    p->make();
    p->head.tables.clear();
    for (const RuleTableInfo& table : p->pack.report.tables)
        p->head.tables += table.title + ", " + table.edition + "; ";
    const auto pages = packPages(p->head, p->pack, {});
    int rows = 0, findings = 0;
    for (const PackPage& page : pages) {
        const DrawnText *revision = nullptr, *number = nullptr;
        for (const DrawnText& text : page.words.texts) {
            const double wide = wordsWidth_mm(text.words, text.points, text.strong);
            if (text.align == DrawnText::Align::left) {
                EXPECT_LE(text.at.x() + wide, page.words.size_mm.x() - 5) << text.words;
            }
            if (text.words.starts_with("Revision")) revision = &text;
            if (text.words.starts_with("Page ")) number = &text;
            rows += text.words.starts_with("can't tell");
        }
        ASSERT_TRUE(revision && number);
        EXPECT_LT(revision->at.x() + wordsWidth_mm(revision->words, revision->points),
                  number->at.x() - wordsWidth_mm(number->words, number->points));
    }
    const std::string words = wordsAbout(pages, p->pack.report.tables[1].title);
    for (const Finding& f : p->pack.report.findings) {
        findings += f.answer == Answer::cannot_tell;
        if (f.answer == Answer::cannot_tell && !f.subject_name.empty()) {
            EXPECT_THAT(words, HasSubstr(f.subject_name.substr(0, f.subject_name.find(' '))));
        }
    }
    EXPECT_GT(findings, 20);
    EXPECT_LT(rows, findings / 2) << "what is lacking for many bars is said once";
    for (const int i : p->pack.pictured()) {
        EXPECT_NE(p->pack.report.findings[static_cast<std::size_t>(i)].answer, Answer::cannot_tell);
    }
}

TEST(Pack, CoverAndDrawingsAgreeOnTheExtents) {
    for (const std::string& name : kDemoPacks) {
        const Packed& p = demoPack(name);
        const auto& pages = demoPages(name);
        const LengthStyle style{p.head.unit};
        const std::string cover = wordsOf(pages[0]), left = wordsOf(pages[1]), front = wordsOf(pages[2]);
        for (const std::size_t axis : {0u, 1u, 2u}) {
            const std::string words = showLength(p.pack.with_plates_mm[axis], style);
            EXPECT_THAT(cover, HasSubstr(words));
            EXPECT_THAT(axis == 1 ? front : left, HasSubstr(words));
            EXPECT_GE(p.pack.with_plates_mm[axis], p.pack.outside_mm[axis]);
        }
    }
}

TEST(Pack, DatesStandByWhatRunsOutFirst) {
    auto p = packed("hillclimb_saloon");
    p->job.cage.papers = {{"Seat", "S1", "2024-01-01", "2029-12-31", ""},
                          {"Log book", "L7", "2020-01-01", "", ""},
                          {"Belts", "B2", "2021-01-01", "2026-02-28", ""}};
    p->make();
    std::vector<std::string> order;
    for (const PackDate& one : p->pack.dates) order.push_back(one.what);
    EXPECT_THAT(order, ElementsAre("Belts", "Seat", "Log book"));
    EXPECT_EQ(p->pack.dates[0].days_left, -2);  // 28 February to 2 March 2026
    EXPECT_THAT(wordsAbout(packPages(p->head, p->pack, {}), "Dates"), HasSubstr("RUN OUT 2 days ago"));
}

TEST(Pack, APhotoThatIsNotThereIsSaidSo) {
    auto p = packed("hillclimb_saloon");
    const auto asked = std::ranges::find_if(p->pack.report.findings, [](const Finding& f) {
        return f.answer == Answer::ask_person && f.subject.empty();
    });
    ASSERT_NE(asked, p->pack.report.findings.end());
    p->job.cage.answers = {
        {asked->table, asked->rule, "", true, "A. Fitter", "2026-03-01", "", "/folder/of_mine/no.jpg"}};
    p->make();
    ASSERT_EQ(p->pack.photos.size(), 1u);
    EXPECT_FALSE(p->pack.photos[0].there);
    const std::string words = wordsAbout(packPages(p->head, p->pack, {}), "Photographs");
    EXPECT_THAT(words, HasSubstr("not there"));
    EXPECT_THAT(words, HasSubstr("(no.jpg)"));
    EXPECT_THAT(words, testing::Not(HasSubstr("of_mine")));
}

}  // namespace
}  // namespace hoopwright
