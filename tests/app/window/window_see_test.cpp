// Seeing the cage: dimensions, nodes, sections, isolating, ghosts, groups; real mouse and keys.
#include <QLineEdit>
#include <QMouseEvent>
#include <QToolButton>

#include "app/window/node_rows.h"
#include "app/window/section_strip.h"
#include "core/model/measure_dimension.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowSee : public WindowTest {
protected:
    void key(Qt::Key which, Qt::KeyboardModifiers with = {}) {
        view().setFocus();
        QTest::keyClick(&view(), which, with);
        settle();
    }
    /// A pixel where that bar is in front of all others.
    QPoint pixelOf(const std::string& id) {
        const CageGeometry& now = view().cage();
        const Centreline& line = now.members[std::size_t(now.member(id))].line;
        for (double share = 0.5; share < 1; share += 0.03) {
            for (const double s : {share, 1 - share}) {
                const auto at = view().positionOf(line.point(s * line.length_mm()));
                if (!at || !view().rect().adjusted(120, 120, -120, -120).contains(at->toPoint())) continue;
                const Picked met = view().pickAt(*at);
                if (met.member >= 0 && now.members[std::size_t(met.member)].id == id) return at->toPoint();
            }
        }
        ADD_FAILURE() << id << " is not seen";
        return {};
    }
    void clickOn(const std::string& id) {
        QTest::mouseClick(&view(), Qt::LeftButton, {}, pixelOf(id));
        settle();
    }
    void trigger(const QString& words) {
        QAction* one = window_->action(words);
        ASSERT_TRUE(one) << words.toStdString();
        one->trigger();
        settle();
    }
    const Overlay::Shown* labelOf(const std::string& dimension) {
        rest();
        for (const auto& shown : view().overlay().shown())
            if (shown.key == "dimension " + dimension) return &shown;
        return nullptr;
    }
};

TEST_F(WindowSee, ADistanceIsPinnedByTwoClicksAndFollowsTheCage) {
    lookFrom("three_quarter");
    key(Qt::Key_D, Qt::ControlModifier | Qt::ShiftModifier);
    EXPECT_TRUE(desk().picking());
    clickOn("main_hoop");
    EXPECT_TRUE(desk().picking());
    clickOn("door_bar.left");
    EXPECT_FALSE(desk().picking());
    ASSERT_EQ(job().cage.dimensions.size(), 1u);
    const PinnedDimension pinned = job().cage.dimensions[0];
    EXPECT_EQ(pinned.id, "distance");
    ASSERT_TRUE(desk().selection.last());
    EXPECT_EQ(desk().selection.last()->kind, Kind::dimension);
    const double before = measureDimension(job(), desk().document.geometry(), pinned).value;
    EXPECT_GT(before, 10);
    ASSERT_TRUE(labelOf("distance"));
    keep(QStringLiteral("see_dimension"));
    // The hoop moves, the reading follows.
    desk().document.edit(QStringLiteral("Move"), [](Job& next) {
        for (Member& member : next.cage.members)
            if (member.id == "main_hoop")
                for (MemberPoint& point : member.path)
                    if (auto* fixed = std::get_if<FixedPoint>(&point.place)) fixed->at.z() -= 60;
    });
    settle();
    EXPECT_NE(measureDimension(job(), desk().document.geometry(), pinned).value, before);
    desk().document.undoStack().undo();
    desk().document.undoStack().undo();
    EXPECT_TRUE(job().cage.dimensions.empty());
    desk().document.undoStack().redo();
    EXPECT_EQ(job().cage.dimensions.size(), 1u);
}

TEST_F(WindowSee, AGapOfTwoChosenBarsIsPinnedAtOnceNamedAndDeleted) {
    desk().selection.set(std::vector<Thing>{{Kind::member, "belt_bar"}, {Kind::member, "rear_brace.left"}});
    trigger(QStringLiteral("Pin a gap"));
    ASSERT_EQ(job().cage.dimensions.size(), 1u);
    EXPECT_EQ(job().cage.dimensions[0].bar_a, "belt_bar");
    settle(200);
    QLineEdit* name = nullptr;
    for (auto* one : window_->details().form()->findChildren<QLineEdit*>())
        if (one->accessibleName().endsWith(QLatin1String(", name"))) name = one;
    ASSERT_TRUE(name);
    type(name, QStringLiteral("Room for the wrap"));
    EXPECT_EQ(job().cage.dimensions[0].name, "Room for the wrap");
    rowCalled(list(), QStringLiteral("Room for the wrap"));
    QTest::keyClick(window_.get(), Qt::Key_Delete);
    settle();
    EXPECT_TRUE(job().cage.dimensions.empty());
}

TEST_F(WindowSee, AHeightAndAnAngleArePinnedAndALabelIsClicked) {
    lookFrom("three_quarter");
    trigger(QStringLiteral("Pin a height"));
    clickOn("main_hoop");
    trigger(QStringLiteral("Pin an angle"));
    clickOn("main_hoop");
    clickOn("door_bar.left");
    ASSERT_EQ(job().cage.dimensions.size(), 2u);
    EXPECT_EQ(job().cage.dimensions[0].kind, PinnedDimension::Kind::height);
    EXPECT_EQ(job().cage.dimensions[1].kind, PinnedDimension::Kind::angle);
    for (const MeasuredDimension& read : measureDimensions(job(), desk().document.geometry()))
        EXPECT_TRUE(read) << read.trouble;
    desk().selection.clear();
    const Overlay::Shown* label = labelOf("height");
    ASSERT_TRUE(label);
    QTest::mouseClick(&view(), Qt::LeftButton, {}, label->place.box.center().toPoint());
    settle();
    ASSERT_TRUE(desk().selection.last());
    EXPECT_EQ(*desk().selection.last(), (Thing{Kind::dimension, "height"}));
}

TEST_F(WindowSee, ADimensionWhoseBarIsGoneStaysAndSaysSo) {
    desk().document.edit(QStringLiteral("Pin"), [](Job& next) {
        PinnedDimension gap;
        gap.id = "gap";
        gap.kind = PinnedDimension::Kind::gap;
        gap.bar_a = "main_hoop";
        gap.bar_b = "no_such_bar";
        next.cage.dimensions = {gap};
    });
    settle();
    const QModelIndex row = rowCalled(list(), QStringLiteral("Gap, main hoop to no_such_bar"));
    ASSERT_TRUE(row.isValid());
    click(list(), row);
    bool said = false;
    for (const auto* label : window_->details().form()->findChildren<QLabel*>())
        said = said || label->text().contains(QStringLiteral("no_such_bar is not there any more"));
    EXPECT_TRUE(said);
}

TEST_F(WindowSee, NodesAreListedAndAClickShowsOne) {
    trigger(QStringLiteral("Nodes"));
    const std::vector<Row> rows = nodeRows(desk());
    ASSERT_EQ(list()->model()->rowCount(), int(rows.size()));
    int clicked = 0;
    std::string kinds;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!rows[i].thing) continue;
        const std::string kind = rows[i].thing->id.substr(0, rows[i].thing->id.find('/'));
        if (kinds.find(kind) != std::string::npos) continue;
        kinds += kind + " ";
        click(list(), list()->model()->index(int(i), 0));
        ASSERT_TRUE(desk().selection.last());
        EXPECT_EQ(*desk().selection.last(), *rows[i].thing);
        const auto thing = nodeThing(desk(), rows[i].thing->id);
        ASSERT_TRUE(thing);
        EXPECT_EQ(view().selected(), thing->members);
        land();
        EXPECT_TRUE(view().positionOf(thing->at));
        EXPECT_TRUE(view().rect().contains(view().positionOf(thing->at)->toPoint()));
        ++clicked;
    }
    EXPECT_GE(clicked, 2) << kinds;
    keep(QStringLiteral("see_nodes"));
    trigger(QStringLiteral("Nodes"));
    EXPECT_NE(list()->model()->rowCount(), int(rows.size()));
}

TEST_F(WindowSee, ACutIsPutOnByKeyDraggedTypedAndTakenOff) {
    lookFrom("three_quarter");
    EXPECT_FALSE(view().look().section);
    EXPECT_FALSE(view().sectionHandlePosition());
    key(Qt::Key_X);
    ASSERT_TRUE(view().look().section);
    EXPECT_EQ(view().look().section->axis, 0);
    const double start = view().look().section->at_mm;
    auto* strip = window_->viewHost().findChild<SectionStrip*>();
    ASSERT_TRUE(strip);
    EXPECT_TRUE(strip->isVisible());
    // Along the car by the handle: the handle stays under the hand.
    const auto handle = view().sectionHandlePosition();
    ASSERT_TRUE(handle);
    const auto behind = view().positionOf({start - 200, 0, 500}), here = view().positionOf({start, 0, 500});
    ASSERT_TRUE(behind && here);
    const QPointF by = *behind - *here;
    QTest::mousePress(&view(), Qt::LeftButton, {}, handle->toPoint());
    for (int n = 1; n <= 8; ++n) {
        const QPointF at = *handle + by * n / 8.0;
        QMouseEvent move(QEvent::MouseMove, at, view().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, {});
        QApplication::sendEvent(&view(), &move);
    }
    QTest::mouseRelease(&view(), Qt::LeftButton, {}, (*handle + by).toPoint());
    settle();
    EXPECT_NEAR(view().look().section->at_mm, start - 200, 60);
    EXPECT_FALSE(desk().selection.last()) << "a drag of the handle chooses nothing";
    // A click meets only what is kept.
    const SectionCut cut = *view().look().section;
    for (int y = 20; y < view().height(); y += 37)
        for (int x = 20; x < view().width(); x += 41)
            if (const Picked met = view().pickAt(QPointF(x, y))) {
                EXPECT_LE(cut.outward().dot(met.at), cut.outward()[0] * cut.at_mm + 1e-3);
            }
    auto* field = strip->findChild<ValueField*>();
    ASSERT_TRUE(field);
    type(field, QStringLiteral("150"));
    EXPECT_NEAR(view().look().section->at_mm, 150, 1e-9);
    keep(QStringLiteral("see_section"));
    key(Qt::Key_Y);
    EXPECT_EQ(view().look().section->axis, 1);
    key(Qt::Key_Y);
    EXPECT_FALSE(view().look().section);
    EXPECT_FALSE(strip->isVisible());
}

TEST_F(WindowSee, OnlyWhatIsChosenIsShownAndAgainAll) {
    lookFrom("three_quarter");
    const QPoint on_door = pixelOf("door_bar.left");
    key(Qt::Key_I);
    EXPECT_TRUE(view().look().only.empty()) << "nothing is chosen";
    EXPECT_FALSE(window_->action(QStringLiteral("Only what is chosen"))->isChecked());
    desk().selection.set(std::vector<Thing>{{Kind::member, "main_hoop"}, {Kind::member, "belt_bar"}});
    settle();
    key(Qt::Key_I);
    EXPECT_EQ(view().look().only, (std::vector<std::string>{"main_hoop", "belt_bar"}));
    const Picked met = view().pickAt(on_door);
    EXPECT_TRUE(met.member < 0 || view().cage().members[std::size_t(met.member)].id != "door_bar.left");
    keep(QStringLiteral("see_only"));
    key(Qt::Key_I);
    EXPECT_TRUE(view().look().only.empty());
}

TEST_F(WindowSee, GhostsPlumbLinesAndColoursOfGroups) {
    lookFrom("three_quarter");
    key(Qt::Key_G);
    EXPECT_TRUE(view().look().x_ray);
    key(Qt::Key_G);
    EXPECT_FALSE(view().look().x_ray);
    EXPECT_FALSE(view().upright());
    key(Qt::Key_V);
    ASSERT_TRUE(view().upright());
    EXPECT_TRUE(window_->action(QStringLiteral("Plumb lines upright"))->isChecked());
    for (const Vec3& foot : {Vec3(0, 600, 0), Vec3(900, -600, 0)}) {
        const auto low = view().positionOf(foot), high = view().positionOf(foot + Vec3(0, 0, 900));
        ASSERT_TRUE(low && high);
        EXPECT_NEAR(low->x(), high->x(), 1e-6);
    }
    for (const char* words : {"Colour by role", "Colour by state", "Colour by result", "Colour by tube"}) {
        window_->action(QString::fromLatin1(words))->trigger();
        settle();
        keep(QStringLiteral("see_") + QString::fromLatin1(words).section(QLatin1Char(' '), -1));
    }
    EXPECT_EQ(view().look().colouring, Colouring::by_stock);
    key(Qt::Key_V);
    EXPECT_FALSE(view().upright());
}

}  // namespace
}  // namespace hoopwright
