// The measuring walk by real keys: the sheet's numbers in the sheet's order, and what the tapes say of each
// other as they come in.
#include <QLineEdit>
#include <QTextBrowser>

#include "app/view/projection.h"
#include "app/window/car_says.h"
#include "app/window/car_step.h"
#include "app/window/keep_car.h"
#include "app/window/measuring_walk.h"
#include "app/window/new_job.h"
#include "core/survey/survey.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using Key = MeasuringFigure::Key;

class WindowMeasureTest : public WindowTest {
protected:
    explicit WindowMeasureTest(QSize size = {1600, 960}) : WindowTest(size) {
        window_->goTo(Step::car);
        window_->carPage().turnTo(CarPage::Shown::walk);
        settle();
    }
    MeasuringWalk& walk() { return window_->carPage().walk(); }
    const Car& car() { return job().car; }
    static QWidget* focused() { return QApplication::focusWidget(); }
    static void key(int key, Qt::KeyboardModifiers keys = {}) {
        QTest::keyClick(focused(), Qt::Key(key), keys);
        settle(15);
    }
    static void keys(const QString& words) {
        QTest::keyClicks(focused(), words);
        settle(5);
    }
    /// Puts the keyboard into a box of the place with that name.
    ValueField* box(const std::string& name, std::size_t n = 0) {
        for (const MeasuringStage& stage : measuringWalk(car().body, car().frame)) {
            for (const MeasuringItem& item : stage.items) {
                if (item.name != name) continue;
                ValueField* found = walk().row(item.number)->boxes().at(n);
                found->setFocus(Qt::TabFocusReason);
                settle(10);
                return found;
            }
        }
        ADD_FAILURE() << "no place " << name;
        return nullptr;
    }
    QString said(const std::string& name) {
        for (const MeasuringStage& stage : measuringWalk(car().body, car().frame)) {
            for (const MeasuringItem& item : stage.items) {
                if (item.name == name) return walk().row(item.number)->accessibleDescription();
            }
        }
        return {};
    }
    std::string page(CarSays::Part part) {
        window_->carSays().turnTo(part);
        return window_->carSays().page()->toPlainText().toStdString();
    }
    void startBlank() {
        NewJobChoice choice;
        choice.own_car = true;
        choice.stock = demo_.root() / "stock" / "metric.yaml";
        choice.dies = demo_.root() / "stock" / "dies_metric.yaml";
        ASSERT_THAT(startNewJob(desk().document, choice), testing::IsEmpty());
        settle();
    }
};

TEST_F(WindowMeasureTest, HasEveryFigureOfTheSheetInItsOrder) {
    startBlank();
    const std::vector<MeasuringStage> stages = measuringWalk(Car::Body::saloon, Car::Frame::unibody);
    QStringList wanted, found;
    for (const MeasuringStage& stage : stages) {
        for (const MeasuringItem& item : stage.items) {
            MeasuringRow* row = walk().row(item.number);
            ASSERT_NE(row, nullptr) << item.number;
            for (const MeasuringFigure& figure : item.figures)
                wanted << QString::fromStdString(item.title + ", " + figure.label);
        }
    }
    // As Tab goes.
    walk().row(1)->boxes().front()->setFocus(Qt::TabFocusReason);
    for (int n = 0; n < wanted.size(); ++n) {
        ASSERT_NE(focused(), nullptr);
        found << focused()->accessibleName();
        key(Qt::Key_Tab);
    }
    EXPECT_EQ(found, wanted);
}

TEST_F(WindowMeasureTest, ABareCarIsMeasuredFromEndToEndByKeysAlone) {
    startBlank();
    EXPECT_EQ(desk().carReport().not_measured.size(), std::size_t(desk().carReport().asked));
    // A car that measures what the drawing shows.
    Car drawn;
    drawn.ground_z_mm = -330;
    for (const MeasuringStage& stage : measuringWalk(Car::Body::saloon, Car::Frame::unibody)) {
        for (const MeasuringItem& item : stage.items) {
            if (item.kind == MeasuringItem::Kind::plane)
                drawn.planes.push_back({item.name, item.drawn.x(), 0});
            if (item.kind == MeasuringItem::Kind::point)
                drawn.points.push_back({item.name, item.drawn, 0, ""});
            if (item.kind == MeasuringItem::Kind::rail)
                drawn.rails.push_back({item.name, {}, 80, 100, 2, {}});
        }
    }
    window_->action(QStringLiteral("Next blank"))->trigger();
    for (const MeasuringStage& stage : measuringWalk(Car::Body::saloon, Car::Frame::unibody)) {
        for (const MeasuringItem& item : stage.items) {
            for (const MeasuringFigure& figure : item.figures) {
                const double mm = *figureNow(drawn, item, figure);
                ASSERT_EQ(focused()->accessibleName().toStdString(), item.title + ", " + figure.label);
                keys(QString::number(mm, 'f', 2) + QStringLiteral(" mm"));
                key(Qt::Key_Return);
            }
            EXPECT_TRUE(isMeasured(car(), item)) << item.title;
        }
    }
    EXPECT_TRUE(desk().carReport().not_measured.empty());
    for (const CarPoint& point : drawn.points)
        EXPECT_LT((car().point(point.name)->at - point.at).norm(), 0.2) << point.name;
    EXPECT_EQ(page(CarSays::Part::again).find("tape from"), std::string::npos);
    keep(QStringLiteral("window_measured"));
    // Saved beside the cage, and read back the same.
    ASSERT_THAT(desk().document.saveAs(demo_.root() / "bare.yaml"), testing::IsEmpty());
    const JobResult back = readJob(demo_.root() / "bare.yaml");
    ASSERT_TRUE(back.job) << back.problems.front().text();
    EXPECT_EQ(back.job->car.points.size(), car().points.size());
    for (const CarPoint& point : car().points)
        EXPECT_LT((back.job->car.point(point.name)->at - point.at).norm(), 1e-3) << point.name;
    EXPECT_EQ(back.files.car.filename(), "bare_car.yaml");
}

TEST_F(WindowMeasureTest, UnitsAreTakenAsEverywhereAndEscapeLeavesABox) {
    ValueField* height = box("roof_middle");
    keys(QStringLiteral("13 5/8\""));
    key(Qt::Key_Escape);
    EXPECT_EQ(height->text(), QString());
    EXPECT_EQ(car().point("roof_middle"), nullptr);
    keys(QStringLiteral("13 5/8\""));
    key(Qt::Key_Tab);
    keys(QStringLiteral("0"));
    key(Qt::Key_Return);
    EXPECT_EQ(car().point("roof_middle"), nullptr) << "two of three";
    EXPECT_EQ(
        said("roof_middle"),
        QStringLiteral("Roof, underside of the skin needs its height, its distance out and its distance "
                       "ahead"));
    keys(QStringLiteral("34.5 cm"));
    key(Qt::Key_Return);
    ASSERT_NE(car().point("roof_middle"), nullptr);
    // 13 5/8 in of 25.4 mm
    EXPECT_LT((car().point("roof_middle")->at - Vec3(345, 0, 346.075)).norm(), 1e-9);
    EXPECT_EQ(said("roof_middle"), QString());
    desk().document.undoStack().undo();
    EXPECT_EQ(car().point("roof_middle"), nullptr) << "one step of undo";
}

TEST_F(WindowMeasureTest, ATapeThatDisagreesIsNamedAtOnceAsOnTheCommandLine) {
    box("b_pillar_top.left", 1);
    keys(QStringLiteral("+14"));
    key(Qt::Key_Return);
    const SurveyedPoint* point = desk().carReport().survey.point("b_pillar_top.left");
    ASSERT_EQ(point->doubts.size(), 1u);
    EXPECT_THAT(point->doubts[0], HasSubstr("tape from sill_a.left is"));
    // Beside its boxes, which are called by the numbers of the sheet, so are the tapes.
    int number = 0;
    for (const MeasuringStage& stage : measuringWalk(car().body, car().frame))
        for (const MeasuringItem& item : stage.items)
            if (item.name == "sill_a.left") number = item.number;
    EXPECT_THAT(said("b_pillar_top.left").toStdString(),
                HasSubstr("ape from " + std::to_string(number) + " is"));
    EXPECT_FALSE(said("b_pillar_top.left").contains(QStringLiteral("sill_")));
    EXPECT_THAT(page(CarSays::Part::again), HasSubstr("b_pillar_top.left: " + point->doubts[0]));
    EXPECT_THAT(page(CarSays::Part::tapes), HasSubstr("against the others"));
    keep(QStringLiteral("window_tape_disagrees"));
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_THAT(page(CarSays::Part::again), HasSubstr("No reading contradicts another."));
}

TEST_F(WindowMeasureTest, APlaceIsGivenAnotherWayInPlace) {
    box("rear_leg.left");
    ASSERT_EQ(wayOf(*car().point("rear_leg.left")), PointWay::offsets);
    const Vec3 was = car().point("rear_leg.left")->at;
    MeasuringRow* row = walk().current();
    ASSERT_NE(row, nullptr);
    row->askAs(PointWay::tapes);
    settle();
    ASSERT_EQ(row->boxes().size(), 4u);
    EXPECT_EQ(focused(), row->boxes().front());
    EXPECT_EQ(wayOf(*car().point("rear_leg.left")), PointWay::offsets) << "not until three are read";
    for (const char* from : {"sill_b.left", "sill_a.left", "sill_b.right"}) {
        keys(QString::number((car().point(from)->at - was).norm(), 'f', 3));
        key(Qt::Key_Return);
    }
    ASSERT_EQ(wayOf(*car().point("rear_leg.left")), PointWay::tapes);
    EXPECT_LT((car().point("rear_leg.left")->at - was).norm(), 0.1);
    settle();
    row->askAs(PointWay::coordinates);
    settle();
    ASSERT_EQ(row->boxes().size(), 3u);
    EXPECT_EQ(row->boxes().front()->accessibleName(), QStringLiteral("Rear chassis leg, left, x, forward"));
    for (const char* mm : {"-900", "488", "235"}) {
        keys(QString::fromLatin1(mm));
        key(Qt::Key_Return);
    }
    EXPECT_EQ(car().point("rear_leg.left")->at, Vec3(-900, 488, 235));
    EXPECT_EQ(wayOf(*car().point("rear_leg.left")), PointWay::coordinates);
}

TEST_F(WindowMeasureTest, F3GoesFromBlankToBlankAndBack) {
    std::vector<QWidget*> way;
    for (int n = 0; n < 3; ++n) {
        QTest::keyClick(window_.get(), Qt::Key_F3);
        settle(15);
        way.push_back(focused());
        EXPECT_TRUE(static_cast<QLineEdit*>(focused())->text().isEmpty());
        EXPECT_EQ(focused()->property("blank"), true);
    }
    QTest::keyClick(window_.get(), Qt::Key_F3, Qt::ShiftModifier);
    settle(15);
    EXPECT_EQ(focused(), way[1]);
}

TEST_F(WindowMeasureTest, WhatIsMissingAndUnevenIsThere) {
    const CarReport& report = desk().carReport();
    const std::string missing = page(CarSays::Part::missing);
    for (const MeasuringItem& item : report.not_measured) EXPECT_THAT(missing, HasSubstr(item.title));
    EXPECT_THAT(page(CarSays::Part::sides), HasSubstr("along the tape"));
    box("sill_a.right", 1);
    keys(QStringLiteral("+20"));
    key(Qt::Key_Return);
    EXPECT_THAT(page(CarSays::Part::sides), HasSubstr("UNEVEN"));
    EXPECT_THAT(page(CarSays::Part::lessons), HasSubstr(car().lessons.front().note));
}

TEST_F(WindowMeasureTest, APointPickedInTheViewIsChosenInTheWalkAndTheDetails) {
    View3d& view = *window_->viewHost().view();
    land();
    const Projection seen(view.view(), view.size());
    const auto at = seen.at(car().point("windshield_top.left")->at);
    ASSERT_TRUE(at);
    QTest::mouseClick(&view, Qt::LeftButton, {}, at->toPoint());
    settle();
    ASSERT_NE(desk().selection.last(), nullptr);
    EXPECT_EQ(*desk().selection.last(), (Thing{Kind::car_point, "windshield_top.left"}));
    EXPECT_EQ(walk().current()->item().name, "windshield_top.left");
    bool shown = false;
    for (const auto* one : window_->details().form()->findChildren<ValueField*>())
        shown |= one->accessibleName() == QStringLiteral("Car point windshield_top.left, from 2");
    EXPECT_TRUE(shown);
}

TEST_F(WindowMeasureTest, F6ComesToTheWalkTheReportAndTheDetails) {
    box("b_pillar_top.left");
    bool report = false, details = false, walk_again = false;
    for (int n = 0; n < 6; ++n) {
        key(Qt::Key_F6);
        report |= focused() == window_->carSays().page();
        details |= window_->details().isAncestorOf(focused());
        walk_again |= walk().isAncestorOf(focused());
    }
    EXPECT_TRUE(report && details && walk_again);
}

class NarrowMeasureTest : public WindowMeasureTest {
protected:
    NarrowMeasureTest() : WindowMeasureTest({1366, 768}) {}
};
using WindowNarrowMeasureTest = NarrowMeasureTest;

TEST_F(WindowNarrowMeasureTest, NothingOfTheWalkIsCutOff) {
    for (const UnitsShown units : {UnitsShown::mm, UnitsShown::in}) {
        desk().setUnits(units);
        settle();
        for (int number = 1; number <= desk().carReport().asked; ++number) {
            MeasuringRow* row = walk().row(number);
            for (ValueField* one : row->boxes()) {
                const QMargins margins = one->textMargins();
                const int room = one->width() - margins.left() - margins.right() - 16;
                EXPECT_LE(one->fontMetrics().horizontalAdvance(one->text()), room)
                    << one->accessibleName().toStdString();
                EXPECT_LE(one->mapTo(row, QPoint(one->width(), 0)).x(), row->width());
            }
            for (const QLabel* label : row->findChildren<QLabel*>()) {
                if (label->isHidden() || label->text().isEmpty()) continue;
                if (label->wordWrap()) {
                    EXPECT_LE(label->heightForWidth(label->width()), label->height())
                        << label->text().toStdString();
                } else {
                    EXPECT_LE(label->sizeHint().width(), label->width()) << label->text().toStdString();
                }
            }
        }
    }
    keep(QStringLiteral("window_measure_narrow"));
}

}  // namespace
}  // namespace hoopwright
