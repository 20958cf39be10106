// Points from offsets and tapes: where they are, what is said of them, and what is refused.
#include "core/survey/survey.h"

#include <gmock/gmock.h>

namespace hoopwright {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

Car sills() {
    Car car;
    car.ground_z_mm = -330;
    car.planes = {{"rear_axle", -1000, 2}};
    car.points = {{"sill_b.left", {0, 630, 0}, 2, ""},
                  {"sill_b.right", {0, -630, 0}, 2, ""},
                  {"sill_a.left", {1090, 630, 0}, 2, ""},
                  {"sill_a.right", {1090, -630, 0}, 2, ""}};
    return car;
}

CarPoint offset(const std::string& name, ByOffsets by, double tolerance = 3) {
    CarPoint point{name, Vec3::Zero(), tolerance, ""};
    point.taken = std::move(by);
    return point;
}

/// Tapes of true length to `at` from the points named, the n-th off by wrong[n].
CarPoint taped(const Car& car, const std::string& name, const Vec3& at, const std::vector<std::string>& from,
               const std::vector<double>& wrong = {}) {
    CarPoint point{name, Vec3::Zero(), 2, ""};
    ByTapes by;
    for (std::size_t i = 0; i < from.size(); ++i) {
        const double off = i < wrong.size() ? wrong[i] : 0;
        by.tapes.push_back({from[i], (at - car.point(from[i])->at).norm() + off, 0});
    }
    by.lies = ByTapes::Lies::above;
    point.taken = by;
    return point;
}

ByTapes& tapesOf(CarPoint& point) {
    return std::get<ByTapes>(point.taken);
}

std::vector<std::string> problemsOf(const Car& car) {
    std::vector<std::string> out;
    for (const SurveyProblem& problem : survey(car).problems) out.push_back(problem.what);
    return out;
}

const Vec3 kTop(0, 575, 955);
const std::vector<std::string> kFour = {"sill_b.left", "sill_b.right", "sill_a.left", "sill_a.right"};
const std::vector<std::string> kThree = {"sill_b.left", "sill_b.right", "sill_a.left"};

TEST(Offsets, AreHeightOutAndAhead) {
    Car car = sills();
    ByOffsets by;
    by.height_mm = 955;
    by.out_mm = 575;
    by.ahead_mm = -15;
    car.points.push_back(offset("b_pillar_top.right", by));
    by.from = ByOffsets::From::ground;
    by.toward = ByOffsets::Toward::left;
    by.plane = "rear_axle";
    car.points.push_back(offset("tank", by));
    ASSERT_TRUE(settle(car).empty());
    EXPECT_EQ(car.point("b_pillar_top.right")->at, Vec3(-15, -575, 955));
    EXPECT_EQ(car.point("tank")->at, Vec3(-1015, 575, 625));
}

TEST(Offsets, CarryThePlanesOwnError) {
    Car car = sills();
    ByOffsets by;
    by.plane = "rear_axle";
    car.points.push_back(offset("a.left", by, 4));
    const Vec3 error = *survey(car).point("a.left")->standardError_mm();
    EXPECT_NEAR(error.x(), std::hypot(2, 1), 1e-12);
    EXPECT_NEAR(error.y(), 2, 1e-12);
    EXPECT_NEAR(error.z(), 2, 1e-12);
}

TEST(Offsets, AreRefusedWithoutAPlaneOrASide) {
    Car car = sills();
    ByOffsets by;
    by.out_mm = 100;
    car.points.push_back(offset("tank", by));
    by.plane = "rear_axel";
    car.points.push_back(offset("b.left", by));
    by.plane = "rear_axle";
    by.toward = ByOffsets::Toward::left;
    car.points.push_back(offset("c.left", by));
    by.toward = ByOffsets::Toward::by_name;
    by.out_mm = -3;
    car.points.push_back(offset("d.left", by));
    EXPECT_THAT(problemsOf(car),
                ElementsAre("tank lies 100.0 mm out from the centreline, and to which side is not said",
                            "b.left is squared off from 'rear_axel', which is no plane of this car",
                            "c.left says its side twice", "d.left lies -3.0 mm out, less than nothing"));
    EXPECT_EQ(survey(car).problems[1].remedy, "did you mean 'rear_axle'?");
}

TEST(ThreeTapes, MeetAboveOrBelow) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kThree));
    const Survey found = survey(car);
    ASSERT_TRUE(found.problems.empty());
    const SurveyedPoint& top = *found.point("top");
    EXPECT_LT((top.at - kTop).norm(), 1e-8);
    ASSERT_TRUE(top.other_place);
    EXPECT_LT((*top.other_place - Vec3(0, 575, -955)).norm(), 1e-8);
    EXPECT_TRUE(top.doubts.empty());
    EXPECT_THAT(top.remark, HasSubstr("three tapes: that they meet is all they can show"));
    tapesOf(car.points.back()).lies = ByTapes::Lies::below;
    EXPECT_LT(survey(car).point("top")->at.z(), 0);
    tapesOf(car.points.back()).lies = ByTapes::Lies::not_said;
    tapesOf(car.points.back()).near = Vec3(0, 0, 500);
    EXPECT_GT(survey(car).point("top")->at.z(), 0);
}

TEST(ThreeTapes, WithoutASideAreRefusedWithBothPlaces) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kThree));
    tapesOf(car.points.back()).lies = ByTapes::Lies::not_said;
    const Survey found = survey(car);
    ASSERT_EQ(found.problems.size(), 1u);
    EXPECT_THAT(found.problems[0].what, HasSubstr("top: its tapes meet in two places, [0.0, 575.0, "));
    EXPECT_EQ(found.problems[0].remedy, "say which with lies: above or below");
    tapesOf(car.points.back()).lies = ByTapes::Lies::inboard;
    EXPECT_THAT(problemsOf(car), ElementsAre(HasSubstr("as far out as each other")));
    tapesOf(car.points.back()).lies = ByTapes::Lies::ahead;
    EXPECT_THAT(problemsOf(car), ElementsAre(HasSubstr("neither lies ahead the other")));
}

TEST(ThreeTapes, FromUprightDatumsAreToldApartSideways) {
    Car car;
    car.points = {{"low.left", {0, 600, 0}, 1, ""},
                  {"high.left", {0, 600, 900}, 1, ""},
                  {"front.left", {1000, 600, 0}, 1, ""}};
    car.points.push_back(taped(car, "tunnel", {400, 150, 300}, {"low.left", "high.left", "front.left"}));
    tapesOf(car.points.back()).lies = ByTapes::Lies::inboard;
    EXPECT_LT((survey(car).point("tunnel")->at - Vec3(400, 150, 300)).norm(), 1e-8);
    tapesOf(car.points.back()).lies = ByTapes::Lies::outboard;
    EXPECT_LT((survey(car).point("tunnel")->at - Vec3(400, 1050, 300)).norm(), 1e-8);
}

TEST(FourTapes, ShowEachResidual) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kFour, {0.5, -0.5, 0.5, -0.5}));
    const Survey found = survey(car);
    const SurveyedPoint& top = *found.point("top");
    ASSERT_EQ(top.tapes.size(), 4u);
    for (const TapeResult& tape : top.tapes) {
        const Vec3 from = car.point(tape.from)->at;
        EXPECT_NEAR(tape.residual_mm, tape.length_mm - (top.at - from).norm(), 1e-12);
        ASSERT_TRUE(tape.against_others_mm);
    }
    EXPECT_TRUE(top.doubts.empty());
    EXPECT_EQ(top.remark, "four tapes that agree");
}

TEST(FourTapes, OneMisreadIsOneOfFourSuspects) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kFour, {14}));
    for (CarPoint& point : car.points) point.tolerance_mm = 1;
    const Survey found = survey(car);
    const SurveyedPoint& top = *found.point("top");
    EXPECT_NEAR(*top.tapes[0].against_others_mm, 14, 1e-6);
    ASSERT_EQ(top.doubts.size(), 1u);
    EXPECT_THAT(top.doubts[0], HasSubstr("tape from sill_b.left is 14.0 mm long against the other three"));
    EXPECT_THAT(top.doubts[0], HasSubstr("four tapes cannot tell which, a fifth would"));
}

TEST(FiveTapes, NameTheOneThatDisagrees) {
    Car car = sills();
    car.points.push_back({"rear_leg.left", {-900, 488, 235}, 2, ""});
    std::vector<std::string> five = kFour;
    five.emplace_back("rear_leg.left");
    car.points.push_back(taped(car, "top", kTop, five, {0, 0, 0, -80}));
    EXPECT_THAT(survey(car).point("top")->doubts,
                ElementsAre("tape from sill_a.right is 80.0 mm short against the other four"));
    LengthStyle inches;
    inches.unit = LengthUnit::in;
    EXPECT_THAT(survey(car, inches).point("top")->doubts,
                ElementsAre("tape from sill_a.right is 3.150 in short against the other four"));
}

TEST(FiveTapes, TwoMisreadAreNotBlamedOnOne) {
    Car car = sills();
    car.points.push_back({"rear_leg.left", {-900, 488, 235}, 2, ""});
    car.points.push_back({"front_leg.left", {1420, 450, 155}, 2, ""});
    std::vector<std::string> six = kFour;
    six.insert(six.end(), {"rear_leg.left", "front_leg.left"});
    car.points.push_back(taped(car, "top", kTop, six, {60, 0, -75}));
    EXPECT_THAT(survey(car).point("top")->doubts,
                ElementsAre(HasSubstr("leaving out any one does not mend it")));
}

TEST(TapesNearTheirPlane, AreBlindAcrossItAndSaySo) {
    Car car = sills();
    car.points.push_back(taped(car, "seat_bolt", {500, 300, 0.5}, kFour));
    const Survey found = survey(car);
    ASSERT_TRUE(found.problems.empty()) << found.problems[0].what;
    const SurveyedPoint& bolt = *found.point("seat_bolt");
    EXPECT_FALSE(bolt.covariance_mm2);
    EXPECT_FALSE(bolt.goodTo_mm());
    ASSERT_FALSE(bolt.doubts.empty());
    EXPECT_THAT(bolt.doubts[0], HasSubstr("blind across it"));
}

TEST(APoint, MayBeTapedFromOnesGivenLater) {
    Car car = sills();
    const CarPoint top = taped(car, "top", kTop, kFour);
    Car with_top = car;
    with_top.points.push_back({"top", kTop, 2, ""});
    const CarPoint roof =
        taped(with_top, "roof", {-200, 0, 1040}, {"top", "sill_b.left", "sill_b.right", "sill_a.left"});
    car.points.insert(car.points.begin(), {roof, top});
    ASSERT_TRUE(settle(car).empty());
    EXPECT_LT((car.point("roof")->at - Vec3(-200, 0, 1040)).norm(), 1e-7);
    EXPECT_GT(*survey(car).point("roof")->goodTo_mm(), *survey(car).point("sill_b.left")->goodTo_mm());
}

TEST(APoint, IsRefusedOnALoopWhichIsNamed) {
    Car car = sills();
    const auto from = [&](const std::string& name, const std::string& other) {
        CarPoint point{name, Vec3::Zero(), 2, ""};
        ByTapes by;
        by.tapes = {{other, 500, 0}, {"sill_b.left", 800, 0}, {"sill_a.left", 900, 0}};
        point.taken = by;
        return point;
    };
    car.points.push_back(from("a", "b"));
    car.points.push_back(from("b", "c"));
    car.points.push_back(from("c", "a"));
    car.points.push_back(from("d", "c"));
    EXPECT_THAT(problemsOf(car),
                ElementsAre("a is taped from b, which is taped from c, which is taped from a"));
}

TEST(Tapes, ThatCannotMeetAreRefusedWithTheLack) {
    Car car = sills();
    CarPoint point = taped(car, "top", kTop, kThree);
    tapesOf(point).tapes[0].length_mm = 600;
    tapesOf(point).tapes[1].length_mm = 600;
    car.points.push_back(point);
    EXPECT_THAT(
        problemsOf(car),
        ElementsAre(
            "top: the tapes from sill_b.left and sill_b.right cannot meet: the two are 1260.0 mm apart "
            "and the tapes reach 1200.0 mm, 60.0 mm too little"));
    EXPECT_EQ(survey(car).problems[0].item, 1);
    tapesOf(car.points.back()).tapes[0].length_mm = 2000;
    EXPECT_THAT(
        problemsOf(car),
        ElementsAre("top: the tapes from sill_b.left and sill_b.right cannot meet: that from sill_b.left is "
                    "1400.0 mm the longer and the two are only 1260.0 mm apart, 140.0 mm too little"));
}

TEST(Tapes, ThatFitTheOtherPlaceBetterDoNotOutvoteTheWord) {
    Car car = sills();
    car.points[3].at.z() = 20;  // not quite in a plane, so that the tapes can tell above from below
    const Vec3 below(kTop.x(), kTop.y(), -kTop.z());
    car.points.push_back(taped(car, "top", below, kFour));
    const Survey found = survey(car);
    ASSERT_TRUE(found.problems.empty());
    EXPECT_NEAR(found.point("top")->at.z(), kTop.z(), 40);
    EXPECT_NEAR(found.point("top")->other_place->z(), below.z(), 1e-6);
    EXPECT_THAT(
        found.point("top")->doubts[0],
        testing::AllOf(HasSubstr("the tapes fit "), HasSubstr("better, and that is not the place above")));
}

TEST(Tapes, ThatMeetInPairsButNotAllThree) {
    Car car = sills();
    CarPoint point = taped(car, "top", {900, -400, 0}, kThree);  // beside the datums, and in their plane
    for (Tape& tape : tapesOf(point).tapes) tape.length_mm -= 40;
    car.points.push_back(point);
    ASSERT_EQ(problemsOf(car).size(), 1u);
    EXPECT_THAT(problemsOf(car)[0],
                HasSubstr("its three tapes cannot meet: where they come nearest, that from sill_b.left is"));
    EXPECT_THAT(survey(car).problems[0].remedy, HasSubstr("a fourth tape would tell"));
}

TEST(Tapes, FromDatumsInALineAreRefused) {
    Car car = sills();
    car.points.push_back({"sill_m.left", {500, 630, 1}, 2, ""});
    car.points.push_back(taped(car, "top", kTop, {"sill_b.left", "sill_m.left", "sill_a.left"}));
    ASSERT_EQ(problemsOf(car).size(), 1u);
    EXPECT_THAT(problemsOf(car)[0], HasSubstr("top is taped from sill_b.left, sill_m.left and sill_a.left, "
                                              "which stand in a line to within 0."));
}

TEST(Tapes, ThatAreNoTapesAreRefused) {
    Car car = sills();
    CarPoint point{"top", Vec3::Zero(), 2, ""};
    ByTapes by;
    by.tapes = {{"top", 500, 0},
                {"sill_c.left", 500, 0},
                {"sill_b.left", 0, 0},
                {"sill_b.left", -5, 0},
                {"sill_a.left", 1e6, 0}};
    point.taken = by;
    car.points.push_back(point);
    EXPECT_THAT(problemsOf(car), ElementsAre("top is taped from itself",
                                             "top is taped from 'sill_c.left', which is no point of this car",
                                             "top: the tape from sill_b.left is 0.0 mm long",
                                             "top is taped from sill_b.left twice",
                                             "top: the tape from sill_b.left is -5.0 mm long",
                                             "top: the tape from sill_a.left is longer than 100 m"));
    tapesOf(car.points.back()).tapes.resize(2);
    EXPECT_THAT(problemsOf(car), ElementsAre("top has two tapes; three are the least"));
}

TEST(ACarWithAProblem, StaysAsItWas) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kFour));
    ASSERT_TRUE(settle(car).empty());
    Car wrong = car;
    wrong.points[0].at.x() += 100;
    tapesOf(wrong.points.back()).tapes.resize(2);
    const Car before = wrong;
    EXPECT_FALSE(settle(wrong).empty());
    EXPECT_EQ(wrong, before);
}

TEST(ALine, FollowsThePointsItGoesThrough) {
    Car car = sills();
    car.symmetric = true;
    car.points.push_back({"foot.left", {1010, 700, 505}, 2, ""});
    CarLine line{"a_pillar.right", CarLine::Kind::body, {Vec3::Zero(), {1, 2, 3}, Vec3::Zero()}, false, {}};
    line.corners = {{"foot.right", {0, -35, 23}}, {}, {"sill_a.right", Vec3::Zero()}};
    car.lines = {line};
    ASSERT_TRUE(settle(car).empty());
    EXPECT_THAT(car.lines[0].points, ElementsAre(Vec3(1010, -735, 528), Vec3(1, 2, 3), Vec3(1090, -630, 0)));
    car.symmetric = false;
    const std::vector<SurveyProblem> problems = settle(car);
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_EQ(problems[0].what, "a_pillar.right goes through 'foot.right', which is no point of this car");
    EXPECT_EQ(problems[0].item, 0);
}

TEST(APointCalledSomethingElse, IsSoInEveryTapeAndLine) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kFour));
    car.lines = {{"sill.left", CarLine::Kind::body, {Vec3::Zero()}, false, {{"sill_b.left", Vec3::Zero()}}}};
    car.lessons = {{"sill_b.left", "", "rusty"}};
    ASSERT_TRUE(settle(car).empty());
    renamePoint(car, "sill_b.left", "datum.left");
    EXPECT_TRUE(settle(car).empty());
    EXPECT_EQ(tapesOf(car.points.back()).tapes[0].from, "datum.left");
    EXPECT_EQ(car.lines[0].corners[0].point, "datum.left");
    EXPECT_EQ(car.lessons[0].about, "datum.left");
}

TEST(APointTakenOut, LeavesWhatHungOnItInPlace) {
    Car car = sills();
    car.points.push_back(taped(car, "top", kTop, kFour));
    car.lines = {{"sill.left", CarLine::Kind::body, {Vec3::Zero()}, false, {{"sill_b.left", Vec3::Zero()}}}};
    ASSERT_TRUE(settle(car).empty());
    removePoint(car, "sill_b.left");
    EXPECT_TRUE(settle(car).empty());
    EXPECT_LT((car.point("top")->at - kTop).norm(), 1e-7);
    EXPECT_TRUE(std::holds_alternative<ByCoordinates>(car.point("top")->taken));
    EXPECT_EQ(car.lines[0].points[0], Vec3(0, 630, 0));
    EXPECT_TRUE(car.lines[0].corners.empty());
}

TEST(AToleranceNotStated, IsTakenAsTheUsualOneAndMarked) {
    Car car = sills();
    for (CarPoint& point : car.points) point.tolerance_mm = 0;
    const Survey found = survey(car);
    EXPECT_TRUE(found.points[0].tolerance_assumed);
    EXPECT_NEAR(*found.points[0].goodTo_mm(), kUnstatedTolerance_mm, 1e-12);
    EXPECT_FALSE(survey(sills()).points[0].tolerance_assumed);
}

}  // namespace
}  // namespace hoopwright
