// A tube bought bent in the details and in its dialog; ties and risers from the menu's hands.
#include "app/window/bought_tube.h"

#include <QDialogButtonBox>
#include <QTimer>

#include "app/window/falls_short.h"
#include "app/window/hands.h"
#include "app/window/order_page.h"
#include "core/edit/bought_edits.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

class BoughtInTheDetails : public DeskTest {
protected:
    const ResolvedMember& hoop() const {
        const CageGeometry& now = desk_.document.geometry();
        return now.members.at(std::size_t(now.member("main_hoop")));
    }
    /// The hoop as it is, bought with legs of 100 more.
    void buyTheHoop() {
        BentShape shape = shapeOf(hoop());
        shape.straights_mm.front() += 100;
        shape.straights_mm.back() += 100;
        const auto taped = tapedAgain(job(), desk_.document.geometry(), "main_hoop", shape);
        ASSERT_TRUE(taped) << taped.reason();
        desk_.document.edit(QStringLiteral("bought"),
                            [&](Job& next) { *findMember(next.cage, "main_hoop") = *taped; });
        choose(Kind::member, "main_hoop");
    }
    int wrong() const {
        return int(std::ranges::count_if(desk_.document.geometry().problems, [](const GeometryProblem& one) {
            return one.kind == GeometryProblem::Kind::bought_differs;
        }));
    }
};

template <class Control>
Control* in(QWidget& dialog, const QString& name) {
    for (auto* one : dialog.findChildren<Control*>())
        if (one->accessibleName() == name) return one;
    ADD_FAILURE() << "nothing is called " << name.toStdString();
    return nullptr;
}

TEST_F(BoughtInTheDetails, ItsTapedNumbersAreRowsThatCanBeTyped) {
    buyTheHoop();
    ASSERT_TRUE(hoop().bought);
    const double leg = member("main_hoop").bent->straights_mm.front();
    const int before = steps();
    type(QStringLiteral("Main hoop, first leg"), QString::number(leg + 25));
    EXPECT_NEAR(member("main_hoop").bent->straights_mm.front(), leg + 25, 1e-6);
    EXPECT_EQ(steps(), before + 1);
    EXPECT_EQ(wrong(), 0) << "laid anew";
    type(QStringLiteral("Main hoop, bend 1"), QStringLiteral("70"));
    EXPECT_NEAR(member("main_hoop").bent->bends[0].angle_rad, 70 * 3.14159265358979 / 180, 1e-9);
    EXPECT_EQ(wrong(), 0);
    undo();
    undo();
    EXPECT_NEAR(member("main_hoop").bent->straights_mm.front(), leg, 1e-6);
    write(QStringLiteral("Main hoop, as taped"), QStringLiteral("1000, 85, 720, 85, 1000"));
    EXPECT_EQ(member("main_hoop").bent->bends.size(), 2u);
    EXPECT_EQ(member("main_hoop").path.size(), 4u) << "a corner for each bend";
    EXPECT_EQ(wrong(), 0);
    const Member kept = member("main_hoop");
    write(QStringLiteral("Main hoop, as taped"), QStringLiteral("1000, 85"));
    EXPECT_EQ(member("main_hoop"), kept) << "that is no tube";
}

TEST_F(BoughtInTheDetails, WhatWasTapedIsReadInTheUnitThatIsShown) {
    buyTheHoop();
    desk_.setUnits(UnitsShown::in);
    write(QStringLiteral("Main hoop, as taped"), QStringLiteral("40, 85, 28-1/2, 85, 40"));
    EXPECT_NEAR(member("main_hoop").bent->straights_mm[1], 28.5 * 25.4, 1e-9);
    BoughtTube dialog(desk_, "main_hoop");
    ASSERT_TRUE(dialog.fit());
    EXPECT_NEAR(dialog.fit()->member.bent->straights_mm[1], 28.5 * 25.4, 1e-9);
    EXPECT_EQ(in<QLineEdit>(dialog, QStringLiteral("Bought bent tube, as taped"))->text(),
              QStringLiteral("40.000, 85, 28.500, 85, 40.000"));
}

TEST_F(BoughtInTheDetails, ItCanBeBentHereAgain) {
    buyTheHoop();
    press(QStringLiteral("Main hoop, bend it here"));
    EXPECT_FALSE(member("main_hoop").bent);
    undo();
    EXPECT_TRUE(member("main_hoop").bent);
}

TEST_F(BoughtInTheDetails, TheDialogSaysWhetherItFitsBeforeItIsPutIn) {
    choose(Kind::member, "main_hoop");
    BoughtTube dialog(desk_, "main_hoop");
    dialog.show();
    const Member was = member("main_hoop");
    ASSERT_TRUE(dialog.fit());
    in<ValueField>(dialog, QStringLiteral("Bought bent tube, bend radius"))->setFocus();
    in<ValueField>(dialog, QStringLiteral("Bought bent tube, bend radius"))->putOnTape();
    EXPECT_FALSE(desk_.tape().label.startsWith(QStringLiteral("Bought bent tube")))
        << "it would be read when the dialog is gone";
    auto* taped = in<QLineEdit>(dialog, QStringLiteral("Bought bent tube, as taped"));
    ASSERT_TRUE(taped);
    type(taped, QStringLiteral("1000, 85"));
    settleEvents(20);
    EXPECT_FALSE(dialog.fit());
    EXPECT_FALSE(dialog.findChild<QDialogButtonBox*>()->buttons().back()->isEnabled() &&
                 dialog.findChild<QDialogButtonBox*>()->buttons().front()->isEnabled());
    type(taped, QStringLiteral("1100, 85, 720, 85, 1100"));
    settleEvents(20);
    ASSERT_TRUE(dialog.fit());
    EXPECT_EQ(dialog.fit()->pre_bent->pieces.size(), 5u);
    EXPECT_EQ(member("main_hoop"), was) << "nothing is changed yet";
    const int before = steps();
    dialog.putIn();
    EXPECT_EQ(steps(), before + 1);
    ASSERT_TRUE(member("main_hoop").bent);
    EXPECT_EQ(wrong(), 0);
    EXPECT_NEAR(hoop().bought->saw_mm[0], dialog.fit()->saw_mm[0], 1e-3);
}

TEST_F(BoughtInTheDetails, TheOrderSaysWhatToSawOffIt) {
    buyTheHoop();
    OrderMaker maker(desk_);
    OrderPage page(desk_, maker, {});
    maker.setWanted(true);
    ASSERT_TRUE(waitFor([&] { return maker.order() != nullptr; }));
    const QAbstractItemModel& rows = *page.list()->model();
    QStringList under;
    for (int i = 0; i < rows.rowCount(); ++i)
        if (!under.isEmpty() || rows.index(i, 0).data().toString() == QStringLiteral("Bought bent"))
            under << rows.index(i, 0).data().toString();
    ASSERT_EQ(under.size(), 2) << under.join(QStringLiteral("; ")).toStdString();
    EXPECT_EQ(under[1], QStringLiteral("Main hoop"));
    EXPECT_THAT(rows.index(rows.rowCount() - 1, 0).data(Qt::ToolTipRole).toString().toStdString(),
                HasSubstr("Saw off its first leg: " + desk_.length(hoop().bought->saw_mm[0]).toStdString()));
}

TEST_F(BoughtInTheDetails, TiesAndRisersAreMadeForWhatIsChosen) {
    desk_.selection.clear();
    tieChosen(desk_, Fixing::bolted);
    EXPECT_THAT(said_.toStdString(), HasSubstr("Choose a foot plate"));
    desk_.selection.set({Kind::plate, "hoop_foot.left"});
    const Vec3 at = desk_.document.geometry().plates[0].at;
    raiseChosen(desk_);
    ASSERT_TRUE(job().cage.plate("hoop_foot")->riser);
    EXPECT_GT(desk_.document.geometry().plates[0].at.z(), at.z() + 40);
    const Form& form = choose(Kind::plate, "hoop_foot.left");
    (void)form;
    type(QStringLiteral("Hoop foot, left, riser height"), QStringLiteral("30"));
    EXPECT_NEAR(job().cage.plate("hoop_foot")->riser->height_mm, 30, 1e-9);
    EXPECT_NEAR((desk_.document.geometry().plates[0].at - at).norm(), 30, 1e-6);
    raiseChosen(desk_);
    EXPECT_FALSE(job().cage.plate("hoop_foot")->riser);
    EXPECT_NEAR((desk_.document.geometry().plates[0].at - at).norm(), 0, 1e-6);
    const std::size_t plates = job().cage.plates.size();
    tieChosen(desk_, Fixing::welded);
    EXPECT_GE(job().cage.plates.size(), plates);
    EXPECT_TRUE(desk_.document.geometry().notes.empty()) << "a body of its own frame holds nothing on";
}

TEST(Notes, StandInTheListOfWhatFallsShort) {
    const DemoCopy demo;
    Desk desk;
    ASSERT_TRUE(desk.document.open(demo.pickup()).empty());
    const auto lines = linesOf(desk.document, desk.units());
    const auto notes = std::ranges::count_if(
        lines, [](const ShortLine& line) { return line.clause == QObject::tr("to know"); });
    EXPECT_EQ(notes, 4) << "four pairs of welded ties";
    desk.document.edit(QStringLiteral("stays"), [](Job& job) { job.cage.body_stays = true; });
    EXPECT_TRUE(desk.document.geometry().notes.empty());
}

}  // namespace
}  // namespace hoopwright
