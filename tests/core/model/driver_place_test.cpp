// A driver outside the car, or behind the hoop, is a problem of the layout with a sentence.
#include <gtest/gtest.h>

#include "small_cage.h"

namespace hoopwright {
namespace {

using namespace hoopwright::testing;
using Kind = GeometryProblem::Kind;

Job job() {
    Job out = hoopJob();
    out.car.ground_z_mm = -300;
    for (const double x : {-1500.0, 2000.0})
        out.car.shell.push_back(
            {"s" + std::to_string(static_cast<int>(x)), x, {{700, -150}, {780, 300}, {600, 980}, {0, 1040}}});
    Driver d;
    d.id = "tall";
    d.name = "Tall driver";
    d.hip = {300, 350, 60};
    d.shoulder_left = {100, 490, 590};
    d.shoulder_right = {100, 210, 590};
    out.drivers = {d};
    return out;
}

std::vector<GeometryProblem> ofDriver(const Job& job) {
    std::vector<GeometryProblem> out;
    for (const GeometryProblem& problem : resolve(job).problems)
        if (!problem.driver.empty()) out.push_back(problem);
    return out;
}

TEST(DriverInTheCar, IsNoProblem) {
    EXPECT_TRUE(ofDriver(job()).empty());
}

TEST(DriverInTheCar, IsToldWhenOutside) {
    Job j = job();
    j.drivers[0].hip.y() = 35000;
    auto problems = ofDriver(j);
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_EQ(problems[0].kind, Kind::driver_outside);
    EXPECT_EQ(problems[0].text, "Tall driver: the hip point is 34220.0 mm to the left of the car.");
    EXPECT_EQ(problems[0].driver, "tall");
    j = job();
    j.drivers[0].shoulder_left.z() = j.drivers[0].shoulder_right.z() = 1240;
    EXPECT_EQ(ofDriver(j)[0].text, "Tall driver: the middle of the shoulders is 200.0 mm above the car.");
    j.car.shell.clear();
    EXPECT_TRUE(ofDriver(j).empty()) << "with no skin measured nobody can tell";
}

TEST(DriverInTheCar, SitsAheadOfTheHoop) {
    Job j = job();
    j.drivers[0].hip.x() = -300;
    const auto problems = ofDriver(j);
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_EQ(problems[0].kind, Kind::seat_behind_hoop);
    EXPECT_TRUE(
        problems[0].text.starts_with("Tall driver: the seat is behind the main hoop, the hip point by 1"))
        << problems[0].text;
    j.drivers[0].occupant = Driver::Occupant::passenger;
    EXPECT_TRUE(ofDriver(j).empty()) << "a passenger may sit behind it";
}

}  // namespace
}  // namespace hoopwright
