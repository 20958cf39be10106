// The whole window, driven by mouse and keys on a display of its own.
#include "window_fixture.h"

namespace hoopwright {
namespace {

TEST_F(WindowTest, AClickInTheListPutsTheBarIntoDetailsAndView) {
    click(list(), rowCalled(list(), QStringLiteral("Belt bar")));
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(desk().selection.last()->id, "belt_bar");
    EXPECT_THAT(window_->viewHost().view()->selected(), testing::ElementsAre("belt_bar"));
    keep(QStringLiteral("window_bar"));
}

TEST_F(WindowTest, AHeightTypedInTheDetailsMovesTheBar) {
    desk().selection.set({Kind::member, "belt_bar"});
    const double was = desk()
                           .document.geometry()
                           .members[std::size_t(desk().document.geometry().member("belt_bar"))]
                           .ends[0]
                           .at.z();
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    type(height, QStringLiteral("less 31"));
    const auto& bar =
        desk().document.geometry().members[std::size_t(desk().document.geometry().member("belt_bar"))];
    EXPECT_NEAR(bar.ends[0].at.z(), was - 31, 1e-6);
    EXPECT_EQ(desk().document.undoStack().count(), 1);
    type(height, QStringLiteral("20 1/4"));
    EXPECT_NEAR(std::get<Landing>(job().cage.member("belt_bar")->path[0].place).value, 514.35, 1e-9);
    QTest::keyClick(height, Qt::Key_Z, Qt::ControlModifier);
    settle();
    EXPECT_EQ(desk().document.undoStack().index(), 1);
}

TEST_F(WindowTest, AWrongEntrySaysWhyAndChangesNothing) {
    desk().selection.set({Kind::member, "belt_bar"});
    const Job before = job();
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    type(height, QStringLiteral("abc"));
    EXPECT_TRUE(job() == before);
    EXPECT_THAT(height->complaint().toStdString(), testing::HasSubstr("abc"));
    bool shown = false;
    for (const auto* label : window_->details().form()->findChildren<QLabel*>())
        shown = shown || (label->isVisible() && label->text() == height->complaint());
    EXPECT_TRUE(shown);
    QTest::keyClick(height, Qt::Key_Escape);
    EXPECT_TRUE(height->complaint().isEmpty());
    EXPECT_EQ(height->text(), QStringLiteral("515.0"));
}

TEST_F(WindowTest, TheTapeTakesTypedValuesAndOneDragIsOneUndo) {
    desk().selection.set({Kind::member, "belt_bar"});
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    height->setFocus();
    settle();
    TapeStrip& tape = window_->tapeStrip();
    const auto now = [&] { return std::get<Landing>(job().cage.member("belt_bar")->path[0].place).value; };
    type(tape.field(), QStringLiteral("+1/16"));
    EXPECT_NEAR(now(), 515 + 25.4 / 16, 1e-9);
    const int steps = desk().document.undoStack().count();
    const QPoint from(40, 20);
    QTest::mousePress(&tape, Qt::LeftButton, {}, from);
    for (int dx = 4; dx <= 80; dx += 4) QTest::mouseMove(&tape, from + QPoint(dx, 0));
    QTest::mouseRelease(&tape, Qt::LeftButton, {}, from + QPoint(80, 0));
    settle();
    EXPECT_NEAR(now(), 515 + 25.4 / 16 - 20, 0.3);
    EXPECT_EQ(desk().document.undoStack().count(), steps + 1);
    EXPECT_EQ(height->text(), tape.field()->text());
}

TEST_F(WindowTest, AnEditWithEveryPanelOpenNeverKeepsAHandWaiting) {
    desk().selection.set({Kind::member, "main_hoop"});
    rest();
    constexpr int kEdits = 40;
    QElapsedTimer clock;
    clock.start();
    const QByteArray key = desk().document.newKey();
    for (int n = 1; n <= kEdits; ++n) {
        desk().document.edit(
            QStringLiteral("drag"),
            [&](Job& job) {
                std::get<FixedPoint>(findMember(job.cage, "main_hoop")->path[2].place).at.z() += 0.5;
            },
            key);
    }
    const double each_ms = double(clock.elapsed()) / kEdits;
    RecordProperty("edit_ms", QString::number(each_ms).toStdString());
    std::printf("one edit, everything re-checked and every panel refreshed: %d us\n", int(each_ms * 1000));
    EXPECT_LT(each_ms, 250);  // about 2 on two quiet cores; the bound only catches a slip of an order
}

TEST_F(WindowTest, AFindingClickedIsDrawnAndExplained) {
    ASSERT_TRUE(window_->openFile(demo_.root() / "cages" / "faults" / "hillclimb_saloon.yaml"));
    settle();
    QListView* shorts = window_->fallsShort().list();
    ASSERT_GT(shorts->model()->rowCount(), 0);
    click(shorts, shorts->model()->index(0, 0));
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(desk().selection.last()->kind, Kind::finding);
    EXPECT_TRUE(window_->viewHost().view()->showsEvidence());
    keep(QStringLiteral("window_finding"));
    QTest::keyClick(window_.get(), Qt::Key_F4);
    settle();
    EXPECT_EQ(shorts->currentIndex().row(), 1);
    QTest::keyClick(window_.get(), Qt::Key_Escape);
    settle();
    EXPECT_FALSE(window_->viewHost().view()->showsEvidence());
}

TEST_F(WindowTest, SeveralBarsTakeOneTubeTogether) {
    click(list(), rowCalled(list(), QStringLiteral("Belt bar")));
    click(list(), rowCalled(list(), QStringLiteral("Hoop diagonal")), Qt::ControlModifier);
    ASSERT_EQ(desk().selection.layoutIds(Kind::member).size(), 2u);
    auto choices = window_->details().form()->findChildren<ChoiceField*>();
    ASSERT_FALSE(choices.isEmpty());
    ChoiceField* tube = choices.front();
    const int other = tube->findData(QString::fromStdString(job().cage.member("main_hoop")->stock));
    ASSERT_GE(other, 0);
    tube->setCurrentIndex(other);
    emit tube->activated(other);
    settle();
    EXPECT_EQ(job().cage.member("belt_bar")->stock, job().cage.member("main_hoop")->stock);
    EXPECT_EQ(job().cage.member("hoop_diagonal")->stock, job().cage.member("main_hoop")->stock);
    EXPECT_EQ(desk().document.undoStack().count(), 1);
}

TEST_F(WindowTest, DeletingAHostAsksAndKeepingLeavesTheRestInPlace) {
    desk().selection.set({Kind::member, "main_hoop"});
    const std::size_t bars = job().cage.members.size();
    QTimer::singleShot(300, [] {
        auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
        ASSERT_NE(box, nullptr);
        QTest::mouseClick(box->findChild<QPushButton*>(QStringLiteral("keep")), Qt::LeftButton);
    });
    window_->action(QStringLiteral("Delete"))->trigger();
    settle();
    EXPECT_EQ(job().cage.members.size(), bars - 1);
    EXPECT_TRUE(std::holds_alternative<FixedPoint>(job().cage.member("belt_bar")->path[0].place));
    window_->action(QStringLiteral("Undo"))->trigger();
    EXPECT_EQ(job().cage.members.size(), bars);
}

TEST_F(WindowTest, TwoClicksInTheViewMakeABarBetweenThem) {
    View3d& view = *window_->viewHost().view();
    lookFrom("front");
    const CageGeometry& cage = desk().document.geometry();
    const Centreline& hoop = cage.members[std::size_t(cage.member("main_hoop"))].line;
    // Somewhere on each leg of the hoop that can be seen and picked from here.
    const auto visible = [&](double from, double to) {
        for (int n = 0; n <= 60; ++n) {
            const Vec3 at = hoop.point(hoop.length_mm() * (from + (to - from) * n / 60));
            const auto place = view.positionOf(at);
            if (!place || place->y() < 80) continue;
            const Picked what = view.pickAt(*place);
            if (what.member == cage.member("main_hoop")) return place->toPoint();
        }
        ADD_FAILURE() << "the hoop cannot be picked";
        return QPoint();
    };
    const QPoint first = visible(0.1, 0.35), second = visible(0.9, 0.65);
    const std::size_t bars = job().cage.members.size();
    pickTwoAndInsert(desk(), "seat_bar");
    EXPECT_TRUE(view.asking());
    QTest::mouseClick(&view, Qt::LeftButton, {}, first);
    settle();
    EXPECT_TRUE(view.asking());
    QTest::mouseClick(&view, Qt::LeftButton, {}, second);
    settle();
    EXPECT_FALSE(view.asking());
    ASSERT_EQ(job().cage.members.size(), bars + 1);
    const Member& made = job().cage.members.back();
    EXPECT_EQ(made.role, "seat_bar");
    EXPECT_EQ(std::get<Landing>(made.path[0].place).host, "main_hoop");
    EXPECT_EQ(std::get<Landing>(made.path[1].place).host, "main_hoop");
}

TEST_F(WindowTest, UnitsSwitchEveryFieldAndNoValue) {
    desk().selection.set({Kind::member, "belt_bar"});
    const Job before = job();
    ValueField* height = field(QStringLiteral("Belt bar, first end, height"));
    ASSERT_NE(height, nullptr);
    desk().setUnits(UnitsShown::in);
    settle();
    EXPECT_EQ(height->text(), QStringLiteral("20.27559"));
    keep(QStringLiteral("window_inches"));
    desk().setUnits(UnitsShown::mm);
    EXPECT_EQ(height->text(), QStringLiteral("515.0"));
    EXPECT_TRUE(job() == before);
}

TEST_F(WindowTest, AFewLettersFindABarARuleAndACommand) {
    auto* find = window_->findChild<FindBox*>();
    ASSERT_NE(find, nullptr);
    QTest::keyClick(window_.get(), Qt::Key_F, Qt::ControlModifier);
    settle();
    EXPECT_TRUE(find->hasFocus());
    QTest::keyClicks(find, QStringLiteral("belt b"));
    QTest::keyClick(find, Qt::Key_Return);
    settle();
    ASSERT_NE(desk().selection.last(), nullptr);
    find->setFocus();
    QTest::keyClicks(find, QStringLiteral("step ord"));
    QTest::keyClick(find, Qt::Key_Return);
    settle();
    EXPECT_EQ(window_->step(), Step::order);
}

TEST_F(WindowTest, EveryStepHasItsListAndTheViewStays) {
    for (const auto& [step, name] :
         {std::pair{Step::car, "car"}, std::pair{Step::driver, "driver"}, std::pair{Step::cage, "cage"},
          std::pair{Step::check, "check"}, std::pair{Step::order, "order"}}) {
        QTest::keyClick(window_.get(), Qt::Key(Qt::Key_1 + int(step)), Qt::ControlModifier);
        ASSERT_EQ(window_->step(), step);
        if (step == Step::order) {
            EXPECT_TRUE(waitFor([&] { return list()->model()->rowCount() > 0; }));
        }
        EXPECT_GT(list()->model()->rowCount(), 0) << name;
        EXPECT_TRUE(window_->viewHost().view()->isVisible()) << name;
        if (step == Step::car) desk().selection.set({Kind::car_point, job().car.points.front().name});
        if (step == Step::driver) desk().selection.set({Kind::driver, job().drivers.front().id});
        keep(QStringLiteral("window_") + QLatin1String(name));
    }
}

TEST_F(WindowTest, TheViewGoesIntoItsOwnWindowAndBack) {
    View3d* view = window_->viewHost().view();
    QAction* apart = window_->action(QStringLiteral("View in its own window"));
    for (int n = 0; n < 2; ++n) {
        apart->setChecked(true);
        settle(400);
        EXPECT_TRUE(window_->viewIsDetached());
        EXPECT_NE(view->window(), window_.get());
        EXPECT_TRUE(view->isVisible());
        apart->setChecked(false);
        settle(400);
        EXPECT_EQ(view->window(), window_.get());
        EXPECT_TRUE(view->isVisible());
    }
    keep(QStringLiteral("window_view_back"));
    EXPECT_GT(view->drawn().fulls, 0);
}

TEST_F(WindowTest, EveryControlHasAName) {
    for (const Thing& thing :
         {Thing{Kind::member, "main_hoop"}, Thing{Kind::plate, "hoop_foot.left"},
          Thing{Kind::driver, job().drivers.front().id}, Thing{Kind::car_facts, "car"}}) {
        desk().selection.set(thing);
        settle();
        for (QWidget* one : window_->findChildren<QWidget*>()) {
            if (!one->isVisible() || !(one->focusPolicy() & Qt::TabFocus)) continue;
            if (qobject_cast<QAbstractButton*>(one) && !static_cast<QAbstractButton*>(one)->text().isEmpty())
                continue;
            if (one->inherits("QScrollArea") || one->inherits("QMenuBar")) continue;
            EXPECT_FALSE(one->accessibleName().isEmpty())
                << one->metaObject()->className() << " under " << one->parent()->metaObject()->className();
        }
    }
}

TEST_F(WindowTest, LostWorkIsOfferedAndTaken) {
    const QString root = window_->recovery().root();
    desk().document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 77; });
    window_->recovery().flush();
    // The folder of a program that was killed: the same files under a lock nobody holds.
    const QString own = QDir(root).entryList(QDir::Dirs | QDir::NoDotAndDotDot).front();
    const QString lost = root + QStringLiteral("/4000000-0");
    QDir().mkpath(lost);
    for (const QString& name : QDir(root + QLatin1Char('/') + own).entryList(QDir::Files)) {
        if (name != QStringLiteral("owner"))
            QFile::copy(root + QLatin1Char('/') + own + QLatin1Char('/') + name,
                        lost + QLatin1Char('/') + name);
    }
    ASSERT_TRUE(desk().document.save().empty());
    desk().document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 10; });
    desk().document.undoStack().undo();
    QTimer::singleShot(300, [] {
        auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
        ASSERT_NE(box, nullptr);
        QTest::mouseClick(box->findChild<QPushButton*>(QStringLiteral("take")), Qt::LeftButton);
    });
    window_->offerLostWork();
    EXPECT_EQ(job().cage.node_reach_mm, 77);
    EXPECT_TRUE(desk().document.dirty());
    EXPECT_FALSE(QDir(lost).exists());
    ASSERT_TRUE(desk().document.save().empty());
}

TEST_F(WindowTest, DarkIsReadableToo) {
    window_->useTone(Tone::dark);
    desk().selection.set({Kind::member, "main_hoop"});
    keepApproved(QStringLiteral("window_dark"));
    EXPECT_TRUE(window_->viewHost().view()->look().dark);
    window_->useTone(Tone::light);
    EXPECT_FALSE(window_->viewHost().view()->look().dark);
}

class WindowSmallTest : public WindowTest {
protected:
    WindowSmallTest() : WindowTest({1366, 768}) {}
};

TEST_F(WindowSmallTest, TheViewKeepsHalfOfASmallScreen) {
    EXPECT_GE(window_->viewHost().width(), 1366 / 2);
    EXPECT_GE(window_->viewHost().height(), 768 / 2);
    desk().selection.set({Kind::member, "main_hoop"});
    keepApproved(QStringLiteral("window_1366"));
    for (const int width : {1280, 1200, 1100, 1000, 900}) {
        window_->resize(width, 768);
        settle();
        EXPECT_GE(window_->viewHost().width(), width * 0.475) << width;
        // A screen of 1920 at one and a half times the size.
        if (width == 1280) {
            EXPECT_TRUE(window_->leftPages().isVisible() && window_->rightPanel().isVisible());
        }
    }
    EXPECT_FALSE(window_->rightPanel().isVisible());
    window_->resize(1366, 768);
    settle();
    EXPECT_TRUE(window_->rightPanel().isVisible());
    EXPECT_TRUE(window_->leftPages().isVisible());
}

class WindowLargeTest : public WindowTest {
protected:
    WindowLargeTest() : WindowTest({1920, 1080}) {}
};

TEST_F(WindowLargeTest, ALargeScreenIsUsed) {
    desk().setUnits(UnitsShown::both);
    desk().selection.set({Kind::member, "belt_bar"});
    if (auto* height = field(QStringLiteral("Belt bar, first end, height"))) height->setFocus();
    EXPECT_GE(window_->viewHost().width(), 1920 / 2);
    keepApproved(QStringLiteral("window_1920"));
    desk().setUnits(UnitsShown::mm);
}

}  // namespace
}  // namespace hoopwright
