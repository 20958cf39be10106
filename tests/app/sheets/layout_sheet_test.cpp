// The layout's paper: its views are to scale, and the pinned dimensions stand on it as they read.
#include <gmock/gmock.h>

#include <cmath>

#include "app/sheets/sheet_files.h"
#include "core/base/text.h"
#include "core/model/measure_dimension.h"
#include "core/model/resolve.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

struct Pinned {
    explicit Pinned(const std::string& demo) {
        job = *readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/" + demo + ".yaml").job;
        Landing on;
        on.host = "main_hoop";
        on.by = Landing::By::fraction;
        on.value = 0.5;
        PinnedDimension height;
        height.id = "hoop_top";
        height.kind = PinnedDimension::Kind::height;
        height.from = on;
        PinnedDimension gap;
        gap.id = "hoop_to_dash";
        gap.name = "Hoop to dash bar";
        gap.kind = PinnedDimension::Kind::centres;
        gap.bar_a = "main_hoop";
        gap.bar_b = "dash_bar";
        PinnedDimension lost = gap;
        lost.id = "lost";
        lost.bar_b = "no_such_bar";
        job.cage.dimensions = {height, gap, lost};
        cage = resolve(job);
        sheets = shopSheets(job, cage);
        head = {job.cage.name, "", "1", "", Paper::a4, job.cage.unit};
    }
    Job job;
    CageGeometry cage;
    ShopSheets sheets;
    SheetHead head;
};

std::string wordsOn(const std::vector<Drawing>& pages) {
    std::string words;
    for (const Drawing& page : pages)
        for (const DrawnText& text : page.texts) words += text.words + "\n";
    return words;
}

TEST(LayoutSheet, ViewsAreToScaleAndOnThePage) {
    for (const char* name : {"hillclimb_saloon", "mile_pickup"}) {
        const Pinned demo(name);
        const std::vector<Drawing> pages = layoutPages(demo.head, demo.sheets);
        ASSERT_EQ(pages.size(), 2u) << name;
        std::string under;
        for (const DrawnText& text : pages.front().texts)
            if (text.words.find("1:") != std::string::npos) under = text.words;
        const double scale = std::stod(under.substr(under.find("1:") + 2));
        EXPECT_LE(scale, 20) << "a cage fills the paper";
        // Three views of every tube; the height's line is as long as it reads.
        std::size_t tubes = 0;
        double longest = 0;
        for (const Drawing& page : pages) {
            for (const DrawnPath& path : page.paths) {
                if (path.line == DrawnLine::part) ++tubes;
                for (const Vec2& p : path.points) {
                    EXPECT_GE(p.minCoeff(), 0);
                    EXPECT_LE(p.x(), page.size_mm.x());
                    EXPECT_LE(p.y(), page.size_mm.y());
                }
                if (path.line == DrawnLine::mark && path.points.size() == 2)
                    longest = std::max(longest, (path.points[0] - path.points[1]).norm() * scale);
            }
        }
        EXPECT_EQ(tubes, 3 * demo.cage.members.size());
        const double high = measureDimension(demo.job, demo.cage, demo.job.cage.dimensions[0]).value;
        const double apart = measureDimension(demo.job, demo.cage, demo.job.cage.dimensions[1]).value;
        EXPECT_NEAR(longest, std::max(high, apart), 0.05 * apart)
            << "a line in space is seen a little shorter";
        EXPECT_LE(longest, std::max(high, apart) + 1e-6);
    }
}

TEST(LayoutSheet, PinnedDimensionsStandOnItAsTheyRead) {
    const Pinned demo("hillclimb_saloon");
    const std::string words = wordsOn(layoutPages(demo.head, demo.sheets));
    for (std::size_t i = 0; i < 2; ++i) {
        const PinnedDimension& pinned = demo.job.cage.dimensions[i];
        EXPECT_THAT(words, HasSubstr(shownName(pinned, demo.cage)));
        EXPECT_THAT(words, HasSubstr(showLength(measureDimension(demo.job, demo.cage, pinned).value,
                                                {LengthUnit::mm})));
    }
    EXPECT_THAT(words, HasSubstr("not there"));
    const auto rows = layoutRows(demo.sheets);
    ASSERT_EQ(rows.size(), 4u);
    EXPECT_EQ(rows[2][1], "Hoop to dash bar");
    EXPECT_EQ(rows[2][3], shortest(measureDimension(demo.job, demo.cage, demo.job.cage.dimensions[1]).value));
    EXPECT_EQ(rows[3][3], "");
    Pinned none("hillclimb_saloon");
    none.job.cage.dimensions.clear();
    const std::string without = wordsOn(layoutPages(none.head, none.sheets));
    EXPECT_THAT(without, HasSubstr("None is pinned"));
}

}  // namespace
