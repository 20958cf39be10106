// A bar drawn in the real window, click by click.
#include "app/view/projection.h"
#include "app/window/draw_bar.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowHandDraw : public WindowTest {
protected:
    DrawBar& drawing() { return *window_->viewHost().drawing(); }
    /// Through the dialog, as a person goes: a role, then the button.
    void beginThroughTheDialog(const QString& role) {
        QTimer::singleShot(0, [&] {
            auto* dialog = qobject_cast<AddBar*>(QApplication::activeModalWidget());
            ASSERT_NE(dialog, nullptr);
            QTest::keyClicks(dialog->findChild<QLineEdit*>(), role);
            for (auto* button : dialog->findChildren<QPushButton*>())
                if (button->text() == QStringLiteral("Draw it with bends"))
                    QTest::mouseClick(button, Qt::LeftButton);
        });
        QTest::keyClick(window_.get(), Qt::Key_B, Qt::ControlModifier);
        settle();
    }
    void clickAt(const Vec3& at, QPoint off = {}) {
        const auto pixel = view().positionOf(at);
        ASSERT_TRUE(pixel);
        QTest::mouseMove(&view(), pixel->toPoint() + off);
        QTest::mouseClick(&view(), Qt::LeftButton, {}, pixel->toPoint() + off);
        settle();
    }
    QImage seen() {
        rest(SmoothPicture::kPasses);
        return view().grab().toImage();
    }
    /// What there is of the bar is drawn up to the pointer: the picture is another along the line from the
    /// last place to it, and nowhere beside that line once the pointer is there.
    void expectALineToThePointer(const Vec3& from, const Vec3& to) {
        const QPointF begin = *view().positionOf(from), end = *view().positionOf(to);
        QTest::mouseMove(&view(), QPoint(8, view().height() - 8));
        const QImage away = seen();
        QTest::mouseMove(&view(), end.toPoint());
        const QImage there = seen();
        ASSERT_EQ(away.size(), there.size());
        const double scale = there.devicePixelRatio();
        const auto differs = [&](QPointF at) {
            for (int dx = -2; dx <= 2; ++dx)
                for (int dy = -2; dy <= 2; ++dy) {
                    const QPoint p = (scale * at).toPoint() + QPoint(dx, dy);
                    if (away.pixel(p) != there.pixel(p)) return true;
                }
            return false;
        };
        int on_line = 0;
        for (int n = 1; n < 20; ++n) on_line += differs(begin + n / 20.0 * (end - begin));
        EXPECT_GE(on_line, 15) << "of nineteen places between the last click and the pointer";
    }
    const ResolvedMember& bar(const std::string& id) {
        const CageGeometry& cage = desk().document.geometry();
        return cage.members.at(std::size_t(cage.member(id)));
    }
};

TEST_F(WindowHandDraw, FromBarToBarWithABendBetween) {
    lookFrom("left");
    const Centreline hoop = bar("main_hoop").line;
    const Vec3 begin = hoop.point(250);
    const Centreline side = bar("side_bar.left").line;
    const Vec3 end = side.point(side.length_mm() - 250);
    const std::size_t bars = job().cage.members.size();
    const int steps = desk().document.undoStack().index();
    beginThroughTheDialog(QStringLiteral("door"));
    ASSERT_TRUE(drawing().drawing());
    EXPECT_THAT(desk().pickAsks().toStdString(), testing::HasSubstr("begins"));
    clickAt(begin);
    ASSERT_EQ(drawing().places().size(), 1u);
    EXPECT_EQ(drawing().places()[0].id, "main_hoop");
    expectALineToThePointer(begin, begin + 0.6 * (end - begin));
    // A place where no bar is, of either side.
    Vec3 bend = 0.5 * (begin + end);
    const auto isFree = [&](const Vec3& at) {
        const Projection seen(view().view(), view().size());
        const auto [from, way] = seen.ray(*view().positionOf(at));
        return drawnAt(job(), desk().document.geometry(), from, way, 20, {}, {}).on ==
               DrawnPlace::On::nothing;
    };
    for (int n = 0; n < 40 && !isFree(bend); ++n) bend.z() += 10;
    ASSERT_TRUE(isFree(bend));
    clickAt(bend);
    ASSERT_EQ(drawing().places().size(), 2u);
    keep("draw_bar");
    clickAt(end);
    EXPECT_FALSE(drawing().drawing());
    ASSERT_EQ(job().cage.members.size(), bars + 1);
    EXPECT_EQ(desk().document.undoStack().index(), steps + 1);
    const Member& made = job().cage.members.back();
    EXPECT_EQ(made.role, "door_bar");
    EXPECT_TRUE(made.mirrored);
    ASSERT_EQ(made.path.size(), 3u);
    EXPECT_EQ(std::get<Landing>(made.path[0].place).host, "main_hoop");
    EXPECT_EQ(std::get<Landing>(made.path[2].place).host, "side_bar");
    EXPECT_NEAR((bar(made.id + ".left").line.start() - begin).norm(), 0, 12) << "as near as a pixel is";
    desk().document.undoStack().undo();
    EXPECT_EQ(job().cage.members.size(), bars);
}

TEST_F(WindowHandDraw, EnterEndsItBackspaceTakesBackAndEscGivesUp) {
    lookFrom("front");
    const Vec3 begin = bar("main_hoop").line.point(300);
    const std::size_t bars = job().cage.members.size();
    beginThroughTheDialog(QStringLiteral("floor"));
    clickAt(begin);
    clickAt(begin, {60, 0});
    clickAt(begin, {60, -40});
    ASSERT_EQ(drawing().places().size(), 3u);
    QTest::keyClick(&view(), Qt::Key_Backspace);
    EXPECT_EQ(drawing().places().size(), 2u);
    QTest::keyClick(&view(), Qt::Key_Return);
    settle();
    ASSERT_EQ(job().cage.members.size(), bars + 1);
    EXPECT_EQ(job().cage.members.back().path.size(), 2u);
    EXPECT_FALSE(drawing().drawing());
    beginThroughTheDialog(QStringLiteral("floor"));
    clickAt(begin);
    QTest::keyClick(&view(), Qt::Key_Escape);
    settle();
    EXPECT_FALSE(drawing().drawing());
    EXPECT_FALSE(desk().picking());
    EXPECT_FALSE(view().showsEvidence());
    EXPECT_EQ(job().cage.members.size(), bars + 1);
}

TEST_F(WindowHandDraw, BarsAreCutJoinedAndFittedToTheirSideFromTheMenu) {
    const auto go = [&](const char* words) {
        QAction* action = window_->action(QString::fromUtf8(words));
        ASSERT_NE(action, nullptr) << words;
        action->trigger();
        settle();
    };
    const CageLayout start = job().cage;
    desk().selection.set(std::vector<Thing>{{Kind::member, "belt_bar"}, {Kind::member, "belt_bar_far"}});
    go("Join into one");
    EXPECT_EQ(job().cage.members.size(), start.members.size() - 1);
    desk().selection.set(std::vector<Thing>{{Kind::member, "belt_bar"}, {Kind::member, "hoop_diagonal"}});
    go("Cut at the crossing");
    EXPECT_EQ(job().cage.members.size(), start.members.size());
    desk().selection.set(Thing{Kind::member, "side_bar.left"});
    go("Fit the right side to the car");
    EXPECT_FALSE(job().cage.member("side_bar")->mirrored);
    EXPECT_NE(job().cage.member("side_bar_right"), nullptr);
    const CageLayout end = job().cage;
    while (desk().document.undoStack().canUndo()) desk().document.undoStack().undo();
    EXPECT_EQ(job().cage, start);
    while (desk().document.undoStack().canRedo()) desk().document.undoStack().redo();
    EXPECT_EQ(job().cage, end);
}

}  // namespace
}  // namespace hoopwright
