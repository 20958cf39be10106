// The forms of a plate, a gusset, a driver and the car.
#include <algorithm>

#include "app/window/fact_rows.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

class PartForms : public DeskTest {
protected:
    const Plate& plate(const char* id) const { return *job().cage.plate(id); }
    const Driver& tall() const { return job().drivers.front(); }
    const CarLine& line(const char* name) const { return *job().car.line(name); }
};

TEST_F(PartForms, APlateHasItsPlaceSizeMaterialAndFixing) {
    choose(Kind::plate, "hoop_foot.left");
    type(QStringLiteral("Hoop foot, left, length"), QStringLiteral("160"));
    type(QStringLiteral("Hoop foot, left, thickness"), QStringLiteral("1/8"));
    EXPECT_EQ(plate("hoop_foot").length_mm, 160);
    EXPECT_NEAR(plate("hoop_foot").thickness_mm, 3.175, 1e-9);  // 1/8 of 25.4 mm
    type(QStringLiteral("Hoop foot, left, offset x"), QStringLiteral("-120"));
    EXPECT_EQ(std::get<AtCarPoint>(plate("hoop_foot").at).offset.x(), -120);
    pick(QStringLiteral("Hoop foot, left, fixing"), QStringLiteral("bolted"));
    EXPECT_EQ(plate("hoop_foot").fixing, Fixing::bolted);
    type(QStringLiteral("Hoop foot, left, bolts"), QStringLiteral("4"));
    type(QStringLiteral("Hoop foot, left, bolt size"), QStringLiteral("10"));
    write(QStringLiteral("Hoop foot, left, bolt grade"), QStringLiteral("10.9"));
    EXPECT_EQ(plate("hoop_foot").bolts, (Bolts{4, 10, "10.9"}));
    tick(QStringLiteral("Backing plate under the floor"));
    ASSERT_TRUE(plate("hoop_foot").backing);
    type(QStringLiteral("Hoop foot, left, its thickness"), QStringLiteral("4"));
    EXPECT_EQ(plate("hoop_foot").backing->thickness_mm, 4);
    pick(QStringLiteral("Hoop foot, left, fixing"), QStringLiteral("welded"));
    EXPECT_EQ(plate("hoop_foot").bolts, Bolts{}) << "a welded plate has none";
    EXPECT_THAT(facts(QStringLiteral("Hoop foot, left, this plate")).toStdString(),
                HasSubstr("carries Main hoop: first end"));
}

TEST_F(PartForms, APlateFallsShortWhenItsAreaDoes) {
    choose(Kind::plate, "hoop_foot.left");
    const auto fails = [&] { return desk_.document.report().count(Answer::fails); };
    const int before = fails();
    type(QStringLiteral("Hoop foot, left, length"), QStringLiteral("20"));
    EXPECT_GT(fails(), before);
    undo();
    EXPECT_EQ(fails(), before);
}

TEST_F(PartForms, APlateTakesCornersOfItsOwnAndGoesBackToARectangle) {
    choose(Kind::plate, "hoop_foot.left");
    const double area = desk_.document.geometry().plates.front().area_mm2;
    press(QStringLiteral("Hoop foot, left, own outline"));
    ASSERT_EQ(plate("hoop_foot").outline.size(), 4u);
    EXPECT_NEAR(desk_.document.geometry().plates.front().area_mm2, area, 1e-6) << "the same shape at first";
    press(QStringLiteral("Hoop foot, left, add corner"));
    EXPECT_EQ(plate("hoop_foot").outline.size(), 5u);
    type(QStringLiteral("Hoop foot, left, corner 5 u"), QStringLiteral("-90"));
    EXPECT_EQ(plate("hoop_foot").outline[4].x(), -90);
    press(QStringLiteral("Hoop foot, left, rectangle"));
    EXPECT_TRUE(plate("hoop_foot").outline.empty());
    EXPECT_EQ(plate("hoop_foot").length_mm, 90 + 75) << "round the corner that was moved out to -90";
}

TEST_F(PartForms, ADirectionOfNoLengthIsRefusedWithAWord) {
    choose(Kind::plate, "hoop_foot.left");
    const Job before = job();
    type(QStringLiteral("Hoop foot, left, faces z"), QStringLiteral("0"));
    EXPECT_TRUE(job() == before);
    EXPECT_THAT(said_.toStdString(), HasSubstr("not 0"));
}

TEST_F(PartForms, APlateBecomesFixedWhereItIs) {
    choose(Kind::plate, "hoop_foot.left");
    const Vec3 was = desk_.document.geometry().plates.front().at;
    pick(QStringLiteral("Hoop foot, left, middle at"), QStringLiteral("Fixed point"));
    EXPECT_NEAR((desk_.document.geometry().plates.front().at - was).norm(), 0, 0.1);
    type(QStringLiteral("Hoop foot, left, at y"), QStringLiteral("580"));
    EXPECT_EQ(std::get<FixedPoint>(plate("hoop_foot").at).at.y(), 580);
    auto* rails = control<ChoiceField>(QStringLiteral("Hoop foot, left, tied to"));
    EXPECT_EQ(rails->itemText(0), QStringLiteral("floor skin only"));
    pick(QStringLiteral("Hoop foot, left, tied to"), rails->itemText(0));
    EXPECT_EQ(plate("hoop_foot").rail, "");
}

TEST_F(PartForms, APairOfBarsKeepsThePairOfPlatesUnderIt) {
    choose(Kind::plate, "brace_foot.left");
    tick(QStringLiteral("One of a pair, left and right"));
    EXPECT_TRUE(plate("brace_foot").mirrored);
    EXPECT_THAT(said_.toStdString(), HasSubstr("break that pair first"));
    for (auto* one : details_->form()->findChildren<TickField*>()) {
        if (one->text() == QStringLiteral("One of a pair, left and right")) {
            EXPECT_TRUE(one->isChecked()) << "the tick shows what is so";
        }
    }
}

TEST_F(PartForms, AGussetJoinsTwoBarsWithLegAndThickness) {
    choose(Kind::gusset, "roof_corner");
    const auto& gusset = [&]() -> const Gusset& { return job().cage.gussets.front(); };
    type(QStringLiteral("Gusset roof_corner, leg"), QStringLiteral("100"));
    type(QStringLiteral("Gusset roof_corner, thickness"), QStringLiteral("2"));
    EXPECT_EQ(gusset().leg_mm, 100);
    EXPECT_EQ(gusset().thickness_mm, 2);
    pick(QStringLiteral("Gusset roof_corner, and"), QStringLiteral("Main hoop"));
    EXPECT_EQ(gusset().member_b, "main_hoop");
    tick(QStringLiteral("One of a pair, left and right"));
    EXPECT_FALSE(gusset().mirrored);
    write(QStringLiteral("Gusset roof_corner, called"), QStringLiteral("header_corner"));
    EXPECT_EQ(gusset().id, "header_corner");
    EXPECT_EQ(desk_.selection.last()->id, "header_corner");
}

TEST_F(PartForms, ADriverIsMeasuredPointByPoint) {
    choose(Kind::driver, "tall");
    type(QStringLiteral("Tall driver, helmet, centre z"), QStringLiteral("+10"));
    EXPECT_EQ(tall().helmet.centre.z(), 774);  // 764 in the driver's file
    type(QStringLiteral("Tall driver, back angle"), QStringLiteral("25"));
    EXPECT_NEAR(tall().back_angle_rad, 0.4363323130, 1e-9);  // 25 degrees
    type(QStringLiteral("Tall driver, shoulder, left z"), QStringLiteral("590"));
    EXPECT_EQ(tall().shoulder_left.z(), 590);
    type(QStringLiteral("Tall driver, helmet, width"), QStringLiteral("0"));
    EXPECT_EQ(tall().helmet.width_mm, 265);
    EXPECT_THAT(said_.toStdString(), HasSubstr("more than 0"));
    pick(QStringLiteral("Tall driver, sits as"), QStringLiteral("passenger"));
    EXPECT_EQ(tall().occupant, Driver::Occupant::passenger);
    auto* name = control<TextField>(QStringLiteral("Tall driver, name"));
    type(name, QString());
    EXPECT_EQ(tall().name, "Tall driver");
    EXPECT_TRUE(shows(QStringLiteral("A person needs a name, even if only \"tall driver\".")));
}

TEST_F(PartForms, SeatAndBeltsOfADriverComeAndGo) {
    choose(Kind::driver, "tall");
    type(QStringLiteral("Tall driver, seat, back height"), QStringLiteral("650"));
    EXPECT_EQ(tall().seat->back_height_mm, 650);
    tick(QStringLiteral("The seat is measured"));
    EXPECT_FALSE(tall().seat);
    tick(QStringLiteral("The seat is measured"));
    EXPECT_TRUE(tall().seat);
    pick(QStringLiteral("Tall driver, belts, wrap over"), QStringLiteral("Belt bar, far half"));
    EXPECT_EQ(tall().belts.bar, "belt_bar_far");
    const std::size_t anchors = tall().belts.lap_anchors.size();
    press(QStringLiteral("Tall driver, belts, add lap anchor"));
    EXPECT_EQ(tall().belts.lap_anchors.size(), anchors + 1);
    press(QStringLiteral("Tall driver, belts, delete last"));
    EXPECT_EQ(tall().belts.lap_anchors.size(), anchors);
}

TEST_F(PartForms, ACarPointMovesAllThatStandsOnIt) {
    choose(Kind::car_point, "rear_leg.left");
    EXPECT_THAT(facts(QStringLiteral("Car point rear_leg.left, what stands on it")).toStdString(),
                HasSubstr("Rear brace foot: plate"));
    const CageGeometry& now = desk_.document.geometry();
    const auto foot = [&] { return now.members[std::size_t(now.member("rear_brace.left"))].ends[1].at; };
    const Vec3 was = foot();
    // 100 ahead of the rear axle in the car's file.
    type(QStringLiteral("Car point rear_leg.left, ahead of rear axle"), QStringLiteral("80"));
    EXPECT_NEAR((foot() - was - Vec3(-20, 0, 0)).norm(), 0, 1e-6);
    write(QStringLiteral("Car point rear_leg.left, measured"), QStringLiteral("laser, car on stands"));
    EXPECT_EQ(job().car.point("rear_leg.left")->how, "laser, car on stands");
    write(QStringLiteral("Car point rear_leg.left, called"), QStringLiteral("strut.left"));
    EXPECT_NE(job().car.point("strut.left"), nullptr);
    EXPECT_EQ(std::get<AtCarPoint>(plate("brace_foot").at).point, "strut.left");
    EXPECT_TRUE(desk_.document.geometry().problems.empty());
}

TEST_F(PartForms, ATapedPointShowsAndTakesItsTapesToleranceAndLessons) {
    const std::string name = "b_pillar_top.left";
    const QString about = QStringLiteral("Car point b_pillar_top.left, ");
    choose(Kind::car_point, name);
    const auto by = [&] { return std::get<ByTapes>(job().car.point(name)->taken); };
    type(about + QStringLiteral("from 4"), QStringLiteral("1450.5"));
    EXPECT_EQ(by().tapes[1].length_mm, 1450.5);
    EXPECT_EQ(by().tapes[1].from, "sill_a.left");
    EXPECT_THAT(facts(about + QStringLiteral("where that leads")).toStdString(),
                HasSubstr("four tapes that agree"));
    EXPECT_THAT(facts(about + QStringLiteral("what tape 2 says")).toStdString(),
                HasSubstr("against the others"));
    type(about + QStringLiteral("tape 2, good to"), QStringLiteral("1"));
    EXPECT_EQ(by().tapes[1].tolerance_mm, 1);
    type(about + QStringLiteral("good to"), QStringLiteral("2.5"));
    EXPECT_EQ(job().car.point(name)->tolerance_mm, 2.5);
    pick(about + QStringLiteral("lies"), QStringLiteral("below"));
    EXPECT_EQ(by().lies, ByTapes::Lies::below);
    EXPECT_LT(job().car.point(name)->at.z(), 0);
    undo();
    pick(about + QStringLiteral("tape 4, from"), QStringLiteral("sill b, left"));
    EXPECT_EQ(by().tapes[3].from, "sill_a.right") << "two tapes from one point are refused";
    EXPECT_THAT(said_.toStdString(), HasSubstr("is taped from sill_b.left twice"));
    EXPECT_EQ(control<ChoiceField>(about + QStringLiteral("tape 4, from"))->currentText(),
              QStringLiteral("sill a, right"));
    press(about + QStringLiteral("add tape"));
    EXPECT_EQ(by().tapes.size(), 5u);
    press(about + QStringLiteral("delete last"));
    EXPECT_EQ(by().tapes.size(), 4u);
    type(control<QLineEdit>(QStringLiteral("A new lesson")), QStringLiteral("hook it inside the seam"));
    ASSERT_EQ(job().car.lessons.back().about, name);
    EXPECT_EQ(job().car.lessons.back().note, "hook it inside the seam");
    write(about + QStringLiteral("written on"), QStringLiteral("3 March"));
    EXPECT_TRUE(shows(QStringLiteral("3 March is no date: write it as 2026-03-02, or leave it out.")));
    press(about + QStringLiteral("delete lesson"));
    for (const Lesson& lesson : job().car.lessons) EXPECT_NE(lesson.about, name);
}

TEST_F(PartForms, APointByOffsetsKeepsItsPlaceWhenSaidFromElsewhere) {
    const QString about = QStringLiteral("Car point rear_leg.left, ");
    choose(Kind::car_point, "rear_leg.left");
    const Vec3 was = job().car.point("rear_leg.left")->at;
    const auto by = [&] { return std::get<ByOffsets>(job().car.point("rear_leg.left")->taken); };
    pick(about + QStringLiteral("height from"), QStringLiteral("the ground"));
    EXPECT_EQ(by().height_mm, 565);  // 235 over the sill, the ground 330 under it
    pick(about + QStringLiteral("ahead of"), QStringLiteral("door edge"));
    EXPECT_EQ(by().ahead_mm, -900);
    EXPECT_LT((job().car.point("rear_leg.left")->at - was).norm(), 1e-9);
    type(about + QStringLiteral("height over ground"), QStringLiteral("570"));
    EXPECT_EQ(job().car.point("rear_leg.left")->at.z(), 240);
}

TEST_F(PartForms, PlanesAndSymmetryAreOfTheCar) {
    choose(Kind::car_facts, "car");
    const double was = job().car.point("rear_leg.left")->at.x();
    type(QStringLiteral("Car, rear axle, ahead of the door edge"), QStringLiteral("-1010"));
    EXPECT_EQ(job().car.point("rear_leg.left")->at.x(), was - 10) << "what is squared off from it follows";
    tick(QStringLiteral("Symmetric: one side holds for both"));
    EXPECT_FALSE(job().car.symmetric);
    type(control<QLineEdit>(QStringLiteral("Name of a new plane")), QStringLiteral("Front axle"));
    EXPECT_EQ(job().car.planes.back().name, "front_axle");
}

TEST_F(PartForms, ACarLineTakesPointsKindAndName) {
    choose(Kind::car_line, "sill_edge.left");
    type(QStringLiteral("Car line sill_edge.left, point 2 z"), QStringLiteral("-160"));
    EXPECT_EQ(line("sill_edge.left").points[1].z(), -160);
    press(QStringLiteral("Car line sill_edge.left, add point"));
    EXPECT_EQ(line("sill_edge.left").points.size(), 3u);
    press(QStringLiteral("Car line sill_edge.left, delete last"));
    EXPECT_EQ(line("sill_edge.left").points.size(), 2u);
    pick(QStringLiteral("Car line sill_edge.left, kind"), QStringLiteral("floor"));
    EXPECT_EQ(line("sill_edge.left").kind, CarLine::Kind::floor);
    tick(QStringLiteral("Closed: the last point joins the first"));
    EXPECT_TRUE(line("sill_edge.left").closed);
    write(QStringLiteral("Car line sill_edge.left, called"), QStringLiteral("belt.left"));
    EXPECT_TRUE(shows(QStringLiteral("Something of the car is called belt.left already.")));
    write(QStringLiteral("Car line sill_edge.left, called"), QStringLiteral("rocker.left"));
    EXPECT_EQ(line("rocker.left").points.size(), 2u);
}

TEST_F(PartForms, TheCarsFactsAreTypedInPlainWords) {
    choose(Kind::car_facts, "car");
    const auto& fact = [&](const char* name) { return job().car.facts.at(name); };
    write(QStringLiteral("Car, seats"), QStringLiteral("2"));
    EXPECT_EQ(fact("seats"), (Fact{2.0, Dimension::none}));
    write(QStringLiteral("Car, driver side"), QStringLiteral("right"));
    EXPECT_EQ(fact("driver_side"), (Fact{std::string("right"), Dimension::none}));
    write(QStringLiteral("Car, roof"), QString());
    EXPECT_EQ(job().car.facts.count("roof"), 0u) << "emptied: the fact is gone";
    pick(QStringLiteral("Car, body"), QStringLiteral("hatchback"));
    EXPECT_EQ(bodyWord(job().car.body), "hatchback");
    type(QStringLiteral("Car, ground at z"), QStringLiteral("-340"));
    EXPECT_EQ(job().car.ground_z_mm, -340);
}

TEST_F(PartForms, AFactOfTheEntryReadsAsWordsAndGoesBackAsTheTableWritesIt) {
    desk_.selection.clear();
    QCoreApplication::processEvents();
    auto* basis = control<TextField>(QStringLiteral("Job, mass basis"));
    ASSERT_NE(basis, nullptr);
    EXPECT_EQ(basis->text(), QStringLiteral("with driver"));
    type(basis, QStringLiteral("without driver"));
    EXPECT_EQ(job().cage.entry.at("mass_basis"), (Fact{std::string("without_driver"), Dimension::none}));
    write(QStringLiteral("Job, race mass"), QStringLiteral("heavy"));
    EXPECT_EQ(job().cage.entry.at("race_mass"), (Fact{1080.0, Dimension::mass})) << "a mass stays a mass";
    desk_.setUnits(UnitsShown::in);
    write(QStringLiteral("Job, race mass"), QStringLiteral("2400"));
    // 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959)
    EXPECT_NEAR(std::get<double>(job().cage.entry.at("race_mass").value), 2400 * 0.45359237, 1e-6);
}

TEST_F(PartForms, WhatTheClassAsksAndNobodySaidHasARowInTheEntryAndWithTheFinding) {
    desk_.document.edit(QStringLiteral("unsaid"), [](Job& next) {
        next.cage.entry.erase("race_mass");
        next.cage.entry.erase("mass_basis");
    });
    std::vector<std::string> names;
    for (const FactWanted* one : factsNotSaid(desk_)) names.push_back(one->name);
    EXPECT_THAT(names, testing::IsSupersetOf({"race_mass", "mass_basis"}));
    const auto& findings = desk_.document.report().findings;
    const auto lacks = std::ranges::find_if(
        findings, [](const Finding& one) { return one.missing.find("'race_mass'") != std::string::npos; });
    ASSERT_NE(lacks, findings.end());
    const std::string key = findingKey(*lacks);
    const QString title = text(lacks->title);
    choose(Kind::finding, key);
    auto* row = control<TextField>(title + QStringLiteral(", race mass"));
    ASSERT_NE(row, nullptr);
    EXPECT_EQ(row->placeholderText(), QStringLiteral("kg"));
    const int before = steps();
    type(row, QStringLiteral("heavy"));
    EXPECT_EQ(steps(), before) << "a mass is wanted";
    type(row, QStringLiteral("1080"));
    EXPECT_EQ(job().cage.entry.at("race_mass"), (Fact{1080.0, Dimension::mass}));
    // Now its basis is what is missing, and it is one of two words.
    row = control<TextField>(title + QStringLiteral(", mass basis"));
    ASSERT_NE(row, nullptr);
    type(row, QStringLiteral("roughly"));
    EXPECT_FALSE(job().cage.entry.contains("mass_basis"));
    type(row, QStringLiteral("with driver"));
    EXPECT_EQ(job().cage.entry.at("mass_basis"), (Fact{std::string("with_driver"), Dimension::none}));
    EXPECT_NE(findFinding(desk_.document.report(), key)->answer, Answer::cannot_tell);
    for (const FactWanted* one : factsNotSaid(desk_)) EXPECT_NE(one->name, "race_mass");
}

TEST_F(PartForms, ANewFactNeedsANameAndAValue) {
    desk_.selection.clear();
    QCoreApplication::processEvents();
    const auto put = [&](const QString& name, const QString& value) {
        auto* first = control<QLineEdit>(QStringLiteral("Entry, name of a new fact"));
        first->setText(name);
        auto* second = control<QLineEdit>(QStringLiteral("Entry, value of a new fact"));
        second->setText(value);
        QTest::keyClick(second, Qt::Key_Return);
        QCoreApplication::processEvents();
    };
    put(QStringLiteral("2nd fact"), QStringLiteral("yes"));
    EXPECT_THAT(said_.toStdString(), HasSubstr("A fact needs a name"));
    EXPECT_EQ(steps(), 0);
    put(QStringLiteral("Target speed"), QStringLiteral("190 km/h"));
    ASSERT_EQ(job().cage.entry.count("target_speed"), 1u);
    EXPECT_EQ(job().cage.entry.at("target_speed").dimension, Dimension::speed);
    auto* field = control<TextField>(QStringLiteral("Job, target speed"));
    ASSERT_NE(field, nullptr);
    EXPECT_EQ(field->text(), QStringLiteral("190.0 km/h"));
}

}  // namespace
}  // namespace hoopwright
