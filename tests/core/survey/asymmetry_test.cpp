// Left against right, and the lines a car should have.
#include "core/survey/asymmetry.h"

#include <gmock/gmock.h>

#include "core/survey/line_list.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;

Car crooked() {
    Car car;
    car.points = {{"sill_b.left", {0, 630, 0}, 2, ""},
                  {"sill_b.right", {0, -630, 0}, 2, ""},
                  {"top.left", {3, 575, 950}, 3, ""},
                  {"top.right", {-1, -572, 962}, 3, ""},
                  {"leg.right", {-900, -488, 235}, 3, ""}};
    return car;
}

TEST(Asymmetry, IsLeftLessRightMirrored) {
    const Car car = crooked();
    const AsymmetryTable table = asymmetry(car, survey(car));
    ASSERT_EQ(table.pairs.size(), 2u);
    EXPECT_EQ(table.pairs[0].evenness, Evenness::within);
    const Asymmetry& top = table.pairs[1];
    EXPECT_EQ(top.name, "top");
    EXPECT_EQ(top.differs_mm, Vec3(4, 3, -12));
    EXPECT_DOUBLE_EQ(top.apart_mm, 13);
    EXPECT_NEAR(*top.tolerance_mm, std::hypot(3, 3), 1e-12);
    EXPECT_EQ(top.evenness, Evenness::beyond);
    EXPECT_THAT(table.one_side, ElementsAre("leg.right"));
}

TEST(Asymmetry, CrossesTheDiagonals) {
    const Car car = crooked();
    const AsymmetryTable table = asymmetry(car, survey(car));
    ASSERT_EQ(table.diagonals.size(), 1u);
    const Diagonal& cross = table.diagonals[0];
    EXPECT_DOUBLE_EQ(cross.left_to_right_mm, Vec3(1, 1202, -962).norm());
    EXPECT_DOUBLE_EQ(cross.right_to_left_mm, Vec3(-3, -1205, -950).norm());
    EXPECT_NEAR(*cross.tolerance_mm, std::sqrt(4 + 4 + 9 + 9), 1e-12);
}

TEST(Asymmetry, ComparesTheTapesThemselves) {
    Car car = crooked();
    car.points.push_back({"sill_a.left", {1090, 630, 0}, 2, ""});
    car.points.push_back({"sill_a.right", {1090, -630, 0}, 2, ""});
    const auto tapes = [](const std::string& here, const std::string& there, double more) {
        ByTapes by;
        by.tapes = {
            {"sill_b" + here, 960 + more, 0}, {"sill_a" + here, 1450, 0}, {"sill_b" + there, 1540, 0}};
        by.lies = ByTapes::Lies::above;
        return by;
    };
    CarPoint left{"roof.left", Vec3::Zero(), 2, ""}, right{"roof.right", Vec3::Zero(), 2, ""};
    left.taken = tapes(".left", ".right", 5);
    right.taken = tapes(".right", ".left", 0);
    car.points.push_back(left);
    car.points.push_back(right);
    const Survey found = survey(car);
    ASSERT_TRUE(found.problems.empty()) << found.problems[0].what;
    const AsymmetryTable table = asymmetry(car, found);
    ASSERT_EQ(table.pairs.back().tapes.size(), 3u);
    EXPECT_EQ(table.pairs.back().tapes[0].from, "sill_b.left");
    EXPECT_DOUBLE_EQ(table.pairs.back().tapes[0].differs_mm(), 5);
    EXPECT_DOUBLE_EQ(table.pairs.back().tapes[2].differs_mm(), 0);
}

TEST(TheLines, OfEveryKindOfCarAreListedAndNamedOnce) {
    for (const auto body :
         {Car::Body::saloon, Car::Body::hatchback, Car::Body::open, Car::Body::pickup, Car::Body::van}) {
        for (const auto frame : {Car::Frame::unibody, Car::Frame::ladder, Car::Frame::perimeter}) {
            std::set<std::pair<WantedLine::Kind, std::string>> names;
            for (const WantedLine& one : wantedLines(body, frame)) {
                EXPECT_TRUE(names.emplace(one.kind, one.name).second) << one.name;
                EXPECT_FALSE(one.title.empty() || one.why.empty());
            }
            EXPECT_EQ(names.contains({WantedLine::Kind::line, "roof_rail"}), body != Car::Body::open);
            EXPECT_EQ(names.contains({WantedLine::Kind::rail, "frame"}), frame != Car::Frame::unibody);
        }
    }
}

TEST(ALineOfOneSide, StandsForBothOnlyWhereTheBuilderSaysSo) {
    Car car;
    car.lines = {{"sill.left", CarLine::Kind::body, {{0, 0, 0}, {1, 0, 0}}, false, {}}};
    const auto state = [&](const std::string& name, WantedLine::Kind kind) {
        for (const LineState& one : lineStates(car)) {
            if (one.wanted.name == name && one.wanted.kind == kind) return stateWords(one);
        }
        return std::string();
    };
    EXPECT_EQ(state("sill", WantedLine::Kind::line), "right is missing");
    EXPECT_FALSE(car.standsForBoth(car.lines[0]));
    car.symmetric = true;
    EXPECT_EQ(state("sill", WantedLine::Kind::line), "left stands for both");
    EXPECT_TRUE(car.standsForBoth(car.lines[0]));
    EXPECT_EQ(state("sill", WantedLine::Kind::rail), "missing");
    EXPECT_EQ(state("roof_skin", WantedLine::Kind::skin), "missing");
    car.lines.push_back({"sill.right", CarLine::Kind::body, {{0, 0, 0}, {1, 0, 0}}, false, {}});
    EXPECT_EQ(state("sill", WantedLine::Kind::line), "there");
    EXPECT_FALSE(car.standsForBoth(car.lines[0]));
}

TEST(APointOfOneSide, StandsForBothOnlyWhereTheBuilderSaysSo) {
    Car car = crooked();
    EXPECT_FALSE(car.pointAt("leg.left"));
    car.symmetric = true;
    EXPECT_EQ(*car.pointAt("leg.left"), Vec3(-900, 488, 235));
}

}  // namespace
}  // namespace hoopwright
