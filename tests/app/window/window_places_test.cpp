// The view in windows of its own, on other screens, at other sizes: the picture is always there.
#include <QColor>
#include <QImage>
#include <QSignalSpy>
#include <set>

#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowPlacesTest : public WindowTest {
protected:
    /// What the display shows where the view is.
    QImage onDisplay() {
        settle(300);  // the window has come up
        rest(SmoothPicture::kPasses);
        settle(100);
        return view()
            .screen()
            ->grabWindow(view().window()->winId())
            .toImage()
            .copy(QRect(view().mapTo(view().window(), QPoint()), view().size()));
    }
    /// A picture has many colours; a page that was never drawn has one.
    static int colours(const QImage& picture) {
        std::set<QRgb> seen;
        for (int y = 100; y < picture.height() - 20; y += 5) {
            for (int x = 20; x < picture.width() - 20; x += 5) seen.insert(picture.pixel(x, y));
        }
        return int(seen.size());
    }
};

TEST_F(WindowPlacesTest, ThePictureComesAlongIntoAWindowOfItsOwnAndBack) {
    constexpr int kPicture = 300;
    EXPECT_GT(colours(onDisplay()), kPicture);
    QAction* apart = window_->action(QStringLiteral("View in its own window"));
    for (int n = 0; n < 3; ++n) {
        apart->setChecked(true);
        EXPECT_GT(colours(onDisplay()), kPicture) << "detached, " << n;
        EXPECT_EQ(view().drawn().last, Quality::full);
        apart->setChecked(false);
        EXPECT_GT(colours(onDisplay()), kPicture) << "back, " << n;
        EXPECT_EQ(view().drawn().last, Quality::full);
    }
}

TEST_F(WindowPlacesTest, ClosingTheWindowOfTheViewPutsTheViewBack) {
    window_->action(QStringLiteral("View in its own window"))->setChecked(true);
    settle(300);
    view().window()->close();
    settle(300);
    EXPECT_FALSE(window_->viewIsDetached());
    EXPECT_EQ(view().window(), window_.get());
    EXPECT_FALSE(window_->action(QStringLiteral("View in its own window"))->isChecked());
}

TEST_F(WindowPlacesTest, APictureTakenElsewhereHasTheSameSmoothEdges) {
    window_->viewHost().setLabelled(false);  // names may find another place
    const QImage before = onDisplay();
    QAction* apart = window_->action(QStringLiteral("View in its own window"));
    apart->setChecked(true);
    rest();
    apart->setChecked(false);
    const QImage after = onDisplay();
    ASSERT_EQ(before.size(), after.size());
    int different = 0;
    for (int y = 60; y < before.height(); y += 3) {
        for (int x = 0; x < before.width(); x += 3) {
            const QColor a = before.pixelColor(x, y), b = after.pixelColor(x, y);
            different += std::abs(a.red() - b.red()) + std::abs(a.green() - b.green()) +
                             std::abs(a.blue() - b.blue()) >
                         24;
        }
    }
    EXPECT_LT(different, before.width() * before.height() / 9 / 200) << "half a percent at most";
}

TEST_F(WindowPlacesTest, TheKeysWorkFromTheWindowOfTheView) {
    window_->action(QStringLiteral("View in its own window"))->setChecked(true);
    settle(300);
    desk().document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 61; });
    view().window()->activateWindow();
    EXPECT_TRUE(waitForActive(view().window()));
    QTest::keyClick(view().window(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(job().cage.node_reach_mm, 50);
    QTest::keyClick(view().window(), Qt::Key_F11);
    settle(300);
    EXPECT_FALSE(window_->viewIsDetached());
}

TEST_F(WindowPlacesTest, NothingIsDrawnWhileIdleOrHovering) {
    rest(SmoothPicture::kPasses);
    const auto drafts = view().drawn().drafts, fulls = view().drawn().fulls;
    for (int n = 0; n < 40; ++n) {
        QTest::mouseMove(&view(), QPoint(200 + 8 * n, 200 + 3 * n));
        settle(5);
    }
    settle(400);
    EXPECT_EQ(view().drawn().drafts, drafts);
    EXPECT_EQ(view().drawn().fulls, fulls);
}

TEST_F(WindowPlacesTest, TheSizeOfThePictureFollowsTheWindow) {
    for (const QSize size : {QSize(1000, 640), QSize(1366, 768), QSize(1600, 900)}) {
        window_->resize(size);
        rest();
        EXPECT_EQ(view().drawn().last, Quality::full);
        EXPECT_GE(view().drawn().last_px.width(), view().width());
        EXPECT_GT(colours(onDisplay()), 200) << size.width();
    }
}

}  // namespace
}  // namespace hoopwright
