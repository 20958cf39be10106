// What a driver's form works out: clearances, belts, where the belt bar may be, and seat moves tried on.
#include <cmath>

#include "app/window/driver_facts.h"
#include "app/window/new_driver.h"
#include "core/driver/clearance.h"
#include "core/driver/seat_move.h"
#include "core/model/resolve.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class DriverForm : public DeskTest {
protected:
    DriverForm() {
        choose(Kind::driver, "tall");
        QObject::connect(&desk_, &Desk::showMeasure, &desk_,
                         [this](const std::vector<ShownShape>& shapes, const Vec3& at) {
                             shapes_ = shapes;
                             at_ = at;
                         });
    }
    const Driver& tall() const { return job().drivers.front(); }
    /// The line of facts that starts so; a failure where there is none.
    static FactLine lineOf(const std::vector<FactLine>& lines, const QString& start) {
        for (const FactLine& line : lines)
            if (line.words.startsWith(start)) return line;
        ADD_FAILURE() << "no line starts with " << start.toStdString();
        return {};
    }
    void trySlide(const char* words) {
        type(QStringLiteral("Tall driver, seat move, slide"), QString::fromUtf8(words));
    }

    std::vector<ShownShape> shapes_;
    Vec3 at_ = Vec3::Zero();
};

TEST_F(DriverForm, EveryPartHasItsNearestBarAndShowsWhatWasMeasured) {
    const Clearances all = clearances(tall(), desk_.document.geometry());
    const auto lines = clearanceLines(desk_, "tall");
    std::size_t parts = 0;
    for (const FactLine& line : lines) parts += line.words.startsWith(QLatin1Char(' ')) ? 0 : 1;
    EXPECT_EQ(parts, all.parts.size());
    const Clearance& helmet = all.parts.front();
    const FactLine line = lineOf(lines, QStringLiteral("Helmet to "));
    EXPECT_THAT(line.words.toStdString(),
                HasSubstr(desk_.document.geometry().members[std::size_t(helmet.bare.member)].name.substr(1)));
    EXPECT_EQ(line.figure, desk_.length(helmet.bare.gap_mm));
    line.go();
    ASSERT_EQ(shapes_.size(), 1u);
    const auto& shown = std::get<ShownLine>(shapes_.front());
    EXPECT_TRUE(shown.dimension);
    EXPECT_NEAR((shown.to - shown.from).norm(), helmet.bare.gap_mm, 1e-6);
    EXPECT_NEAR((at_ - 0.5 * (shown.from + shown.to)).norm(), 0, 1e-9);
}

TEST_F(DriverForm, TheTightestStandsFirst) {
    double before = -1e300;
    for (const FactLine& line : clearanceLines(desk_, "tall")) {
        if (line.words.startsWith(QLatin1Char(' '))) continue;
        line.go();
        const auto& shown = std::get<ShownLine>(shapes_.front());
        const double gap = (shown.to - shown.from).norm();
        EXPECT_GE(gap, before - 70) << "padding of up to 70 mm counts in the order";
        before = gap;
    }
    EXPECT_THAT(tightest(desk_, "tall").toStdString(), HasSubstr("mm"));
}

TEST_F(DriverForm, ASeatMoveIsTriedWithoutTouchingTheJob) {
    const Driver was = tall();
    const QString helmet = lineOf(clearanceLines(desk_, "tall"), QStringLiteral("Helmet to ")).figure;
    trySlide("30");
    EXPECT_TRUE(tall() == was);
    EXPECT_EQ(steps(), 0);
    ASSERT_TRUE(desk_.study.trying("tall"));
    EXPECT_FALSE(desk_.study.trying("short"));
    // Recomputed from the moved person, by itself.
    const Expected<MovedDriver> moved = seatMoved(was, {30, 0, 0});
    const Clearances after = clearances(moved->driver, desk_.document.geometry());
    const QString now = lineOf(clearanceLines(desk_, "tall"), QStringLiteral("Helmet to ")).figure;
    EXPECT_NE(now, helmet);
    EXPECT_TRUE(now.startsWith(desk_.length(after.parts.front().bare.gap_mm))) << now.toStdString();
    EXPECT_THAT(now.toStdString(), HasSubstr("("));
    EXPECT_TRUE(desk_.study.shown().drivers.front() == moved->driver) << "the picture shows the seat moved";
    EXPECT_THAT(seatRuleLines(desk_, "tall"), Not(IsEmpty()));
}

TEST_F(DriverForm, ATriedMoveIsMadeAndUndoneInOneStep) {
    const Driver was = tall();
    trySlide("-25");
    type(QStringLiteral("Tall driver, seat move, lift"), QStringLiteral("10"));
    type(QStringLiteral("Tall driver, seat move, recline"), QStringLiteral("3"));
    const Driver wanted = seatMoved(was, {-25, 10, 3 * std::acos(-1.0) / 180})->driver;
    press(QStringLiteral("Tall driver, seat move, move it so"));
    EXPECT_EQ(steps(), 1);
    EXPECT_NEAR((tall().helmet.centre - wanted.helmet.centre).norm(), 0, 1e-9);
    EXPECT_NEAR((tall().knee_left - wanted.knee_left).norm(), 0, 1e-9);
    EXPECT_FALSE(desk_.study.trying("tall"));
    undo();
    EXPECT_TRUE(tall() == was);
}

TEST_F(DriverForm, ATriedMoveIsDropped) {
    trySlide("40");
    press(QStringLiteral("Tall driver, seat move, as it was"));
    EXPECT_FALSE(desk_.study.trying("tall"));
    EXPECT_EQ(control<ValueField>(QStringLiteral("Tall driver, seat move, slide"))->text().toDouble(), 0);
    EXPECT_THAT(seatRuleLines(desk_, "tall"), IsEmpty());
    press(QStringLiteral("Tall driver, seat move, move it so"));
    EXPECT_EQ(steps(), 0);
    EXPECT_THAT(said_.toStdString(), HasSubstr("Type how far"));
}

TEST_F(DriverForm, ABackThatCannotLeanSoIsRefusedWithASentence) {
    type(QStringLiteral("Tall driver, seat move, recline"), QStringLiteral("88"));
    EXPECT_FALSE(desk_.study.trying("tall"));
    EXPECT_THAT(said_.toStdString(), HasSubstr("The seat cannot move so"));
}

TEST_F(DriverForm, ATriedMoveGoesWithItsDriver) {
    trySlide("15");
    desk_.document.edit(QStringLiteral("away"), [](Job& job) {
        job.drivers.erase(job.drivers.begin());
        job.cage.driver_files.erase(job.cage.driver_files.begin());
    });
    EXPECT_FALSE(desk_.study.trying("tall"));
    EXPECT_EQ(desk_.study.report("tall"), nullptr);
}

TEST_F(DriverForm, ABeltBarOutOfItsBandIsBroughtBackByTheLeastMove) {
    ASSERT_TRUE(desk_.study.bandNow("tall"));
    EXPECT_TRUE(desk_.study.bandNow("tall")->allowed_now);
    press(QStringLiteral("Tall driver, move it to where it may be"));
    EXPECT_EQ(steps(), 0) << "it is there already";
    desk_.document.edit(QStringLiteral("shoulders"), [](Job& job) {
        for (Vec3* at : {&job.drivers[0].shoulder_left, &job.drivers[0].shoulder_right}) at->z() += 130;
    });
    QCoreApplication::processEvents();
    ASSERT_FALSE(desk_.study.bandNow("tall")->allowed_now);
    const auto shown = [&] {
        return facts(QStringLiteral("Tall driver, where the belt bar may be, figures"));
    };
    EXPECT_TRUE(waitFor([&] { return shown().contains(QStringLiteral("where it is: no")); }))
        << shown().toStdString();
    const double z_was = desk_.study.bandNow("tall")->bar_at.y();
    press(QStringLiteral("Tall driver, move it to where it may be"));
    ASSERT_TRUE(desk_.study.bandNow("tall")->allowed_now) << said_.toStdString();
    EXPECT_GT(desk_.study.bandNow("tall")->bar_at.y(), z_was) << "the shoulders went up";
    EXPECT_THAT(said_.toStdString(), HasSubstr("higher"));
    undo();
    EXPECT_FALSE(desk_.study.bandNow("tall")->allowed_now);
}

TEST_F(DriverForm, WheelEyesAndShouldersAreMeasuredToo) {
    type(QStringLiteral("Tall driver, shoulders across"), QStringLiteral("510"));
    EXPECT_EQ(tall().shoulder_width_mm, 510);
    type(QStringLiteral("Tall driver, shoulders across"), QString());
    EXPECT_EQ(tall().shoulder_width_mm, std::nullopt);
    tick(QStringLiteral("Shoulder straps end at eyes of their own"));
    ASSERT_TRUE(tall().belts.shoulder_anchors);
    type(QStringLiteral("Tall driver, belts, eye, left z"), QStringLiteral("410"));
    EXPECT_EQ(tall().belts.shoulder_anchors->left.z(), 410);
    const bool had = tall().steering_wheel.has_value();
    tick(QStringLiteral("The wheel is measured"));
    EXPECT_NE(tall().steering_wheel.has_value(), had);
    if (had) tick(QStringLiteral("The wheel is measured"));
    type(QStringLiteral("Tall driver, steering wheel, across"), QStringLiteral("350"));
    EXPECT_EQ(tall().steering_wheel->diameter_mm, 350);
}

TEST_F(DriverForm, ANewPersonStartsFromAPublishedFigureAndSaysSo) {
    NewDriver dialog(desk_);
    const Expected<Driver> made = dialog.driver();
    ASSERT_TRUE(made);
    EXPECT_EQ(made->figure, figures().front().id);
    EXPECT_EQ(made->hip, tall().hip) << "where the first driver sits";
    desk_.document.edit(QStringLiteral("new"), [&](Job& job) {
        Driver driver = *made;
        driver.id = "figure";
        driver.name = "Figure";
        job.drivers.push_back(driver);
        job.cage.driver_files.push_back("");
    });
    choose(Kind::driver, "figure");
    press(QStringLiteral("Figure, every point is measured now"));
    EXPECT_EQ(job().drivers.back().figure, "");
}

}  // namespace
}  // namespace hoopwright
