// The demo cages sit in their cars: inside the skin, clear of it, the feet where the car has metal.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "demo_job.h"

namespace hoopwright {
namespace {

/// The skin's half outline at x, between the two stations around it; empty outside the shell.
std::vector<Vec2> skinAt(const Car& car, double x_mm) {
    for (const ShellStation& a : car.shell) {
        for (const ShellStation& b : car.shell) {
            if (a.x_mm > x_mm || b.x_mm < x_mm || a.x_mm >= b.x_mm) continue;
            const bool neighbours =
                std::none_of(car.shell.begin(), car.shell.end(),
                             [&](const ShellStation& c) { return c.x_mm > a.x_mm && c.x_mm < b.x_mm; });
            if (!neighbours) continue;
            const double t = (x_mm - a.x_mm) / (b.x_mm - a.x_mm);
            std::vector<Vec2> outline;
            for (std::size_t i = 0; i < a.outline.size(); ++i)
                outline.push_back((1 - t) * a.outline[i] + t * b.outline[i]);
            return outline;
        }
    }
    return {};
}

double distanceToSegment(const Vec2& p, const Vec2& a, const Vec2& b) {
    const double length2 = (b - a).squaredNorm();
    const double t = length2 > 0 ? std::clamp((p - a).dot(b - a) / length2, 0.0, 1.0) : 0.0;
    return (p - a - t * (b - a)).norm();
}

/// From a point to the skin in its cross-section; negative outside.
double insideSkin_mm(const Car& car, const Vec3& at) {
    std::vector<Vec2> outline = skinAt(car, at.x());
    const Vec2 p(std::abs(at.y()), at.z());
    double gap = 1e9;
    for (std::size_t i = 0; i + 1 < outline.size(); ++i)
        gap = std::min(gap, distanceToSegment(p, outline[i], outline[i + 1]));
    outline.push_back({0, outline.empty() ? 0 : outline.front().y()});
    bool inside = false;
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
        const Vec2 &a = outline[i], &b = outline[j];
        if ((a.y() > p.y()) != (b.y() > p.y()) &&
            p.x() < (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y()) + a.x())
            inside = !inside;
    }
    return inside ? gap : -gap;
}

/// Least gap between a bar's outside and the skin.
double skinGap_mm(const Car& car, const ResolvedMember& member) {
    double least = 1e9;
    for (double s : member.line.sampleStations(1.0)) {
        least = std::min(least, insideSkin_mm(car, member.line.point(s)) - member.radius_mm());
    }
    return least;
}

class DemoFit : public testing::TestWithParam<std::string> {
protected:
    DemoJob demo = demoJob(GetParam());
};
INSTANTIATE_TEST_SUITE_P(Jobs, DemoFit, testing::Values("hillclimb_saloon.yaml", "mile_pickup.yaml"),
                         [](const auto& it) { return it.param.substr(0, it.param.find('.')); });

// Bars as near the skin as a torch allows: common practice, no source. Braces and returns go through panels
// by design.
TEST_P(DemoFit, BarsOfTheCabinKeepClearOfTheSkin) {
    for (const ResolvedMember& member : demo.cage.members) {
        if (member.role == "rear_brace" || member.role == "rear_diagonal" || member.role == "frame_return")
            continue;
        EXPECT_GT(skinGap_mm(demo.job.car, member), 15) << member.id;
    }
}

TEST_P(DemoFit, HoopAndSideBarsFollowTheSkin) {
    for (const ResolvedMember& member : demo.cage.members) {
        if (member.role != "main_hoop" && member.role != "side_bar") continue;
        EXPECT_LT(skinGap_mm(demo.job.car, member), 60) << member.id;
    }
}

TEST_P(DemoFit, HelmetsAreUnderTheRoofAndFeetAboveTheGround) {
    for (const Driver& driver : demo.job.drivers) {
        const Vec3 top = driver.helmet.centre + Vec3(0, 0, driver.helmet.height_mm / 2);
        EXPECT_GT(insideSkin_mm(demo.job.car, top), 50) << driver.id;
        EXPECT_GT(driver.heel_left.z(), demo.job.car.ground_z_mm + 100) << driver.id;
    }
}

TEST_P(DemoFit, EveryFootOnARailTouchesIt) {
    for (const ResolvedPlate& plate : demo.cage.plates) {
        const Plate& laid = demo.job.cage.plates[static_cast<std::size_t>(plate.layout)];
        if (laid.rail.empty()) continue;
        const FrameRail* rail =
            demo.job.car.rail(plate.side == Side::right ? otherSide(laid.rail) : std::string_view(laid.rail));
        ASSERT_NE(rail, nullptr) << plate.id;
        double least = 1e9;
        for (std::size_t i = 0; i + 1 < rail->line.size(); ++i) {
            const Vec3 &a = rail->line[i], &b = rail->line[i + 1];
            const double t = std::clamp((plate.at - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
            least = std::min(least, (plate.at - a - t * (b - a)).norm());
        }
        // Within half the rail and half the plate of the rail's middle.
        EXPECT_LT(least, std::hypot(rail->width_mm, rail->height_mm) / 2 + laid.length_mm / 2) << plate.id;
    }
}

}  // namespace
}  // namespace hoopwright
