// The forms of one bar and of several: what each control does to the job.
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class BarForm : public DeskTest {
protected:
    Vec3 endOf(const char* id, int end) const {
        const CageGeometry& now = desk_.document.geometry();
        return now.members[std::size_t(now.member(id))].ends[std::size_t(end)].at;
    }
    const Landing& landing(const char* id, std::size_t point) const {
        return std::get<Landing>(member(id).path[point].place);
    }
};

TEST_F(BarForm, NameRoleTubeAndNoteAreOfTheBar) {
    choose(Kind::member, "belt_bar");
    write(QStringLiteral("Belt bar, name"), QStringLiteral("Harness tube"));
    EXPECT_EQ(member("belt_bar").name, "Harness tube");
    pick(QStringLiteral("Belt bar, role"), QStringLiteral("Seat bar"));
    EXPECT_EQ(member("belt_bar").role, "seat_bar");
    auto* tubes = control<ChoiceField>(QStringLiteral("Belt bar, tube"));
    ASSERT_NE(tubes, nullptr);
    EXPECT_EQ(tubes->count(), int(job().stock.tubes.size()));
    pick(QStringLiteral("Belt bar, tube"), tubes->itemText(0));
    EXPECT_EQ(member("belt_bar").stock, job().stock.tubes.front().id);
    write(QStringLiteral("Belt bar, note"), QStringLiteral("weld last"));
    EXPECT_EQ(member("belt_bar").note, "weld last");
    EXPECT_EQ(steps(), 4);
}

TEST_F(BarForm, CallingABarAnotherIdKeepsItChosenAndEveryLanding) {
    choose(Kind::member, "main_hoop");
    write(QStringLiteral("Main hoop, called"), QStringLiteral("big hoop"));
    EXPECT_NE(job().cage.member("main_hoop"), nullptr) << "a space is no part of an id";
    write(QStringLiteral("Main hoop, called"), QStringLiteral("belt_bar"));
    EXPECT_NE(job().cage.member("main_hoop"), nullptr) << "taken";
    write(QStringLiteral("Main hoop, called"), QStringLiteral("big_hoop"));
    ASSERT_NE(job().cage.member("big_hoop"), nullptr);
    EXPECT_EQ(desk_.selection.last()->id, "big_hoop");
    EXPECT_EQ(landing("belt_bar", 0).host, "big_hoop");
    EXPECT_TRUE(desk_.document.geometry().problems.empty());
}

TEST_F(BarForm, ALandingIsTypedByHeightAndAnyOtherWayMovesNothing) {
    choose(Kind::member, "hoop_diagonal");
    type(QStringLiteral("Hoop diagonal, first end, height"), QStringLiteral("860"));
    EXPECT_DOUBLE_EQ(endOf("hoop_diagonal", 0).z(), 860);
    const Vec3 was = endOf("hoop_diagonal", 0);
    for (const char* way : {"from its first end", "from its last end", "by part of its length",
                            "where it crosses y", "by height"}) {
        pick(QStringLiteral("Hoop diagonal, first end, said"), QString::fromLatin1(way));
        EXPECT_NEAR((endOf("hoop_diagonal", 0) - was).norm(), 0, 1e-6) << way;
    }
    pick(QStringLiteral("Hoop diagonal, first end, said"), QStringLiteral("its last end"));
    EXPECT_EQ(landing("hoop_diagonal", 0).by, Landing::By::end);
    EXPECT_TRUE(landing("hoop_diagonal", 0).from_last_end);
}

TEST_F(BarForm, AHostIsChosenByNameAndAHostsSideByWord) {
    choose(Kind::member, "belt_bar");
    pick(QStringLiteral("Belt bar, first end, side"), QStringLiteral("right"));
    EXPECT_EQ(landing("belt_bar", 0).side, Side::right);
    EXPECT_LT(endOf("belt_bar", 0).y(), 0);
    pick(QStringLiteral("Belt bar, last end, lands on"), QStringLiteral("Dash bar"));
    EXPECT_EQ(landing("belt_bar", 1).host, "dash_bar");
    auto* hosts = control<ChoiceField>(QStringLiteral("Belt bar, last end, lands on"));
    EXPECT_EQ(hosts->findText(QStringLiteral("Belt bar")), -1) << "never on itself";
    EXPECT_GE(hosts->findText(QStringLiteral("Side bar, right")), 0) << "either of a pair";
    undo();
    undo();
    EXPECT_EQ(steps(), 2);
    EXPECT_EQ(landing("belt_bar", 0).side, Side::left);
}

TEST_F(BarForm, APairLandsOnTheSameSideOrTheOther) {
    choose(Kind::member, "door_bar.left");
    auto* hosts = control<ChoiceField>(QStringLiteral("Door bar, left, last end, lands on"));
    ASSERT_NE(hosts, nullptr);
    EXPECT_GE(hosts->findText(QStringLiteral("Side bar, same side")), 0);
    EXPECT_GE(hosts->findText(QStringLiteral("Side bar, other side")), 0);
    choose(Kind::member, "door_bar.right");
    EXPECT_TRUE(shows(QStringLiteral("Given for the left; this one is its mirror image.")));
}

TEST_F(BarForm, PickingAHostTakesAnyBarButItself) {
    choose(Kind::member, "belt_bar");
    const auto pickButtons = [&] {
        std::vector<QPushButton*> found;
        for (auto* one : details_->form()->findChildren<QPushButton*>()) {
            if (one->text() == QStringLiteral("Pick in view")) found.push_back(one);
        }
        return found;
    };
    ASSERT_EQ(pickButtons().size(), 2u);
    press(QStringLiteral("Belt bar, last end, pick in view"));
    EXPECT_TRUE(desk_.picking());
    EXPECT_THAT(desk_.pickAsks().toStdString(), HasSubstr("last end of Belt bar"));
    EXPECT_TRUE(desk_.takePick("belt_bar", endOf("belt_bar", 0)));
    EXPECT_TRUE(desk_.picking()) << "it still wants a bar";
    EXPECT_THAT(said_.toStdString(), HasSubstr("cannot land on itself"));
    const CageGeometry& now = desk_.document.geometry();
    const Vec3 at = now.members[std::size_t(now.member("dash_bar"))].line.point(300);
    EXPECT_TRUE(desk_.takePick("dash_bar", at));
    EXPECT_FALSE(desk_.picking());
    EXPECT_EQ(landing("belt_bar", 1).host, "dash_bar");
    EXPECT_NEAR((endOf("belt_bar", 1) - at).norm(), 0, 0.1);
    EXPECT_EQ(steps(), 1);
}

TEST_F(BarForm, APointBecomesFixedOrACarPointAndBack) {
    choose(Kind::member, "belt_bar");
    const Vec3 was = endOf("belt_bar", 0);
    pick(QStringLiteral("Belt bar, first end, point"), QStringLiteral("Fixed point"));
    EXPECT_NEAR((endOf("belt_bar", 0) - was).norm(), 0, 0.1);
    type(QStringLiteral("Belt bar, first end, at z"), QStringLiteral("500"));
    EXPECT_DOUBLE_EQ(endOf("belt_bar", 0).z(), 500);
    pick(QStringLiteral("Belt bar, first end, point"), QStringLiteral("Car point"));
    EXPECT_TRUE(std::holds_alternative<AtCarPoint>(member("belt_bar").path[0].place));
    EXPECT_NEAR(endOf("belt_bar", 0).z(), 500, 0.1);
    pick(QStringLiteral("Belt bar, first end, car point"), QStringLiteral("b pillar top, left"));
    EXPECT_EQ(std::get<AtCarPoint>(member("belt_bar").path[0].place).point, "b_pillar_top.left");
    type(QStringLiteral("Belt bar, first end, offset z"), QStringLiteral("-400"));
    EXPECT_DOUBLE_EQ(endOf("belt_bar", 0).z(),
                     desk_.document.job().car.point("b_pillar_top.left")->at.z() - 400);
}

TEST_F(BarForm, CornersComeGoAndHaveARadius) {
    choose(Kind::member, "main_hoop");
    const std::size_t points = member("main_hoop").path.size();
    type(QStringLiteral("Main hoop, corner 1, radius here"), QStringLiteral("160"));
    EXPECT_EQ(member("main_hoop").path[1].bend_radius_mm, 160);
    type(QStringLiteral("Main hoop, corner 1, radius here"), QString());
    EXPECT_EQ(member("main_hoop").path[1].bend_radius_mm, std::nullopt) << "empty: as the bar";
    type(QStringLiteral("Main hoop, bend radius"), QStringLiteral("150"));
    EXPECT_EQ(member("main_hoop").bend_radius_mm, 150);
    press(QStringLiteral("Main hoop, corner 2, add corner"));
    ASSERT_EQ(member("main_hoop").path.size(), points + 1);
    const Vec3 middle = std::get<FixedPoint>(member("main_hoop").path[3].place).at;
    EXPECT_NEAR((middle - Vec3(-130, 0, 972)).norm(), 0, 0.1) << "halfway between the hoop's top corners";
    press(QStringLiteral("Main hoop, corner 3, delete"));
    EXPECT_EQ(member("main_hoop").path.size(), points);
}

TEST_F(BarForm, LessThanNoPaddingIsAWrongEntry) {
    choose(Kind::member, "main_hoop");
    auto* padding = control<ValueField>(QStringLiteral("Main hoop, padding"));
    type(padding, QStringLiteral("-3"));
    EXPECT_THAT(padding->complaint().toStdString(), HasSubstr("too little"));
    EXPECT_EQ(member("main_hoop").padding_mm, 20);
    type(padding, QStringLiteral("1"));
    for (int n = 0; n < 3; ++n) QTest::keyClick(padding, Qt::Key_Down);
    EXPECT_EQ(member("main_hoop").padding_mm, 0) << "stepping stops at nothing";
    EXPECT_EQ(steps(), 2) << "steps in a row are one undo";
}

TEST_F(BarForm, BarsItMayPassAreTypedAndAWrongOneIsAnswered) {
    choose(Kind::member, "belt_bar");
    auto* passes = control<TextField>(QStringLiteral("Belt bar, may pass"));
    type(passes, QStringLiteral("rear_brace, dash_bra"));
    EXPECT_TRUE(member("belt_bar").passes.empty());
    EXPECT_TRUE(shows(QStringLiteral("There is no bar called dash_bra; did you mean dash_bar?")));
    type(passes, QStringLiteral("rear_brace, dash_bar"));
    EXPECT_THAT(member("belt_bar").passes, ElementsAre("rear_brace", "dash_bar"));
    write(QStringLiteral("Belt bar, first end, coped to"), QStringLiteral("rear_brace.left"));
    EXPECT_THAT(landing("belt_bar", 0).also, ElementsAre("rear_brace.left"));
}

TEST_F(BarForm, APairIsMadeAndBrokenByOneTick) {
    choose(Kind::member, "rear_brace.left");
    const std::size_t bars = job().cage.members.size();
    tick(QStringLiteral("One of a pair, left and right"));
    EXPECT_FALSE(member("rear_brace").mirrored);
    EXPECT_EQ(job().cage.members.size(), bars + 1) << "the right one is a bar of its own";
    EXPECT_TRUE(desk_.document.geometry().problems.empty());
    undo();
    EXPECT_TRUE(member("rear_brace").mirrored);
    choose(Kind::member, "dash_bar");
    tick(QStringLiteral("The customer may leave it out"));
    EXPECT_TRUE(member("dash_bar").optional_bar);
}

TEST_F(BarForm, FactsFollowTheBar) {
    choose(Kind::member, "belt_bar");
    const QString saw = facts(QStringLiteral("Belt bar, to the saw"));
    EXPECT_THAT(saw.toStdString(), HasSubstr("Long point to long point: "));
    EXPECT_THAT(saw.toStdString(), HasSubstr(" mm. Mass: "));
    EXPECT_THAT(facts(QStringLiteral("Belt bar, bends")).toStdString(), HasSubstr("None: a straight tube"));
    EXPECT_THAT(facts(QStringLiteral("Belt bar, joints")).toStdString(), HasSubstr("on Main hoop: "));
    EXPECT_THAT(facts(QStringLiteral("Belt bar, nearest to the driver")).toStdString(),
                HasSubstr("Helmet, tall driver: "));
    desk_.setUnits(UnitsShown::in);
    EXPECT_THAT(facts(QStringLiteral("Belt bar, to the saw")).toStdString(), HasSubstr(" in. Mass: "));
    EXPECT_NE(facts(QStringLiteral("Belt bar, to the saw")), saw);
    choose(Kind::member, "main_hoop");
    EXPECT_THAT(facts(QStringLiteral("Main hoop, bends")).toStdString(), HasSubstr("Bend 4: "));
}

TEST_F(BarForm, AClickOnAJointGoesToTheOtherBar) {
    choose(Kind::member, "belt_bar");
    auto* joints = control<FactList>(QStringLiteral("Belt bar, joints"));
    QTest::keyClick(joints, Qt::Key_Down);
    QTest::keyClick(joints, Qt::Key_Return);
    QCoreApplication::processEvents();
    ASSERT_NE(desk_.selection.last(), nullptr);
    EXPECT_NE(desk_.selection.last()->id, "belt_bar");
    EXPECT_EQ(desk_.selection.last()->kind, Kind::member);
}

TEST_F(BarForm, SeveralBarsShowWhatTheyShareAndTakeOneValue) {
    desk_.selection.set({{Kind::member, "hoop_diagonal"}, {Kind::member, "belt_bar"}});
    QCoreApplication::processEvents();
    auto* padding = control<ValueField>(QStringLiteral("2 bars, padding"));
    ASSERT_NE(padding, nullptr);
    EXPECT_TRUE(padding->text().isEmpty()) << "20 and 0 differ";
    EXPECT_EQ(control<ChoiceField>(QStringLiteral("2 bars, tube"))->currentData().toString(),
              QStringLiteral("38x2.5"));
    type(padding, QStringLiteral("15"));
    EXPECT_EQ(member("hoop_diagonal").padding_mm, 15);
    EXPECT_EQ(member("belt_bar").padding_mm, 15);
    EXPECT_EQ(steps(), 1);
    auto* radius = control<ValueField>(QStringLiteral("2 bars, bend radius"));
    ASSERT_NE(radius, nullptr);
    type(radius, QStringLiteral("160"));
    EXPECT_EQ(member("hoop_diagonal").bend_radius_mm, 160);
    EXPECT_EQ(member("belt_bar").bend_radius_mm, 160);
    type(radius, QString());
    EXPECT_FALSE(member("hoop_diagonal").bend_radius_mm) << "the die's again";
    pick(QStringLiteral("2 bars, role"), QStringLiteral("Seat bar"));
    EXPECT_EQ(member("hoop_diagonal").role, "seat_bar");
    EXPECT_EQ(member("belt_bar").role, "seat_bar");
    EXPECT_THAT(facts(QStringLiteral("2 bars, together")).toStdString(),
                HasSubstr("Gap between them: none, they touch"));
}

}  // namespace
}  // namespace hoopwright
