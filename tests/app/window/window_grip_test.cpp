// Bars shaped by hand: real mouse and keys on the grips of the real window.
#include <QLineEdit>
#include <QMouseEvent>

#include "app/window/grip_hand.h"
#include "core/edit/bar_track.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowHandGrips : public WindowTest {
protected:
    using GripKind = Grip::Kind;

    GripHand& hand() { return *window_->viewHost().hand(); }
    void choose(const std::string& id, Kind kind = Kind::member) {
        desk().selection.set(Thing{kind, id});
        settle();
    }
    int gripOf(GripKind kind, std::size_t nth = 0) {
        const auto& grips = view().grips();
        for (std::size_t i = 0; i < grips.size(); ++i)
            if (grips[i].kind == kind && nth-- == 0) return int(i);
        ADD_FAILURE() << "no such grip";
        return 0;
    }
    QPoint pixelOf(int grip) {
        const auto at = view().positionOf(view().grips()[std::size_t(grip)].at);
        EXPECT_TRUE(at);
        return at->toPoint();
    }
    void moveTo(const QPointF& at, Qt::KeyboardModifiers keys = {}) {
        QMouseEvent move(QEvent::MouseMove, at, view().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, keys);
        QApplication::sendEvent(&view(), &move);
    }
    /// Press on the grip and go so far, the button still down.
    QPoint dragFrom(int grip, const QPoint& by, Qt::KeyboardModifiers keys = Qt::AltModifier) {
        const QPoint from = pixelOf(grip);
        QTest::mousePress(&view(), Qt::LeftButton, {}, from);
        for (int n = 1; n <= 10; ++n) moveTo(from + by * n / 10.0, keys);
        return from + by;
    }
    void letGo(const QPoint& at) {
        QTest::mouseRelease(&view(), Qt::LeftButton, {}, at);
        settle();
    }
    const Landing& firstLanding(const std::string& id) {
        return std::get<Landing>(job().cage.member(id)->path.front().place);
    }
};

TEST_F(WindowHandGrips, ALandingDraggedSlidesOnItsHostInOneStepOfUndo) {
    lookFrom("front");
    choose("dash_bar");
    const CageLayout before = job().cage;
    const int steps = desk().document.undoStack().index();
    const int grip = gripOf(GripKind::landing);
    const QPoint end = dragFrom(grip, {0, -25});
    EXPECT_TRUE(hand().holds());
    EXPECT_NE(job().cage, before);  // it follows while the button is down
    const CageLayout during = job().cage;
    letGo(end);
    EXPECT_FALSE(hand().holds());
    EXPECT_EQ(job().cage, during);
    EXPECT_EQ(desk().document.undoStack().index(), steps + 1);
    EXPECT_THAT(desk().document.undoStack().undoText().toStdString(), testing::HasSubstr("Slide"));
    desk().document.undoStack().undo();
    EXPECT_EQ(job().cage, before);
    desk().document.undoStack().redo();
    EXPECT_EQ(job().cage, during);
}

TEST_F(WindowHandGrips, EveryGripOfManyPartsCanBePulledAndUndone) {
    lookFrom("three_quarter");
    const CageLayout start = job().cage;
    int pulls = 0, changed = 0;
    for (const char* id : {"main_hoop", "side_bar.left", "belt_bar", "door_bar.left", "rear_brace.right"}) {
        choose(id);
        const std::size_t count = view().grips().size();
        EXPECT_GT(count, 0u) << id;
        for (std::size_t i = 0; i < count && i < view().grips().size(); ++i) {
            const CageLayout before = job().cage;
            const QPoint at = pixelOf(int(i));
            // One that lies under another is not the one that is taken.
            if (gripAt(view().grips(), view().cage(), Projection(view().view(), view().size()), at) != int(i))
                continue;
            const QPoint end = dragFrom(int(i), {14, -11});
            EXPECT_TRUE(hand().holds()) << id << " " << i;
            letGo(end);
            ++pulls;
            changed += !(job().cage == before);
        }
    }
    EXPECT_GT(pulls, 12);
    EXPECT_GT(changed, pulls * 2 / 3);
    const CageLayout end = job().cage;
    while (desk().document.undoStack().canUndo()) desk().document.undoStack().undo();
    EXPECT_EQ(job().cage, start);
    while (desk().document.undoStack().canRedo()) desk().document.undoStack().redo();
    EXPECT_EQ(job().cage, end);
}

TEST_F(WindowHandGrips, APlateIsPulledOnTheFloorWithItsFeet) {
    lookFrom("top");
    const ResolvedPlate plate = desk().document.geometry().plates.front();
    choose(plate.id, Kind::plate);
    letGo(dragFrom(gripOf(GripKind::plate), {12, 9}));
    const ResolvedPlate after = desk().document.geometry().plates.front();
    EXPECT_GT((after.at - plate.at).norm(), 5);
    EXPECT_NEAR((after.at - plate.at).dot(plate.axes.col(2)), 0, 0.2);
}

TEST_F(WindowHandGrips, ANumberIsTypedAtTheGripAndArrowsNudgeIt) {
    lookFrom("front");
    choose("dash_bar");
    const QPoint at = pixelOf(gripOf(GripKind::landing));
    QTest::mouseClick(&view(), Qt::LeftButton, {}, at);
    settle();
    ASSERT_TRUE(hand().holds());
    const double was = firstLanding("dash_bar").value;
    QTest::keyClick(&view(), Qt::Key_Up);
    EXPECT_NEAR(firstLanding("dash_bar").value, was + 1, 0.11);
    QTest::keyClick(&view(), Qt::Key_Down, Qt::ShiftModifier);
    EXPECT_NEAR(firstLanding("dash_bar").value, was - 9, 0.25);
    QTest::keyClicks(&view(), "4");
    EXPECT_TRUE(hand().box()->isVisible());
    QTest::keyClicks(hand().box(), "12.4");
    QTest::keyClick(hand().box(), Qt::Key_Return);
    settle();
    EXPECT_NEAR(firstLanding("dash_bar").value, 412.4, 1e-6);
    EXPECT_FALSE(hand().box()->isVisible());
    // What it cannot be is said, and nothing moves.
    QTest::keyClicks(&view(), "9");
    QTest::keyClicks(hand().box(), "000");
    QTest::keyClick(hand().box(), Qt::Key_Return);
    EXPECT_NEAR(firstLanding("dash_bar").value, 412.4, 1e-6);
    QTest::keyClick(&view(), Qt::Key_Escape);
    EXPECT_FALSE(hand().holds());
    EXPECT_NEAR(firstLanding("dash_bar").value, 412.4, 1e-6);  // letting go keeps what was done
}

TEST_F(WindowHandGrips, EscapeInADragPutsAllBack) {
    lookFrom("front");
    choose("dash_bar");
    const CageLayout before = job().cage;
    const QPoint end = dragFrom(gripOf(GripKind::landing), {0, 30});
    EXPECT_NE(job().cage, before);
    QTest::keyClick(&view(), Qt::Key_Escape);
    EXPECT_EQ(job().cage, before);
    moveTo(end + QPoint(0, 20));
    letGo(end);
    EXPECT_EQ(job().cage, before);
    EXPECT_FALSE(desk().document.undoStack().canUndo());
}

TEST_F(WindowHandGrips, ItSnapsToLevelAndShowsHowFarItMayGo) {
    lookFrom("front");
    choose("dash_bar");
    // Off level first, by 20 mm.
    const double level = view().grips()[std::size_t(gripOf(GripKind::landing, 1))].at.z();
    letGo(dragFrom(gripOf(GripKind::landing), {0, -20}));
    const int grip = gripOf(GripKind::landing);
    const double off = view().grips()[std::size_t(grip)].at.z() - level;
    ASSERT_GT(std::abs(off), 3);
    const QPoint from = pixelOf(grip);
    const QPoint end =
        dragFrom(grip, {0, from.y() < pixelOf(gripOf(GripKind::landing, 1)).y() ? 19 : -19}, {});
    EXPECT_NEAR(view().grips()[std::size_t(grip)].at.z(), level, 0.01);
    ASSERT_TRUE(waitFor([&] { return hand().range(); }));
    keep("grip_snap");
    letGo(end);
}

TEST_F(WindowHandGrips, ItSnapsToWhereARuleEnds) {
    window_->useTone(Tone::dark);
    lookFrom("front");  // from the side its ends lie over its middle
    choose("belt_bar");
    const int grip = gripOf(GripKind::bar);
    const auto range = gripRange(desk().document.tables(), job(), desk().document.geometry(),
                                 view().grips()[std::size_t(grip)]);
    ASSERT_TRUE(range);
    // The end that is some way off and is a rule's.
    const QPoint from = pixelOf(grip);
    const auto away_px = [&](const GripLimit& end) {
        return end.why.empty() ? 0 : (view().positionOf(end.at)->toPoint() - from).manhattanLength();
    };
    const GripLimit& end = away_px(range->high) > away_px(range->low) ? range->high : range->low;
    ASSERT_GT(away_px(end), 9);  // more than it snaps from
    const QPoint limit = view().positionOf(end.at)->toPoint();
    QTest::mousePress(&view(), Qt::LeftButton, {}, from);
    moveTo(from + (limit - from) / 2);
    // Along its own way: its middle also goes to the side, as its hosts lean.
    const Vec3 across = acrossBar(desk().document.geometry(), view().grips()[std::size_t(grip)]);
    const auto away = [&] {
        return std::abs((view().grips()[std::size_t(gripOf(GripKind::bar))].at - end.at).dot(across));
    };
    // The range is worked out beside the window. A hand that strays along the bar does not count. It comes
    // from where it holds: on the other side something else may be nearer.
    const int back = from.y() < limit.y() ? -1 : 1;
    EXPECT_TRUE(waitFor([&] {
        for (const QPoint off : {QPoint(6, 9 * back), QPoint(-5, 6 * back), QPoint(4, 2 * back)})
            moveTo(limit + off);
        return away() < 0.2;
    })) << away();
    keep("grip_limit_dark");
    letGo(limit);
    window_->useTone(Tone::light);
}

TEST_F(WindowHandGrips, ARuleAboutToFailShowsItsEvidenceBeforeTheButtonIsUp) {
    lookFrom("left");
    choose("belt_bar");
    const QPoint end = dragFrom(gripOf(GripKind::bar), {0, 90});
    EXPECT_GT(desk().document.report().count(Answer::fails), 0);
    EXPECT_TRUE(view().showsEvidence());
    keep("grip_fails");
    letGo(end);
    desk().document.undoStack().undo();
    settle();
    EXPECT_EQ(desk().document.report().count(Answer::fails), 0);
}

TEST_F(WindowHandGrips, FromTheSideAHoopLeansAndItsBendsSeenOnEdgeAreNotInTheWay) {
    lookFrom("left");
    choose("main_hoop");
    const Projection projection(view().view(), view().size());
    for (const Grip& grip : view().grips())
        EXPECT_EQ(bool(gripPlace(grip, view().cage(), projection)), grip.kind != GripKind::corner);
    const Centreline before = desk().document.geometry().members.front().line;
    letGo(dragFrom(gripOf(GripKind::lean), {12, 0}));
    const Centreline& after = desk().document.geometry().members.front().line;
    EXPECT_GT(std::abs(after.point(after.length_mm() / 2).x() - before.point(before.length_mm() / 2).x()),
              10);
    EXPECT_NEAR((after.start() - before.start()).norm(), 0, 1e-6);
}

TEST_F(WindowHandGrips, NothingIsTakenOutsideTheCageStepOrWithManyChosen) {
    choose("dash_bar");
    EXPECT_FALSE(view().grips().empty());
    window_->goTo(Step::car);
    settle();
    EXPECT_TRUE(view().grips().empty());
    window_->goTo(Step::cage);
    desk().selection.set(std::vector<Thing>{{Kind::member, "dash_bar"}, {Kind::member, "belt_bar"}});
    settle();
    EXPECT_TRUE(view().grips().empty());
}

}  // namespace
}  // namespace hoopwright
