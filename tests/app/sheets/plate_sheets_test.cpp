// Plates for the cutting table: the files read back by others' readers and measured.
#include "app/sheets/plate_sheets.h"

#include <gmock/gmock.h>

#include <numbers>

#include "tests/app/sheets/read_back.h"

using namespace hoopwright;
using namespace hoopwright::read_back;
using testing::HasSubstr;

namespace {

/// Circles of one layer of a DXF: middle and radius.
std::vector<std::pair<Vec2, double>> dxfCircles(const QByteArray& dxf, const QByteArray& layer) {
    const QList<QByteArray> lines = dxf.split('\n');
    std::vector<std::pair<Vec2, double>> out;
    QByteArray entity, on;
    for (int i = 0; i + 1 < lines.size(); i += 2) {
        const int code = lines[i].trimmed().toInt();
        const QByteArray value = lines[i + 1].trimmed();
        if (code == 0) entity = value;
        if (code == 8 && entity == "CIRCLE" && value == layer) out.emplace_back(Vec2::Zero(), 0);
        if (entity != "CIRCLE" || out.empty()) continue;
        if (code == 10) out.back().first.x() = value.toDouble();
        if (code == 20) out.back().first.y() = value.toDouble();
        if (code == 40) out.back().second = value.toDouble();
    }
    return out;
}

PlatePart bracket() {
    PlatePart part;
    part.id = part.name = "bracket";
    part.of = {"bracket"};
    part.thickness_mm = 3;
    part.outline = {{0, 0}, {150, 0}, {150, 80}, {0, 120}};
    part.holes = {{{15, 20}, 9, "bolt"}, {{120, 30}, 0, "bolt"}};
    part.folds = {{{0, 60}, {150, 60}, std::numbers::pi / 2, true, 3, 6.7, "flap left"}};
    return part;
}

TEST(ThePlates, InDxfAreTheFlatAtOneToOneWithALayerForEachUse) {
    const PlatePart part = bracket();
    const QByteArray dxf = dxfOf(plateDrawing(part));
    const auto cut = dxfPaths(dxf, "CUT");
    ASSERT_EQ(cut.size(), 1u);
    ASSERT_EQ(cut[0].size(), part.outline.size());
    for (std::size_t i = 0; i < cut[0].size(); ++i) EXPECT_LT((cut[0][i] - part.outline[i]).norm(), 1e-4);
    const auto holes = dxfCircles(dxf, "CUT");
    ASSERT_EQ(holes.size(), 1u) << "a hole of no known size is marked, not cut";
    EXPECT_LT((holes[0].first - Vec2(15, 20)).norm(), 1e-4);
    EXPECT_NEAR(holes[0].second, 4.5, 1e-4);
    EXPECT_EQ(dxf.count("\nFOLD\n"), 2) << "the layer and one line";
    EXPECT_TRUE(dxf.contains("\nMARK\n"));
}

TEST(ThePlates, OfTheDemosAreLaidOutAndEverySheetOfThemHoldsItsParts) {
    for (const std::string& name : kDemos) {
        const Demo& d = demo(name);
        ASSERT_FALSE(d.sheets.plates.empty());
        int parts = 0, laid = 0;
        for (const PlatePart& part : d.sheets.plates) {
            EXPECT_EQ(part.trouble, "") << part.id;
            EXPECT_TRUE(part.cautions.empty()) << part.id << ": " << part.cautions.front();
            parts += part.count();
        }
        for (const SheetPlan& plan : d.sheets.sheet_plans) {
            EXPECT_TRUE(plan.trouble.empty()) << plan.trouble.front();
            for (const LaidSheet& sheet : plan.sheets) {
                laid += static_cast<int>(sheet.parts.size());
                const Drawing drawing = sheetDrawing(d.sheets, plan, sheet);
                const auto cut = dxfPaths(dxfOf(drawing), "CUT");
                EXPECT_EQ(cut.size(), sheet.parts.size());
                for (const auto& path : cut)
                    for (const Vec2& p : path) {
                        EXPECT_GT(p.x(), 0);
                        EXPECT_GT(p.y(), 0);
                        EXPECT_LT(p.x(), plan.length_mm);
                        EXPECT_LT(p.y(), plan.width_mm);
                    }
            }
        }
        EXPECT_EQ(parts, laid);
    }
}

TEST(ThePlates, HaveAPageEachAndAPageForEverySheet) {
    const Demo& d = demo("hillclimb_saloon");
    std::size_t sheets = 0;
    for (const SheetPlan& plan : d.sheets.sheet_plans) sheets += plan.sheets.size();
    EXPECT_EQ(platePages(d.head, d.sheets).size(), d.sheets.plates.size() + sheets);
    EXPECT_EQ(plateRows(d.sheets).size(), d.sheets.plates.size() + 1);
    std::vector<std::string> names;
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {SheetKind::plates}))
        names.push_back(file.name);
    EXPECT_THAT(names, testing::IsSupersetOf({"plates.pdf", "plates.csv", "plate_hoop_foot.dxf",
                                              "plate_hoop_foot.svg", "sheet_s235_3_1.dxf"}));
}

#ifdef HOOPWRIGHT_PDFTOTEXT
TEST(ThePlates, OnPaperSayTheFoldTheAreasAndTheRules) {
    const Demo& d = demo("hillclimb_saloon");
    const std::string words = textOfPdf(pdfOf(platePages(d.head, d.sheets), "plates"));
    for (const char* said : {"flap left", "towards you", "Area in every plane together", "lies on sill, left",
                             "120 cm", "meets"})
        EXPECT_THAT(words, HasSubstr(said));
}
#endif

TEST(ThePlates, WithoutAFoldsFigureHaveNoFlatOnAnyFile) {
    Demo d = demo("hillclimb_saloon");
    ShopBook book = *d.job.shop;
    book.folds.clear();
    d.job.shop = std::make_shared<const ShopBook>(book);
    d.cage = resolve(d.job);
    d.sheets = shopSheets(d.job, d.cage);
    std::vector<std::string> names;
    for (const SheetFile& file : sheetFiles(d.head, d.sheets, {SheetKind::plates}))
        names.push_back(file.name);
    EXPECT_THAT(names, testing::Not(testing::Contains("plate_hoop_foot.dxf")));
    EXPECT_THAT(names, testing::Contains("plate_side_foot.dxf"));
}

}  // namespace
