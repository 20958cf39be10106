#include "app/view/view3d.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QDockWidget>
#include <QMainWindow>
#include <QSignalSpy>
#include <QTest>
#include <QWheelEvent>
#include <cmath>
#include <memory>

#include "app/view/picture.h"
#include "test_cage.h"
#include "tests/approved/approved.h"

namespace hoopwright {
namespace {

double unlike(const QImage& a, const QImage& b) {
    if (a.size() != b.size()) return 255;
    double sum = 0;
    int count = 0;
    for (int y = 0; y < a.height(); y += 2)
        for (int x = 0; x < a.width(); x += 2, ++count) {
            const QRgb p = a.pixel(x, y), q = b.pixel(x, y);
            sum +=
                std::abs(qRed(p) - qRed(q)) + std::abs(qGreen(p) - qGreen(q)) + std::abs(qBlue(p) - qBlue(q));
        }
    return sum / std::max(1, count);
}

// Share of neighbours that differ by a hard step: drawn once, an edge is all steps; smooth, it is few.
double hardSteps(const QImage& image) {
    int hard = 0, all = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 1; x < image.width(); ++x, ++all)
            hard += std::abs(qGray(image.pixel(x, y)) - qGray(image.pixel(x - 1, y))) > 48;
    return static_cast<double>(hard) / all;
}

// Longer than anything here takes on a machine that does much else besides.
constexpr int kPatience_ms = 120'000;

// A window with the view in a dock, as the program has it.
class View3dWindow : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(SceneSurface::possibleHere()) << "run with QT_QPA_PLATFORM=xcb under Xvfb";
        window_.resize(900, 620);
        dock_ = new QDockWidget("View", &window_);
        view_ = new View3d;
        dock_->setWidget(view_);
        window_.addDockWidget(Qt::LeftDockWidgetArea, dock_);
        view_->setJob(testJob(), testCage());
        window_.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&window_, kPatience_ms));
        settle();
    }

    // Until the full picture stands and nothing more is due.
    void settle() {
        const auto still = [&] {
            return !view_->flying() && view_->drawn().passes == SmoothPicture::kPasses;
        };
        QTest::qWait(30);
        ASSERT_TRUE(QTest::qWaitFor(still, kPatience_ms));
        QTest::qWait(60);
    }

    QPoint on(std::string_view member, double fraction = 0.5) const {
        const auto& line = view_->cage().members[static_cast<std::size_t>(view_->cage().member(member))].line;
        return view_->positionOf(line.point(fraction * line.length_mm())).value_or(QPointF(-1, -1)).toPoint();
    }

    void drag(Qt::MouseButton button, QPoint from, QPoint by, Qt::KeyboardModifiers keys = {}) {
        QTest::mousePress(view_, button, keys, from);
        for (int step = 1; step <= 6; ++step) {
            // QTest::mouseMove knows no buttons on a window that is not the top level, so the events are made
            // here.
            const QPointF at = QPointF(from) + QPointF(by) * (step / 6.0);
            QMouseEvent move(QEvent::MouseMove, at, view_->mapToGlobal(at), Qt::NoButton, button, keys);
            QApplication::sendEvent(view_, &move);
            QTest::qWait(5);
        }
        QTest::mouseRelease(view_, button, keys, from + by);
    }

    void hover(QPoint at) {
        QMouseEvent move(QEvent::MouseMove, QPointF(at), view_->mapToGlobal(QPointF(at)), Qt::NoButton,
                         Qt::NoButton, {});
        QApplication::sendEvent(view_, &move);
    }

    void turnWheel(QPoint at, int notches) {
        QWheelEvent wheel(QPointF(at), view_->mapToGlobal(QPointF(at)), {}, QPoint(0, 120 * notches),
                          Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase, false);
        QApplication::sendEvent(view_, &wheel);
    }

    int frames() const { return view_->drawn().drafts + view_->drawn().fulls + view_->drawn().passes; }

    QMainWindow window_;
    QDockWidget* dock_ = nullptr;
    View3d* view_ = nullptr;
};

TEST_F(View3dWindow, IsThePictureOfTheCommandLine) {
    const QImage window = view_->grabFramebuffer();
    PictureOptions options;
    options.from = view_->view();
    options.width_px = window.width();
    options.height_px = window.height();
    options.look = view_->look();
    options.written = false;
    const auto alone = composePicture(testJob(), testCage(), options);
    ASSERT_TRUE(alone) << alone.reason();
    const auto off = testing_approved::unlike(*alone, window);
    EXPECT_LT(off.mean, 1.5);
    EXPECT_LT(off.share, 0.01);
}

TEST_F(View3dWindow, DrawsTheCageAndMakesItsEdgesSmooth) {
    QImage first;
    const auto take = [&] { first = view_->grabFramebuffer(); };
    // On a busy machine it may have gone on before we look: then once more.
    const auto first_pass = [&] {
        if (view_->drawn().passes > 1) view_->jumpTo(view_->view());
        return view_->drawn().passes == 1;
    };
    ASSERT_TRUE(QTest::qWaitFor(first_pass, kPatience_ms));
    take();
    settle();
    const QImage smooth = view_->grabFramebuffer();
    EXPECT_EQ(smooth.width(), std::lround(view_->width() * view_->devicePixelRatio()));
    EXPECT_LT(hardSteps(smooth), hardSteps(first));
    EXPECT_LT(unlike(first, smooth), 6) << "the same picture, only smoother";
    QSet<QRgb> colours;
    for (int y = 0; y < smooth.height(); y += 5)
        for (int x = 0; x < smooth.width(); x += 5) colours.insert(smooth.pixel(x, y));
    EXPECT_GT(colours.size(), 200);
}

TEST_F(View3dWindow, AClickPicksTheBarUnderIt) {
    QSignalSpy spy(view_, &View3d::picked);
    for (const auto* id : {"belt_bar", "windshield_bar", "door_bar.left"}) {
        spy.clear();
        QTest::mouseClick(view_, Qt::LeftButton, {}, on(id, 0.45));
        ASSERT_EQ(spy.count(), 1) << id;
        const auto what = spy[0][0].value<Picked>();
        ASSERT_GE(what.member, 0) << id;
        EXPECT_EQ(view_->cage().members[static_cast<std::size_t>(what.member)].id, id);
    }
    spy.clear();
    QTest::mouseClick(view_, Qt::LeftButton, {}, QPoint(4, 4));
    ASSERT_EQ(spy.count(), 1);
    EXPECT_FALSE(spy[0][0].value<Picked>()) << "a click on nothing says so";
}

TEST_F(View3dWindow, LeftAndMiddleDragsTurnAboutTheTarget) {
    for (const auto button : {Qt::LeftButton, Qt::MiddleButton}) {
        QSignalSpy picked(view_, &View3d::picked);
        const View before = view_->view();
        drag(button, QPoint(60, 60), QPoint(90, 20));
        const View after = view_->view();
        EXPECT_GT((after.eye - before.eye).norm(), 100);
        EXPECT_LT((after.target - before.target).norm(), 1e-9);
        EXPECT_NEAR((after.eye - after.target).norm(), (before.eye - before.target).norm(), 1e-6);
        EXPECT_EQ(picked.count(), 0) << "a drag is no click";
    }
}

TEST_F(View3dWindow, ARightDragMovesThePictureWithTheHand) {
    const Vec3 target = view_->view().target;
    for (const bool shifted : {false, true}) {
        const QPointF before = *view_->positionOf(target);
        drag(shifted ? Qt::LeftButton : Qt::RightButton, QPoint(60, 60), QPoint(80, -30),
             shifted ? Qt::ShiftModifier : Qt::NoModifier);
        const QPointF moved = *view_->positionOf(target) - before;
        EXPECT_NEAR(moved.x(), 80, 1.5);
        EXPECT_NEAR(moved.y(), -30, 1.5);
    }
}

TEST_F(View3dWindow, TheWheelKeepsThePointUnderTheCursor) {
    for (const bool flat : {false, true}) {
        view_->setOrthographic(flat);
        const QPoint at = on("door_bar.left", 0.3);
        const Picked before = view_->pickAt(at);
        ASSERT_TRUE(before);
        for (const int notches : {1, 1, 1, -1, 2, -3}) {
            turnWheel(at, notches);
            const auto now = view_->positionOf(before.at);
            ASSERT_TRUE(now);
            EXPECT_NEAR(now->x(), at.x(), 0.6) << flat;
            EXPECT_NEAR(now->y(), at.y(), 0.6) << flat;
        }
    }
}

TEST_F(View3dWindow, TheWheelGoesNearerWhenPushedAway) {
    const double before = (view_->view().eye - view_->view().target).norm();
    turnWheel(view_->rect().center(), 2);
    EXPECT_LT((view_->view().eye - view_->view().target).norm(), before);
}

TEST_F(View3dWindow, NothingIsDrawnWhileIdle) {
    const int before = frames();
    QTest::qWait(700);
    EXPECT_EQ(frames(), before);
}

TEST_F(View3dWindow, HoveringNamesTheBarAndDrawsNoFrame) {
    QSignalSpy hovered(view_, &View3d::hovered);
    const int before = frames();
    const QImage plain = view_->grab().toImage();
    const int grabbed = frames() - before;  // a grab itself may draw
    const QPoint at = on("belt_bar", 0.4);
    for (int step = -12; step <= 0; ++step) {
        hover(at + QPoint(3 * step, 2 * step));
        QTest::qWait(8);
    }
    EXPECT_EQ(frames(), before + grabbed);
    ASSERT_GE(hovered.count(), 1);
    EXPECT_EQ(hovered.last()[0].value<Picked>().member, view_->cage().member("belt_bar"));
    EXPECT_GT(unlike(plain, view_->grab().toImage()), 0.05) << "the overlay shows the name";
}

TEST_F(View3dWindow, APictureThatMovesIsADraftAndThenBecomesFull) {
    const auto before = view_->drawn();
    QTest::mousePress(view_, Qt::MiddleButton, {}, QPoint(200, 200));
    for (int step = 1; step <= 5; ++step) {
        const QPointF at(200 + 8 * step, 200);
        QMouseEvent move(QEvent::MouseMove, at, view_->mapToGlobal(at), Qt::NoButton, Qt::MiddleButton, {});
        QApplication::sendEvent(view_, &move);
        QTest::qWait(1);
    }
    QElapsedTimer clock;
    clock.start();
    EXPECT_TRUE(QTest::qWaitFor([&] { return view_->drawn().drafts > before.drafts; }, kPatience_ms));
    EXPECT_TRUE(QTest::qWaitFor([&] { return view_->drawn().fulls > before.fulls; }, kPatience_ms));
    const auto waited_ms = clock.elapsed();
    QTest::mouseRelease(view_, Qt::MiddleButton, {}, QPoint(240, 200));
    EXPECT_EQ(view_->drawn().last, Quality::full);
    // The aim is 250 on a quiet machine: kept beside the result, never asserted.
    RecordProperty("full_after_ms", static_cast<int>(waited_ms));
}

TEST_F(View3dWindow, DockingAndUndockingKeepsPictureAndSmoothEdges) {
    const QImage before = view_->grabFramebuffer();
    const double steps = hardSteps(before);
    const QSize size = view_->size();
    for (int round = 0; round < 2; ++round) {
        dock_->setFloating(true);
        settle();
        EXPECT_EQ(view_->drawn().passes, SmoothPicture::kPasses);
        EXPECT_TRUE(view_->isValid());
        dock_->setFloating(false);
        settle();
    }
    ASSERT_EQ(view_->size(), size);
    EXPECT_NEAR(hardSteps(view_->grabFramebuffer()), steps, 0.05 * steps + 1e-6);
    EXPECT_EQ(view_->drawn().passes, SmoothPicture::kPasses);
    EXPECT_LT(unlike(before, view_->grabFramebuffer()), 0.5);
}

TEST_F(View3dWindow, AResizeKeepsThePicture) {
    const QImage before = view_->grabFramebuffer();
    window_.resize(640, 480);
    settle();
    EXPECT_EQ(view_->drawn().last_px.width(), std::lround(view_->width() * view_->devicePixelRatio()));
    window_.resize(900, 620);
    settle();
    EXPECT_LT(unlike(before, view_->grabFramebuffer()), 0.5);
}

TEST_F(View3dWindow, TheFirstCoarsePictureAfterAWholeOneFillsTheView) {
    window_.resize(1800, 1100);
    settle();
    const int whole = int(std::lround(view_->width() * view_->devicePixelRatio()));
    View aside = view_->view();
    for (int n = 0; n < 40 && view_->drawn().last_px.width() >= whole; ++n) {
        aside.eye.x() += 1;
        view_->jumpTo(aside);
        view_->grabFramebuffer();  // draws
    }
    settle();
    aside.eye.x() += 1;
    view_->jumpTo(aside);
    const QImage first = view_->grabFramebuffer();
    // On a machine that draws every draft whole it is not coarse, and fills the view all the same.
    EXPECT_LT(unlike(first, view_->grabFramebuffer()), 0.5) << "drawn again it is the same";
}

Box testCageBounds() {
    Box box;
    for (const auto& member : testCage().members) box.extend(member.line.bounds());
    return box;
}

TEST_F(View3dWindow, KeysChooseTheStandardViewsByAFlight) {
    view_->setFocus();
    for (std::size_t i = 0; i < 7; ++i) {
        QTest::keyClick(view_, static_cast<Qt::Key>(Qt::Key_1 + static_cast<int>(i)));
        EXPECT_TRUE(view_->flying());
        settle();
        const double aspect = static_cast<double>(view_->width()) / view_->height();
        const View wanted = standardView(standardViews()[i], testCageBounds(), aspect);
        EXPECT_GT(view_->view().forward().dot(wanted.forward()), 0.999) << standardViews()[i];
        EXPECT_EQ(view_->orthographic(), wanted.orthographic_height_mm > 0);
    }
}

TEST_F(View3dWindow, ArrowsTurnShiftedArrowsMoveAndPlusComesNearer) {
    const View start = view_->view();
    QTest::keyClick(view_, Qt::Key_Right);
    EXPECT_GT((view_->view().eye - start.eye).norm(), 1);
    EXPECT_LT((view_->view().target - start.target).norm(), 1e-9);
    const View turned = view_->view();
    QTest::keyClick(view_, Qt::Key_Up, Qt::ShiftModifier);
    EXPECT_GT((view_->view().target - turned.target).norm(), 1);
    const double arm = (view_->view().eye - view_->view().target).norm();
    QTest::keyClick(view_, Qt::Key_Plus);
    EXPECT_LT((view_->view().eye - view_->view().target).norm(), arm);
    QTest::keyClick(view_, Qt::Key_O);
    EXPECT_TRUE(view_->orthographic());
}

TEST_F(View3dWindow, ADoubleClickGoesToTheBar) {
    const QPoint at = on("windshield_bar", 0.4);
    QTest::mouseDClick(view_, Qt::LeftButton, {}, at);
    EXPECT_TRUE(view_->flying());
    settle();
    const auto bar = view_->cage().members[3].line;
    EXPECT_LT((view_->view().target - bar.point(bar.length_mm() / 2)).norm(), 400);
    const auto from = view_->positionOf(bar.start()), to = view_->positionOf(bar.end());
    ASSERT_TRUE(from && to);
    EXPECT_TRUE(view_->rect().contains(from->toPoint()) && view_->rect().contains(to->toPoint()));
}

TEST_F(View3dWindow, WhileAskedForAPointAClickAnswersAndEscapeStops) {
    QSignalSpy picked(view_, &View3d::picked), answered(view_, &View3d::pickedPoint),
        stopped(view_, &View3d::askingStopped);
    view_->askForPoint("Click the bar it lands on");
    QTest::mouseClick(view_, Qt::LeftButton, {}, on("belt_bar", 0.4));
    EXPECT_EQ(picked.count(), 0);
    ASSERT_EQ(answered.count(), 1);
    const auto what = answered[0][0].value<Picked>();
    EXPECT_EQ(what.member, view_->cage().member("belt_bar"));
    // The skin is met before the axis: off by up to the radius where the bar is seen at 45 degrees or more.
    const ResolvedMember& bar = view_->cage().members[4];
    EXPECT_NEAR(what.station_mm, 0.4 * bar.line.length_mm(), bar.radius_mm());
    QTest::keyClick(view_, Qt::Key_Escape);
    EXPECT_EQ(stopped.count(), 1);
    EXPECT_FALSE(view_->asking());
}

TEST_F(View3dWindow, AFindingIsFlownToAndWrittenBesideItsMeasure) {
    Finding finding;
    finding.title = "Belt bar height against shoulder";
    finding.answer = Answer::fails;
    finding.dimension = Dimension::length;
    finding.value = 131, finding.limit = 100, finding.margin = -31;
    finding.evidence.shapes = {ShownLine{{0, 0, 720}, {0, 0, 589}, true}};
    finding.evidence.members = {"belt_bar"};
    finding.evidence.look_at = {0, 0, 650};
    view_->showEvidence(finding);
    view_->flyToFinding(finding);
    settle();
    const auto from = view_->positionOf({0, 0, 720}), to = view_->positionOf({0, 0, 589});
    ASSERT_TRUE(from && to);
    EXPECT_GT(QLineF(*from, *to).length(), 60) << "the measured line is not seen end on";
    bool card = false, measure = false;
    for (const auto& label : view_->overlay().shown()) {
        for (const auto& run : label.block.runs) {
            card |= run.text.contains("Belt bar height");
            measure |= run.text == "131.0 mm";
        }
    }
    EXPECT_TRUE(card);
    EXPECT_TRUE(measure);
    view_->clearEvidence();
    settle();
    EXPECT_TRUE(view_->overlay().shown().empty());
}

TEST_F(View3dWindow, LabelsAreDrawnInThePersonsUnitAndFollowTheCamera) {
    view_->setLabels(barLabels(view_->cage(), LengthUnit::in));
    settle();
    const auto before = view_->overlay().shown();
    ASSERT_GE(before.size(), 5u);
    const auto inches = [](const Overlay::Shown& label) {
        return label.block.runs.back().text.startsWith("Ø1.");
    };
    EXPECT_TRUE(std::all_of(before.begin(), before.end(), inches));
    drag(Qt::RightButton, QPoint(60, 60), QPoint(20, 10));
    settle();
    int moved = 0;
    for (const auto& now : view_->overlay().shown())
        for (const auto& then : before)
            moved += now.key == then.key && std::abs(now.place.box.x() - then.place.box.x() - 20) < 4;
    EXPECT_GE(moved, 3);
}

}  // namespace
}  // namespace hoopwright
