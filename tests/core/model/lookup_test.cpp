// Roles, stock, dies, car and layout by name.
#include <gtest/gtest.h>

#include <set>

#include "core/model/cage_layout.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

TEST(Role, EveryKnownRoleHasANameAPlaceAndASentenceForTheCustomer) {
    std::set<std::string> words, names;
    for (const Role& role : knownRoles()) {
        EXPECT_TRUE(words.insert(role.word).second) << role.word;
        EXPECT_TRUE(names.insert(role.name).second) << role.name;
        EXPECT_NE(role.place, Place::other) << role.word;
        EXPECT_GT(role.purpose.size(), 30u) << role.word;
        EXPECT_TRUE(role.purpose.ends_with(".")) << role.word;
        EXPECT_EQ(roleOf(role.word).name, role.name);
    }
    EXPECT_EQ(words.size(), 21u);
}

TEST(Role, AnUnknownWordIsSpokenAsItIs) {
    EXPECT_EQ(roleOf("nose_bar").name, "Nose bar");
    EXPECT_EQ(roleOf("nose_bar").place, Place::other);
    EXPECT_EQ(roleOf("").name, "");
    EXPECT_EQ(placeName(Place::other), "Other bars");
    EXPECT_EQ(placeName(Place::hoops_and_sides), "Hoops and sides");
}

TEST(Stock, IsFoundByIdAndDiesByDiameterAndRadius) {
    const StockList stock = testing::metricRack();
    ASSERT_NE(stock.find("38x2.5"), nullptr);
    EXPECT_EQ(stock.find("38x2.5")->section.od_mm, 38);
    EXPECT_EQ(stock.find("38"), nullptr);
    EXPECT_NE(stock.material("e355"), nullptr);
    EXPECT_EQ(stock.material("e235"), nullptr);
    DieList dies = testing::metricDies();
    dies.dies.push_back({"wide", 45, 180, 90, 60, 2});
    EXPECT_EQ(dies.forOd(45.04)->id, "d45");
    EXPECT_EQ(dies.forOd(45.1), nullptr);
    EXPECT_EQ(dies.forBend(45, 180.4)->id, "wide");
    EXPECT_EQ(dies.forBend(45, 181), nullptr);
    EXPECT_EQ(dies.find("d38")->od_mm, 38);
    EXPECT_EQ(dies.find("d99"), nullptr);
}

TEST(Stock, FormsHaveTheWordsFilesUse) {
    EXPECT_EQ(formWord(TubeForm::seamless), "seamless");
    EXPECT_EQ(formWord(TubeForm::drawn_over_mandrel), "drawn_over_mandrel");
    EXPECT_EQ(formWord(TubeForm::welded), "welded");
}

TEST(Car, NamesHaveTheirOtherSide) {
    EXPECT_EQ(otherSide("sill.left"), "sill.right");
    EXPECT_EQ(otherSide("a_pillar.top.right"), "a_pillar.top.left");
    EXPECT_EQ(otherSide("dash"), "dash");
    EXPECT_EQ(otherSide("left"), "left");
}

TEST(Car, PointsLinesAndRailsAreFoundByName) {
    Car car;
    car.symmetric = true;
    car.points = {{"sill.left", {1, 2, 3}, 0, ""}, {"dash", {4, 0, 5}, 0, ""}};
    car.lines = {{"roof", CarLine::Kind::body, {{0, 0, 0}, {1, 0, 0}}, false}};
    car.rails = {{"leg.left", {{0, 0, 0}, {1, 0, 0}}, 60, 80, 2}};
    EXPECT_EQ(car.point("dash")->at.x(), 4);
    EXPECT_EQ(car.point("sill.right"), nullptr);
    EXPECT_EQ(*car.pointAt("sill.right"), Vec3(1, -2, 3)) << "mirrored from the side that was measured";
    EXPECT_FALSE(car.pointAt("roof"));
    EXPECT_NE(car.line("roof"), nullptr);
    EXPECT_EQ(car.line("dash"), nullptr);
    EXPECT_NE(car.rail("leg.left"), nullptr);
    EXPECT_EQ(car.rail("leg.right"), nullptr);
    EXPECT_EQ(bodyWord(Car::Body::pickup), "pickup");
    EXPECT_EQ(frameWord(Car::Frame::ladder), "ladder");
}

TEST(Driver, TheHelmetIsAnEllipsoidOfHalfItsOutsideSizes) {
    const Helmet helmet{{1, 2, 3}, 340, 265, 275};
    EXPECT_EQ(helmet.ellipsoid().half_mm, Vec3(170, 132.5, 137.5));
    EXPECT_EQ(helmet.ellipsoid().centre, Vec3(1, 2, 3));
}

TEST(Layout, MembersAndPlatesAreFoundByTheirOwnId) {
    const Job job = testing::hoopJob();
    EXPECT_EQ(job.cage.member("rear_brace"), &job.cage.members[1]);
    EXPECT_EQ(job.cage.member("rear_brace.left"), nullptr);
    EXPECT_EQ(job.cage.plate("brace_foot"), &job.cage.plates[1]);
    EXPECT_EQ(job.cage.plate("none"), nullptr);
    const CageGeometry cage = resolve(job);
    EXPECT_EQ(cage.member("rear_brace.right"), 2);
    EXPECT_EQ(cage.member("rear_brace"), -1);
    EXPECT_EQ(cage.plate("hoop_foot.left"), 0);
}

}  // namespace
}  // namespace hoopwright
