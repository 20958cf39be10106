#include "core/edit/drawn_bar.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "tests/core/edit/plain_job.h"

namespace hoopwright {
namespace {

using On = DrawnPlace::On;

/// A hoop seen from the front, with a plate on the floor behind it.
struct Seen {
    Job job = plainHoop();
    CageGeometry now;
    std::vector<DrawnPlace> places;
    Seen() {
        Plate plate = called<Plate>("foot");
        plate.at = FixedPoint{{-500, 300, -40}};
        plate.normal = Vec3::UnitZ();
        plate.length_mm = 100;
        plate.width_mm = 80;
        plate.thickness_mm = 3;
        plate.material = "steel";
        plate.mirrored = true;
        job.cage.plates.push_back(plate);
        now = resolve(job);
    }
    DrawnPlace click(const Vec3& from, const Vec3& way, const std::string& point = {}) {
        places.push_back(drawnAt(job, now, from, way.normalized(), 3, point, places));
        return places.back();
    }
};

TEST(DrawingABar, AClickLandsOnTheBarItHits) {
    Seen seen;
    // 15 mm beside the axis of a tube of 40: hit, and the place is on the axis.
    const DrawnPlace place = seen.click({3000, 615, 500}, {-1, 0, 0});
    EXPECT_EQ(place.on, On::bar);
    EXPECT_EQ(place.id, "hoop");
    EXPECT_NEAR((place.at - Vec3(0, 600, 500)).norm(), 0, 1e-6);
    EXPECT_EQ(seen.click({3000, 622, 500}, {-1, 0, 0}).on, On::bar) << "within reach of its outside";
    EXPECT_EQ(seen.click({3000, 630, 500}, {-1, 0, 0}).on, On::nothing);
}

TEST(DrawingABar, AClickOnAPlateIsItsMiddle) {
    Seen seen;
    const DrawnPlace place = seen.click({-480, 320, 2000}, {0, 0, -1});
    EXPECT_EQ(place.on, On::plate);
    EXPECT_EQ(place.id, "foot.left");
    EXPECT_NEAR((place.at - Vec3(-500, 300, -40)).norm(), 0, 1e-6);
    EXPECT_EQ(seen.click({-440, 300, 2000}, {0, 0, -1}).on, On::nothing) << "past its edge";
}

TEST(DrawingABar, ElsewhereItBendsInThePlaneThatFacesThePerson) {
    Seen seen;
    seen.click({3000, 600, 500}, {-1, 0, 0});
    // From the front, a little from above: through x = 0, where it began.
    const DrawnPlace bend = seen.click({2000, 200, 900}, {-1, 0.05, -0.1});
    EXPECT_EQ(bend.on, On::nothing);
    EXPECT_NEAR((bend.at - Vec3(0, 300, 700)).norm(), 0, 0.1);
    // From the left through y = 300, where it bent.
    const DrawnPlace next = seen.click({-200, 3000, 650}, {0, -1, 0});
    EXPECT_NEAR((next.at - Vec3(-200, 300, 650)).norm(), 0, 0.1);
    EXPECT_NEAR(drawnAt(seen.job, seen.now, {100, 100, 3000}, {0, 0, -1}, 3, "", {}).at.z(), -40, 0.1)
        << "from above the first place is on the floor";
}

TEST(DrawingABar, ItIsThroughThePlacesAndAPairOnTheLeft) {
    Seen seen;
    seen.click({3000, 600, 500}, {-1, 0, 0});
    seen.click({-300, 3000, 520}, {0, -1, 0});
    seen.click({-500, 300, 2000}, {0, 0, -1});
    const Member bar = drawnBar(seen.job, seen.now, "rear_brace", seen.places);
    EXPECT_TRUE(bar.mirrored);
    ASSERT_EQ(bar.path.size(), 3u);
    EXPECT_EQ(std::get<Landing>(bar.path[0].place).host, "hoop");
    EXPECT_EQ(std::get<OnPlate>(bar.path[2].place).plate, "foot");
    seen.job.cage.members.push_back(bar);
    const CageGeometry cage = resolve(seen.job);
    const int left = cage.member(bar.id + ".left"), right = cage.member(bar.id + ".right");
    ASSERT_GE(left, 0);
    ASSERT_GE(right, 0);
    const ResolvedMember& made = cage.members[static_cast<std::size_t>(left)];
    EXPECT_EQ(made.ends[0].host, cage.member("hoop"));
    EXPECT_NEAR((made.line.start() - Vec3(0, 600, 500)).norm(), 0, 0.2);
    EXPECT_NEAR((made.line.end() - Vec3(-500, 300, -40)).norm(), 0, 0.2);
    EXPECT_EQ(made.line.bendCount(), 1);
    EXPECT_NEAR((cage.members[static_cast<std::size_t>(right)].line.end() - Vec3(-500, -300, -40)).norm(), 0,
                0.2);
}

// Held against whole sixty-fourths of the inch, by dividing.
TEST(DrawingABar, InAnInchJobItsPlacesAreSixtyFourths) {
    Seen seen;
    seen.job.cage.unit = LengthUnit::in;
    seen.click({3000, 611.3, 507.7}, {-1, 0, 0});
    const DrawnPlace bend = seen.click({-301.23, 3000, 523.4}, {0, -1, 0});
    EXPECT_NEAR((bend.at - Vec3(-301.23, bend.at.y(), 523.4)).norm(), 0, 0.3);
    seen.click({-500, 300, 2000}, {0, 0, -1});
    const Member bar = drawnBar(seen.job, seen.now, "rear_brace", seen.places);
    const auto expectWhole = [](double mm) {
        const double parts = mm / 25.4 * 64;
        EXPECT_NEAR(parts, std::round(parts), 1e-6) << mm;
    };
    ASSERT_EQ(bar.path.size(), 3u);
    expectWhole(std::get<Landing>(bar.path[0].place).value);
    for (const double each : std::get<FixedPoint>(bar.path[1].place).at) expectWhole(each);
}

TEST(DrawingABar, AcrossTheCarItIsOneBar) {
    Seen seen;
    seen.click({3000, 600, 300}, {-1, 0, 0});
    seen.click({3000, -600, 700}, {-1, 0, 0});
    const Member bar = drawnBar(seen.job, seen.now, "hoop_diagonal", seen.places);
    EXPECT_FALSE(bar.mirrored);
    seen.job.cage.members.push_back(bar);
    const CageGeometry cage = resolve(seen.job);
    EXPECT_TRUE(cage.problems.empty()) << cage.problems.front().text;
    EXPECT_NEAR(cage.members[static_cast<std::size_t>(cage.member(bar.id))].line.length_mm(),
                std::hypot(1200, 400), 0.3);
}

}  // namespace
}  // namespace hoopwright
