// Starters in the two demo cars: whole, legal for the dies, inside the skin, and wherever the car goes.
#include "core/starter/starter.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "core/files/job_file.h"
#include "core/geometry/distance.h"
#include "core/model/resolve.h"
#include "core/skin/gap_to_skin.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;

constexpr double kTidy_mm = 25.4 / 16;  ///< starters round to a millimetre or this

Job demoSite(const std::string& cage) {
    const JobResult read = readJob(std::string(HOOPWRIGHT_SOURCE_DIR) + "/data/cages/" + cage + ".yaml");
    return read.job ? *read.job : Job{};
}

Expected<StarterCage> made(const Job& site, const StarterWish& wish) {
    return StarterMaker(site).make(wish);
}

CageGeometry resolved(const Job& site, const StarterCage& starter) {
    Job job = site;
    job.cage = starter.cage;
    return resolve(job);
}

StarterWish wishFor(const std::string& id) {
    StarterWish wish;
    wish.starter = id;
    return wish;
}

std::string problemsOf(const CageGeometry& cage) {
    std::string text;
    for (const GeometryProblem& problem : cage.problems) text += problem.text + "\n";
    return text;
}

using Case = std::tuple<std::string, std::string>;

class EveryStarter : public testing::TestWithParam<Case> {
protected:
    const std::string car = std::get<0>(GetParam());
    const Job site = demoSite(car);
    const StarterWish wish = wishFor(std::get<1>(GetParam()));
};

std::vector<std::string> ids() {
    std::vector<std::string> all;
    for (const Starter& starter : starters()) all.push_back(starter.id);
    return all;
}
INSTANTIATE_TEST_SUITE_P(Cars, EveryStarter,
                         testing::Combine(testing::Values("hillclimb_saloon", "mile_pickup"),
                                          testing::ValuesIn(ids())),
                         [](const auto& it) { return std::get<0>(it.param) + "_" + std::get<1>(it.param); });

TEST_P(EveryStarter, ResolvesWithoutAProblem) {
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    const CageGeometry cage = resolved(site, *starter);
    EXPECT_EQ(problemsOf(cage), "");
    EXPECT_GE(cage.totals.members, 5);
}

TEST_P(EveryStarter, ResolvesWithEveryOptionByItself) {
    StarterMaker maker(site);
    for (const std::string& option : starterNamed(wish.starter)->may) {
        for (const bool with : {true, false}) {
            const auto starter = maker.make(with ? withOption(wish, option) : withoutOption(wish, option));
            ASSERT_TRUE(starter) << option << ": " << starter.reason();
            EXPECT_EQ(problemsOf(resolved(site, *starter)), "") << (with ? "with " : "without ") << option;
        }
    }
}

TEST_P(EveryStarter, WrittenAndReadAgainIsTheSameCage) {
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    const std::string text = writeCage(starter->cage);
    const auto again = readCageText(text, "starter.yaml");
    ASSERT_TRUE(again.value) << again.problems.front().text();
    EXPECT_EQ(writeCage(*again.value), text);
    EXPECT_EQ(again.value->members.size(), starter->cage.members.size());
}

// Nothing is a fixed coordinate: every end and corner hangs on the car, a plate or another bar.
TEST_P(EveryStarter, NothingIsAFixedCoordinate) {
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    for (const Member& member : starter->cage.members)
        for (const MemberPoint& point : member.path)
            EXPECT_FALSE(std::holds_alternative<FixedPoint>(point.place)) << member.id;
    for (const Plate& plate : starter->cage.plates)
        EXPECT_TRUE(std::holds_alternative<AtCarPoint>(plate.at)) << plate.id;
}

// A gap of an inch is called good work. Common practice, no source. Measured here by core/skin, not by what
// fitted it.
TEST_P(EveryStarter, HoopsAndSideBarsKeepTheGapAndFollowTheSkin) {
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    const CarSkin skin = carSkin(site.car, site.scan_meshes);
    constexpr SurfaceKinds kOver = bitOf(SurfaceKind::shell) | bitOf(SurfaceKind::glass);
    int looked_at = 0;
    for (const ResolvedMember& member : resolved(site, *starter).members) {
        if (!member.role.ends_with("_hoop") && member.role != "side_bar") continue;
        const auto gap = gapToSkin(member, skin, kOver);
        ASSERT_TRUE(gap);
        EXPECT_GE(gap->gap.least_mm, wish.least_gap_mm - 0.2) << member.id;
        EXPECT_LE(gap->gap.least_mm, wish.least_gap_mm + 15) << member.id;
        ++looked_at;
    }
    EXPECT_GE(looked_at, 1);
}

// Straights and bends counted off the centreline here, against the die list itself.
TEST_P(EveryStarter, EveryBendIsOneTheDieMakes) {
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    for (const ResolvedMember& member : resolved(site, *starter).members) {
        if (member.line.bendCount() == 0) continue;
        const Die* die = site.dies.forOd(member.section.od_mm);
        ASSERT_NE(die, nullptr) << member.id;
        bool bent_before = false;
        double straight = 0;
        for (const Piece& piece : member.line.pieces()) {
            if (piece.kind == Piece::Kind::straight) {
                straight += piece.length_mm;
                continue;
            }
            EXPECT_NEAR(piece.radius_mm, die->radius_mm, 0.5) << member.id;
            EXPECT_LE(piece.angle_rad, die->greatest_angle_rad) << member.id;
            EXPECT_GE(straight, bent_before ? die->least_straight_mm : die->least_end_straight_mm)
                << member.id;
            bent_before = true;
            straight = 0;
        }
        EXPECT_GE(straight, die->least_end_straight_mm) << member.id;
    }
}

TEST_P(EveryStarter, PairsMirrorEachOtherInASymmetricCar) {
    ASSERT_TRUE(site.car.symmetric);
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    const CageGeometry cage = resolved(site, *starter);
    int pairs = 0;
    for (const ResolvedMember& left : cage.members) {
        if (left.side != Side::left) continue;
        const int at = cage.member(otherSide(left.id));
        ASSERT_GE(at, 0) << left.id;
        const ResolvedMember& right = cage.members[static_cast<std::size_t>(at)];
        // The demo saloon's pillars were taped within 4 mm of each other.
        EXPECT_LT((mirrored(left.line.start()) - right.line.start()).norm(), 8) << left.id;
        EXPECT_LT((mirrored(left.line.end()) - right.line.end()).norm(), 8) << left.id;
        ++pairs;
    }
    EXPECT_GE(pairs, 1);
}

/// Every measured place of a car, and the people in it, put through one map of points.
template <class Map>
Job mapped(Job site, const Map& map) {
    for (CarPoint& point : site.car.points) {
        point.at = map(point.at);
        point.taken = ByCoordinates{};
    }
    for (CarLine& line : site.car.lines) {
        line.corners.clear();
        for (Vec3& p : line.points) p = map(p);
    }
    for (ShellStation& station : site.car.shell) {
        const double x = station.x_mm;
        station.x_mm = map(Vec3(x, 0, 0)).x();
        for (Vec2& p : station.outline) {
            const Vec3 q = map(Vec3(x, p.x(), p.y()));
            p = {q.y(), q.z()};
        }
    }
    for (FrameRail& rail : site.car.rails) {
        rail.corners.clear();
        for (Vec3& p : rail.line) p = map(p);
    }
    for (Driver& driver : site.drivers) {
        for (const PointPair& pair : pointPairs()) {
            driver.*pair.left = map(driver.*pair.left);
            driver.*pair.right = map(driver.*pair.right);
        }
        driver.hip = map(driver.hip);
        driver.eye = map(driver.eye);
        driver.helmet.centre = map(driver.helmet.centre);
    }
    return site;
}

TEST_P(EveryStarter, GoesWhereTheCarGoes) {
    const Vec3 by(16 * 25.4, 0, 4 * 25.4);  // whole sixteenths of an inch; rounded to millimetres
    const Job moved = mapped(site, [&](const Vec3& p) { return Vec3(p + by); });
    const auto here = made(site, wish), there = made(moved, wish);
    ASSERT_TRUE(here && there);
    const CageGeometry a = resolved(site, *here), b = resolved(moved, *there);
    EXPECT_EQ(problemsOf(b), "");
    ASSERT_EQ(a.members.size(), b.members.size());
    // Where a corner's way hardly matters to the skin, a search may end that much elsewhere.
    constexpr double kElsewhere_mm = 12 * kTidy_mm;
    for (std::size_t i = 0; i < a.members.size(); ++i) {
        ASSERT_EQ(a.members[i].id, b.members[i].id);
        const Centreline &one = a.members[i].line, &two = b.members[i].line;
        EXPECT_LT((one.start() + by - two.start()).norm(), kElsewhere_mm) << a.members[i].id;
        EXPECT_LT((one.end() + by - two.end()).norm(), kElsewhere_mm) << a.members[i].id;
    }
}

TEST_P(EveryStarter, FollowsALongerCar) {
    const Job longer = mapped(site, [](const Vec3& p) { return Vec3(1.05 * p.x(), p.y(), p.z()); });
    const auto starter = made(longer, wish);
    ASSERT_TRUE(starter) << starter.reason();
    const CageGeometry cage = resolved(longer, *starter), was = resolved(site, *made(site, wish));
    EXPECT_EQ(problemsOf(cage), "");
    if (starterNamed(wish.starter)->base == CageBase::hoop) return;
    // From hoop to front leg; braces may find another place on its rail.
    Box before, after;
    for (const ResolvedMember& member : was.members)
        if (!member.role.starts_with("rear_")) before.extend(member.line.bounds());
    for (const ResolvedMember& member : cage.members)
        if (!member.role.starts_with("rear_")) after.extend(member.line.bounds());
    EXPECT_GT(after.sizes().x() - before.sizes().x(), 20);
}

TEST_P(EveryStarter, TurnsToTheOtherSideForARightHandDriver) {
    Job right = site;
    for (Driver& driver : right.drivers) {
        for (const PointPair& pair : pointPairs()) {
            const Vec3 left = driver.*pair.left;
            driver.*pair.left = mirrored(driver.*pair.right);
            driver.*pair.right = mirrored(left);
        }
        driver.hip = mirrored(driver.hip);
        driver.eye = mirrored(driver.eye);
        driver.helmet.centre = mirrored(driver.helmet.centre);
    }
    const auto here = made(site, wish), there = made(right, wish);
    ASSERT_TRUE(here && there);
    const CageGeometry a = resolved(site, *here), b = resolved(right, *there);
    EXPECT_EQ(problemsOf(b), "");
    for (const char* id : {"hoop_diagonal", "roof_diagonal", "belt_bar", "seat_bar_front"}) {
        const int one = a.member(id), two = b.member(id);
        EXPECT_EQ(one < 0, two < 0) << id;
        if (one < 0) continue;
        const Centreline &l = a.members[static_cast<std::size_t>(one)].line,
                         &r = b.members[static_cast<std::size_t>(two)].line;
        EXPECT_LT((mirrored(l.start()) - r.start()).norm(), 8) << id;
        EXPECT_LT((mirrored(l.end()) - r.end()).norm(), 8) << id;
    }
}

TEST(Starters, ThereAreAtLeastEightOverEveryBase) {
    EXPECT_GE(starters().size(), 8u);
    for (const CageBase base :
         {CageBase::hoop, CageBase::side_bars, CageBase::two_hoops, CageBase::side_hoops})
        EXPECT_TRUE(std::ranges::any_of(starters(), [&](const Starter& s) { return s.base == base; }))
            << baseWord(base);
    for (const Starter& starter : starters()) {
        for (const std::string& option : starter.usual)
            EXPECT_NE(std::ranges::find(starter.may, option), starter.may.end())
                << starter.id << " " << option;
        for (const std::string& option : starter.may)
            EXPECT_NE(starterOptionNamed(option), nullptr) << option;
    }
}

TEST(Starters, TheLastOptionOfAGroupHolds) {
    StarterWish wish = wishFor("full_side_bars");
    wish.with = {"door_pair", "roof_vee"};
    wish.without = {"dash_bar"};
    const auto options = optionsOf(wish, Car{});
    ASSERT_TRUE(options);
    EXPECT_THAT(*options, testing::IsSupersetOf({"door_pair", "roof_vee", "belt_bar"}));
    for (const char* gone : {"door_cross", "roof_diagonal", "dash_bar"})
        EXPECT_THAT(*options, testing::Not(testing::Contains(gone)));
}

TEST(Starters, LegsAreTiedToAFrameUnderTheBody) {
    const Job saloon = demoSite("hillclimb_saloon"), pickup = demoSite("mile_pickup");
    for (const char* id : {"six_side_bars", "full_two_hoops", "full_side_hoops"}) {
        StarterWish wish = wishFor(id);
        const CageGeometry tied = resolved(pickup, *made(pickup, wish));
        for (const char* tie : {"hoop_tie.left", "hoop_tie.right", "front_tie.left", "front_tie.right"})
            EXPECT_GE(tied.member(tie), 0) << id << " " << tie;
        EXPECT_LT(resolved(saloon, *made(saloon, wish)).member("hoop_tie.left"), 0) << id;
        wish.without = {"frame_ties"};
        EXPECT_LT(resolved(pickup, *made(pickup, wish)).member("hoop_tie.left"), 0) << id;
    }
}

TEST(Starters, TheHoopStandsWhereTheBuilderSays) {
    const Job site = demoSite("hillclimb_saloon");
    StarterWish wish = wishFor("full_side_bars");
    wish.hoop_x_mm = -160;
    const auto starter = made(site, wish);
    ASSERT_TRUE(starter) << starter.reason();
    const CageGeometry cage = resolved(site, *starter);
    EXPECT_EQ(problemsOf(cage), "");
    const Box box = cage.members[static_cast<std::size_t>(cage.member("main_hoop"))].line.bounds();
    EXPECT_NEAR(box.min().x(), -160, 0.1);
    EXPECT_NEAR(box.max().x(), -160, 0.1);
}

TEST(Starters, TheHoopKeepsItsAirBehindEveryHelmet) {
    for (const char* car : {"hillclimb_saloon", "mile_pickup"}) {
        const Job site = demoSite(car);
        const StarterWish wish = wishFor("six_side_bars");
        const CageGeometry cage = resolved(site, *made(site, wish));
        const ResolvedMember& hoop = cage.members[static_cast<std::size_t>(cage.member("main_hoop"))];
        for (const Driver& driver : site.drivers) {
            const double air = nearest(hoop.line, driver.helmet.ellipsoid()).distance_mm - hoop.radius_mm();
            EXPECT_GE(air, wish.helmet_air_mm - 1) << car << " " << driver.id;
        }
    }
}

TEST(Starters, SayWhatIsMissing) {
    const Job whole = demoSite("hillclimb_saloon");
    const StarterWish wish = wishFor("full_side_bars");
    Job site = whole;
    std::erase_if(site.car.points, [](const CarPoint& p) { return p.name.starts_with("windshield_top"); });
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("windshield_top.left"));
    site = whole;
    site.drivers.clear();
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("driver"));
    site = whole;
    site.dies.dies.clear();
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("die"));
    site = whole;
    site.car.body = Car::Body::open;
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("open"));
    site = whole;
    std::erase_if(site.car.lines, [](const CarLine& line) { return line.name == "floor"; });
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("floor"));
    site = whole;
    std::erase_if(site.car.rails, [](const FrameRail& rail) { return !rail.name.starts_with("sill"); });
    const auto no_rails = made(site, wish);
    ASSERT_TRUE(no_rails);
    EXPECT_THAT(no_rails->notes, testing::Contains(HasSubstr("rear braces are left out")));
    EXPECT_EQ(problemsOf(resolved(site, *no_rails)), "");
}

TEST(Starters, SayWhatIsNotKnown) {
    const Job site = demoSite("hillclimb_saloon");
    EXPECT_THAT(made(site, wishFor("full")).reason(), HasSubstr("full_side_bars"));
    StarterWish wish = wishFor("hoop_and_braces");
    wish.with = {"sunroof"};
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("'sunroof'"));
    wish.with = {"door_cross"};
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("cannot have door_cross"));
    wish.with.clear();
    wish.tubes["main_hoop"] = "60x3";
    EXPECT_THAT(made(site, wish).reason(), HasSubstr("60x3"));
}

}  // namespace
}  // namespace hoopwright
