// What menu entries and keys do to what is chosen.
#include "app/window/hands.h"

#include <QApplication>
#include <QMessageBox>
#include <QTimer>

#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class Hands : public DeskTest {
protected:
    /// Deletes what is chosen; the question, if one comes, is answered with the button of that name.
    bool deleteAnswering(const char* button) {
        bool asked = false;
        QTimer answers;
        QObject::connect(&answers, &QTimer::timeout, &answers, [&] {
            auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
            if (!box || asked) return;
            asked = true;
            question_ = box->text() + QLatin1Char('\n') + box->informativeText();
            if (auto* one = box->findChild<QPushButton*>(QString::fromLatin1(button))) {
                one->click();
            } else {
                box->reject();
            }
        });
        answers.start(20);
        deleteChosen(desk_, nullptr);  // returns once it is answered
        return asked;
    }
    QString question_;
};

TEST_F(Hands, DeletingWhatNothingLandsOnAsksNothing) {
    desk_.selection.set({Kind::member, "roof_diagonal"});
    EXPECT_FALSE(deleteAnswering("keep"));
    EXPECT_EQ(job().cage.member("roof_diagonal"), nullptr);
    EXPECT_TRUE(desk_.selection.all().empty());
}

TEST_F(Hands, DeletingAHostNamesWhatLandsOnItAndMayTakeItAlong) {
    desk_.selection.set({Kind::member, "rear_diagonal"});
    EXPECT_TRUE(deleteAnswering("delete_too"));
    EXPECT_THAT(question_.toStdString(), HasSubstr("Rear diagonal, upper half"));
    EXPECT_EQ(job().cage.member("rear_diagonal_upper"), nullptr);
    EXPECT_EQ(job().cage.member("rear_diagonal_lower"), nullptr);
    EXPECT_THAT(desk_.document.geometry().problems, IsEmpty());
    undo();
    EXPECT_NE(job().cage.member("rear_diagonal_lower"), nullptr) << "one undo brings all back";
    EXPECT_EQ(steps(), 1);
}

TEST_F(Hands, DeletingAHostMayKeepTheRestWhereItIs) {
    const CageGeometry before = desk_.document.geometry();
    desk_.selection.set({Kind::member, "rear_diagonal"});
    EXPECT_TRUE(deleteAnswering("keep"));
    const CageGeometry& now = desk_.document.geometry();
    const auto& half = now.members[std::size_t(now.member("rear_diagonal_upper"))];
    const auto& was = before.members[std::size_t(before.member("rear_diagonal_upper"))];
    EXPECT_NEAR((half.line.end() - was.line.end()).norm(), 0, 0.1);
}

TEST_F(Hands, ThinkingBetterOfItDeletesNothing) {
    const Job before = job();
    desk_.selection.set({Kind::member, "main_hoop"});
    EXPECT_TRUE(deleteAnswering("nothing of that name"));
    EXPECT_TRUE(job() == before);
}

TEST_F(Hands, DeletingTheBeltBarSaysTheBeltsNeedAnother) {
    desk_.selection.set({Kind::member, "belt_bar"});
    deleteAnswering("keep");
    EXPECT_THAT(said_.toStdString(), HasSubstr("belts"));
    EXPECT_EQ(job().drivers.front().belts.bar, "");
}

TEST_F(Hands, SeveralPartsGoInOneStep) {
    desk_.selection.set({{Kind::member, "roof_diagonal"}, {Kind::member, "seat_bar_front"}});
    deleteAnswering("keep");
    EXPECT_EQ(job().cage.member("roof_diagonal"), nullptr);
    EXPECT_EQ(job().cage.member("seat_bar_front"), nullptr);
    EXPECT_EQ(steps(), 1);
}

TEST_F(Hands, ADuplicateIsChosenAndStandsBesideTheOriginal) {
    desk_.selection.set({Kind::member, "dash_bar"});
    duplicateChosen(desk_);
    ASSERT_NE(desk_.selection.last(), nullptr);
    EXPECT_EQ(desk_.selection.last()->id, "dash_bar_2");
    EXPECT_THAT(desk_.document.geometry().problems, IsEmpty());
    const CageGeometry& now = desk_.document.geometry();
    const Vec3 a = now.members[std::size_t(now.member("dash_bar"))].line.start();
    const Vec3 b = now.members[std::size_t(now.member("dash_bar_2"))].line.start();
    EXPECT_GT((a - b).norm(), 10);
}

TEST_F(Hands, ADuplicatedDriverHasAFileOfItsOwn) {
    desk_.selection.set({Kind::driver, "tall"});
    duplicateChosen(desk_);
    ASSERT_EQ(job().drivers.size(), 3u);
    EXPECT_NE(job().drivers.back().id, "tall");
    EXPECT_EQ(job().cage.driver_files.size(), 3u);
    EXPECT_NE(job().cage.driver_files.back(), job().cage.driver_files.front());
    EXPECT_THAT(desk_.document.save(), IsEmpty());
    EXPECT_TRUE(std::filesystem::exists(job().cage.driver_files.back()));
    desk_.selection.set({Kind::driver, job().drivers.back().id});
    deleteChosen(desk_, nullptr);
    EXPECT_EQ(job().drivers.size(), 2u);
    EXPECT_EQ(job().cage.driver_files.size(), 2u);
}

TEST_F(Hands, MirroringAndBreakingGoBothWays) {
    desk_.selection.set({Kind::member, "seat_bar_front"});
    desk_.selection.set({Kind::member, "door_bar.left"});
    pairChosen(desk_);
    EXPECT_FALSE(member("door_bar").mirrored);
    EXPECT_THAT(said_.toStdString(), HasSubstr("no pair any more either"));
    EXPECT_THAT(desk_.document.geometry().problems, IsEmpty());
    undo();
    EXPECT_TRUE(member("door_bar").mirrored);
}

TEST_F(Hands, APlateGoesUnderAFreeEndAndElseToTheSill) {
    desk_.document.edit(QStringLiteral("free end"), [](Job& next) {
        findMember(next.cage, "roof_diagonal")->path.back().place = FixedPoint{Vec3(-130, 300, 700)};
    });
    desk_.selection.set({Kind::member, "roof_diagonal"});
    addPlate(desk_);
    const Plate& made = job().cage.plates.back();
    EXPECT_EQ(desk_.selection.last()->id, made.id);
    ASSERT_TRUE(std::holds_alternative<OnPlate>(member("roof_diagonal").path.back().place));
    EXPECT_EQ(std::get<OnPlate>(member("roof_diagonal").path.back().place).plate, made.id);
    const std::size_t plates = job().cage.plates.size();
    desk_.selection.clear();
    addPlate(desk_);
    EXPECT_EQ(job().cage.plates.size(), plates + 1);
    EXPECT_THAT(said_.toStdString(), HasSubstr("at the sill"));
}

TEST_F(Hands, AGussetNeedsTwoBars) {
    desk_.selection.set({Kind::member, "main_hoop"});
    addGusset(desk_);
    EXPECT_EQ(steps(), 0);
    EXPECT_THAT(said_.toStdString(), HasSubstr("Choose the two bars"));
    desk_.selection.set({{Kind::member, "main_hoop"}, {Kind::member, "dash_bar"}});
    addGusset(desk_);
    EXPECT_EQ(job().cage.gussets.back().member_a, "main_hoop");
    EXPECT_EQ(job().cage.gussets.back().member_b, "dash_bar");
    EXPECT_EQ(desk_.selection.last()->kind, Kind::gusset);
    deleteAnswering("keep");
    EXPECT_EQ(job().cage.gussets.size(), 2u);
}

TEST_F(Hands, ACarPointThatGoesLeavesWhatStoodOnItInPlace) {
    const Vec3 was = desk_.document.geometry().plates.front().at;
    desk_.selection.set({Kind::car_point, "sill_b.left"});
    deleteChosen(desk_, nullptr);
    EXPECT_EQ(job().car.point("sill_b.left"), nullptr);
    EXPECT_NEAR((desk_.document.geometry().plates.front().at - was).norm(), 0, 1e-9);
    EXPECT_THAT(desk_.document.geometry().problems, IsEmpty());
}

TEST_F(Hands, NewPointsAndLinesOfTheCarHaveNamesOfTheirOwn) {
    addCarPoint(desk_);
    addCarPoint(desk_);
    addCarLine(desk_);
    addCarLine(desk_);
    const auto& points = job().car.points;
    EXPECT_NE(points[points.size() - 1].name, points[points.size() - 2].name);
    const auto lines = job().car.lines;
    EXPECT_NE(lines[lines.size() - 1].name, lines[lines.size() - 2].name);
    EXPECT_EQ(desk_.selection.last()->id, lines.back().name);
    deleteChosen(desk_, nullptr);
    EXPECT_EQ(job().car.lines.size(), lines.size() - 1);
    EXPECT_THAT(desk_.document.save(), IsEmpty());
}

TEST_F(Hands, AllOfOneTubeOrRoleAreChosenTogether) {
    desk_.selection.set({Kind::member, "door_bar.left"});
    chooseSameRole(desk_);
    EXPECT_THAT(desk_.selection.layoutIds(Kind::member),
                ElementsAre("door_bar", "door_bar_rear", "door_bar_front"));
    EXPECT_EQ(desk_.selection.all().size(), 6u);
    desk_.selection.set({Kind::member, "main_hoop"});
    chooseSameTube(desk_);
    EXPECT_THAT(desk_.selection.layoutIds(Kind::member), ElementsAre("main_hoop", "side_bar"));
}

TEST_F(Hands, BuildOrderDecidesWhoRunsThrough) {
    desk_.selection.set({Kind::member, "belt_bar"});
    moveChosenInOrder(desk_, -1);
    EXPECT_EQ(job().cage.members[1].id, "belt_bar");
    moveChosenInOrder(desk_, 1);
    EXPECT_EQ(job().cage.members[2].id, "belt_bar");
    desk_.selection.set({{Kind::member, "belt_bar"}, {Kind::member, "dash_bar"}});
    moveChosenInOrder(desk_, -1);
    EXPECT_EQ(steps(), 2) << "one bar at a time";
}

TEST_F(Hands, WithNothingChosenNothingHappens) {
    const Job before = job();
    duplicateChosen(desk_);
    deleteChosen(desk_, nullptr);
    pairChosen(desk_);
    moveChosenInOrder(desk_, 1);
    chooseSameTube(desk_);
    chooseSameRole(desk_);
    EXPECT_TRUE(job() == before);
    EXPECT_EQ(steps(), 0);
}

}  // namespace
}  // namespace hoopwright
