// Rows of flaps in the form of a plate, and of a gusset's fold and hole, driven by keys.
#include <cmath>
#include <numbers>

#include "core/model/sheet_shape.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

class FoldedForms : public DeskTest {
protected:
    const Plate& said() const { return *job().cage.plate("side_foot"); }
    const ResolvedPlate& made(const char* id) const {
        const CageGeometry& now = desk_.document.geometry();
        return now.plates[std::size_t(now.plate(id))];
    }
    const Gusset& gusset() const { return job().cage.gussets.front(); }
    /// The space bar on a tick.
    void strike(const QString& words) {
        for (auto* one : details_->form()->findChildren<TickField*>()) {
            if (one->text() != words) continue;
            QTest::keyClick(one, Qt::Key_Space);
            QCoreApplication::processEvents();
            return;
        }
        ADD_FAILURE() << "no tick " << words.toStdString();
    }
};

TEST_F(FoldedForms, AFlapIsTickedTypedUndoneAndTakenOff) {
    choose(Kind::plate, "side_foot.left");
    const double flat_kg = made("side_foot.left").mass_kg;
    strike(QStringLiteral("Flap on the left"));
    ASSERT_EQ(said().flaps.size(), 1u);
    EXPECT_EQ(said().flaps[0], (Flap{PlateEdge::left, 40, std::numbers::pi / 2}));
    type(QStringLiteral("Side bar foot, left, flap on the left, length"), QStringLiteral("55"));
    type(QStringLiteral("Side bar foot, left, flap on the left, folded up by"), QStringLiteral("-60"));
    EXPECT_EQ(said().flaps[0].length_mm, 55);
    EXPECT_NEAR(said().flaps[0].angle_rad, -std::numbers::pi / 3, 1e-12);
    // The picture's plate has it too, and on the right-hand one it is on the right.
    ASSERT_EQ(made("side_foot.right").flaps.size(), 1u);
    EXPECT_EQ(made("side_foot.right").flaps[0].edge, PlateEdge::right);
    const double strip_mm2 = said().length_mm * (55 - 3 * std::tan(std::numbers::pi / 6));
    EXPECT_NEAR(made("side_foot.left").mass_kg - flat_kg, strip_mm2 * 3 * 7850e-9, 1e-9);
    EXPECT_THAT(facts(QStringLiteral("Side bar foot, left, this plate")).toStdString(),
                HasSubstr("Area in every plane"));
    type(QStringLiteral("Side bar foot, left, flap on the left, length"), QStringLiteral("no"));
    EXPECT_EQ(said().flaps[0].length_mm, 55) << "a word is no length";
    desk_.document.undoStack().undo();
    EXPECT_NEAR(said().flaps[0].angle_rad, std::numbers::pi / 2, 1e-12);
    desk_.document.undoStack().undo();
    EXPECT_EQ(said().flaps[0].length_mm, 40);
    QCoreApplication::processEvents();
    strike(QStringLiteral("Flap on the left"));
    EXPECT_TRUE(said().flaps.empty());
    EXPECT_TRUE(made("side_foot.left").flaps.empty());
}

TEST_F(FoldedForms, AGussetIsFoldedAndPierced) {
    choose(Kind::gusset, "roof_corner");
    const double flat_kg = desk_.document.geometry().gussets.front().mass_kg;
    strike(QStringLiteral("Folded of one sheet, a cheek on each side of the tubes"));
    EXPECT_TRUE(gusset().formed);
    const ResolvedGusset& folded = desk_.document.geometry().gussets.front();
    EXPECT_TRUE(folded.formed);
    EXPECT_GT(folded.mass_kg, 2 * flat_kg) << "two cheeks and the strip between them";
    type(QStringLiteral("Gusset roof_corner, hole"), QStringLiteral("8"));
    EXPECT_EQ(gusset().hole_mm, 8);
    const CageGeometry& now = desk_.document.geometry();
    EXPECT_TRUE(gussetShape(now, now.gussets.front()).hole);
    type(QStringLiteral("Gusset roof_corner, hole"), QStringLiteral("0"));
    EXPECT_FALSE(gusset().hole_mm);
    desk_.document.undoStack().undo();
    EXPECT_EQ(gusset().hole_mm, 8);
}

}  // namespace
}  // namespace hoopwright
