#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/model/figure.h"
#include "render/blend_field.h"
#include "render/car_body.h"
#include "render/driver_figure.h"
#include "tests/render/mesh_check.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using testing_render::openEdges;
using testing_render::turnedTriangles;
using testing_render::volume;

std::vector<ShellStation> stations() {
    return {{"front", 2000, {{600, -150}, {700, 100}, {650, 400}, {0, 430}}},
            {"cowl", 1000, {{700, -160}, {780, 100}, {740, 500}, {0, 540}}},
            {"roof", 0, {{700, -160}, {780, 100}, {600, 950}, {0, 1010}}},
            {"tail", -1800, {{640, -100}, {720, 100}, {690, 450}, {0, 480}}}};
}

TEST(BodyShell, PassesThroughEveryMeasuredPointOnBothSides) {
    const Mesh shell = bodyShell(stations());
    for (const ShellStation& station : stations())
        for (const Vec2& p : station.outline)
            for (const double side : {1.0, -1.0}) {
                const Vec3 wanted(station.x_mm, side * p.x(), p.y());
                double nearest = 1e9;
                for (const MeshCorner& corner : shell.corners)
                    nearest = std::min(nearest, (corner.at.cast<double>() - wanted).norm());
                EXPECT_LT(nearest, 1e-3) << station.name;
            }
}

TEST(BodyShell, IsOneClosedSkinThatFacesOutAndDoesNotMindTheOrderOfStations) {
    auto given = stations();
    const Mesh shell = bodyShell(given);
    std::swap(given[0], given[2]);
    const Mesh again = bodyShell(given);
    ASSERT_EQ(shell.corners.size(), again.corners.size());
    EXPECT_NEAR(volume(shell), volume(again), 1);
    // Between the box inside every section and the box outside all of them: positive, so it faces out.
    EXPECT_GT(volume(shell), 3800.0 * 1200 * 500);
    EXPECT_LT(volume(shell), 3900.0 * 1560 * 1180);
    double roof = -1e9;
    for (const MeshCorner& corner : shell.corners) roof = std::max(roof, 0.0 + corner.at.z());
    EXPECT_NEAR(roof, 1010, 0.5);  // nothing swings out over the highest point
}

TEST(BodyShell, FacesAheadAtTheTipOfItsNoseAndBackAtItsTail) {
    const Mesh shell = bodyShell(stations());
    const Box box = shell.bounds();
    int tips = 0;
    for (const MeshCorner& corner : shell.corners) {
        const double x = corner.at.x();
        if (x > box.min().x() + 1e-3 && x < box.max().x() - 1e-3) continue;
        ++tips;
        EXPECT_NEAR(corner.normal.x(), x > 0 ? 1 : -1, 1e-6);
    }
    EXPECT_GT(tips, 10);
    // Each triangle of the caps looks the way its corners do.
    for (std::size_t i = 0; i < shell.triangles.size(); i += 3) {
        const auto corner = [&](std::size_t k) { return shell.corners[shell.triangles[i + k]]; };
        const Vec3f out = (corner(1).at - corner(0).at).cross(corner(2).at - corner(0).at);
        const bool on_cap = corner(0).at.x() > 2000 && corner(1).at.x() > 2000 && corner(2).at.x() > 2000;
        if (!on_cap || out.norm() < 1) continue;
        for (const std::size_t k : {0, 1, 2}) EXPECT_GT(corner(k).normal.dot(out.normalized()), 0);
    }
}

TEST(BodyShell, NeedsTwoStationsOfTheSameNumberOfPoints) {
    EXPECT_TRUE(bodyShell({}).triangles.empty());
    EXPECT_TRUE(bodyShell({stations()[0]}).triangles.empty());
    auto uneven = stations();
    uneven[1].outline.pop_back();
    EXPECT_FALSE(bodyShell(uneven).triangles.empty());  // the odd one is left out
}

TEST(SmoothLines, MirrorALineGivenForTheLeftOnly) {
    Car car;
    car.symmetric = true;
    car.lines = {{"sill.left", CarLine::Kind::body, {{0, 700, 0}, {1000, 700, 0}}, false},
                 {"belt.left", CarLine::Kind::body, {{0, 750, 500}, {1000, 750, 500}}, false},
                 {"belt.right", CarLine::Kind::body, {{0, -751, 500}, {1000, -751, 500}}, false},
                 {"dash", CarLine::Kind::body, {{900, 600, 450}, {900, -600, 450}}, false},
                 {"dot", CarLine::Kind::body, {{0, 0, 0}}, false}};
    const auto lines = smoothLines(car);
    ASSERT_EQ(lines.size(), 5u);
    const auto has = [&](double y) {
        return std::any_of(lines.begin(), lines.end(),
                           [&](const SmoothLine& l) { return l.points.front().y() == y; });
    };
    EXPECT_TRUE(has(700) && has(-700) && has(750) && has(-751) && has(600));
    EXPECT_FALSE(has(-750));
}

TEST(Panes, FillClosedGlassOnly) {
    const std::vector<Vec3> ring = {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}, {0, 0, 0}};
    std::vector<SmoothLine> lines = {{"pane", CarLine::Kind::glass, ring},
                                     {"patch", CarLine::Kind::body, ring}};
    EXPECT_EQ(panes(lines, CarLine::Kind::glass).triangleCount(), 2u);
    EXPECT_EQ(panes(lines, CarLine::Kind::floor).triangleCount(), 0u);
    lines[0].points.pop_back();
    EXPECT_EQ(panes(lines, CarLine::Kind::glass).triangleCount(), 0u);
}

TEST(RailMesh, HasTheMetalOfItsWallRoundEveryCorner) {
    FrameRail rail{"frame.left", {{0, 0, 0}, {1000, 0, 0}, {1000, 0, 500}}, 60, 80, 3};
    const Mesh mesh = railMesh(rail);
    // A mitred box tube: area of metal x length along the centreline. Corners rounded by 9 outside and 6
    // inside (three and two walls) take (4 - pi) (9^2 - 6^2).
    const double metal = 60.0 * 80 - 54.0 * 74 - (4 - 3.14159265) * (81 - 36);
    EXPECT_NEAR(volume(mesh) / (metal * 1500), 1, 0.005);
    const Box box = mesh.bounds();
    EXPECT_NEAR(box.sizes().y(), 60, 1e-3);
    EXPECT_NEAR(box.max().x(), 1040, 1e-3);
    rail.width_mm = 0;
    EXPECT_TRUE(railMesh(rail).triangles.empty());
}

TEST(WheelMesh, IsAsBigAsMeasuredAndDishedAwayFromTheCar) {
    for (const double side : {1.0, -1.0}) {
        const Mesh mesh = wheelMesh({{1400, 700 * side, 0}, 600, 195});
        const Box box = mesh.bounds();
        EXPECT_NEAR(box.sizes().x(), 600, 1);
        EXPECT_NEAR(box.sizes().z(), 600, 1);
        EXPECT_NEAR(box.sizes().y(), 195, 2);
        EXPECT_EQ(mesh.colours.size(), mesh.corners.size());
    }
    EXPECT_TRUE(wheelMesh({{0, 0, 0}, 0, 195}).triangles.empty());
}

TEST(BlendField, IsTheBallWhereThereIsOneBallAndItsMeshLiesOnIt) {
    const BlendField ball({{{10, 20, 30}, {10, 20, 30}, 100, 100, 30, {1, 0, 0}}});
    EXPECT_NEAR(ball.at({10, 20, 180}), 50, 1e-9);
    const Mesh mesh = ball.mesh(12);
    for (const MeshCorner& corner : mesh.corners) {
        const Vec3 out = corner.at.cast<double>() - Vec3(10, 20, 30);
        EXPECT_NEAR(out.norm(), 100, 0.05);
        EXPECT_GT(out.normalized().dot(corner.normal.cast<double>()), 0.999);
    }
    EXPECT_NEAR(volume(mesh) / (4.0 / 3 * 3.14159265 * 1e6), 1, 0.01);
}

TEST(BlendField, OnlyTheLimbsNearAPlaceMatterThere) {
    std::vector<Limb> limbs;
    for (int i = 0; i < 12; ++i)
        limbs.push_back({{150.0 * i, 0, 0}, {150.0 * i, 200, 40.0 * i}, 60, 40, 35, {0, 1, 0}});
    const BlendField whole(limbs), part = whole.near({600, 90, 50}, 60);
    for (double x = 570; x <= 630; x += 10)
        for (double z = 20; z <= 80; z += 10) EXPECT_EQ(whole.at({x, 90, z}), part.at({x, 90, z}));
    EXPECT_LT(part.bounds().sizes().x(), whole.bounds().sizes().x());
}

TEST(BlendField, ItsGradientIsTheWayItGrowsAlsoWhereLimbsMelt) {
    const BlendField field({{{0, 0, 0}, {0, 0, 300}, 70, 40, 40, {}},
                            {{0, 0, 280}, {200, 50, 300}, 45, 30, 30, {}},
                            {{60, 0, 100}, {60, 0, 100}, 50, 50, 25, {}}});
    constexpr double kStep_mm = 1e-4;
    for (double x = -90.3; x < 250; x += 37)
        for (double y = -80; y < 100; y += 41)
            for (double z = -60; z < 360; z += 29) {
                const Vec3 p(x, y, z);
                Vec3 growth;
                for (int i = 0; i < 3; ++i)
                    growth[i] =
                        field.at(p + kStep_mm * Vec3::Unit(i)) - field.at(p - kStep_mm * Vec3::Unit(i));
                EXPECT_GT(growth.normalized().dot(field.gradient(p)), 1 - 1e-6) << p.transpose();
            }
}

Driver someone() {
    Driver d;
    d.id = "someone";
    d.hip = {250, 350, 80};
    d.back_angle_rad = 0.35;
    d.shoulder_left = {60, 520, 590};
    d.shoulder_right = {60, 180, 590};
    d.elbow_left = {300, 570, 390};
    d.elbow_right = {300, 130, 390};
    d.hand_left = {520, 510, 540};
    d.hand_right = {520, 190, 540};
    d.knee_left = {640, 470, 280};
    d.knee_right = {640, 230, 280};
    d.heel_left = {960, 420, -90};
    d.heel_right = {960, 280, -90};
    d.helmet = {{110, 350, 780}, 340, 265, 275};
    d.seat = Seat{640, 420, {0, 440, 600}, {0, 260, 600}};
    d.belts.bar = "belt_bar";
    d.belts.lap_anchors = {{150, 570, -80}, {150, 130, -80}};
    return d;
}

TEST(DriverFigure, WearsAHelmetOfExactlyTheMeasuredEllipsoid) {
    const Driver d = someone();
    const Ellipsoid e = d.helmet.ellipsoid();
    for (const MeshCorner& corner : helmetShell(d).corners)
        EXPECT_NEAR(e.toPoint(corner.at.cast<double>()).distance_mm, 0, 1e-3);
    for (const MeshCorner& corner : helmetVisor(d).corners) {
        EXPECT_NEAR(e.toPoint(corner.at.cast<double>()).distance_mm, 1.8, 0.7);
        EXPECT_GT(corner.at.x(), d.helmet.centre.x());
    }
}

TEST(DriverFigure, ReachesToTheMeasuredPoints) {
    const Driver d = someone();
    const Mesh body = driverBody(d);
    const auto nearest = [&](const Vec3& p) {
        double least = 1e9;
        for (const MeshCorner& corner : body.corners)
            least = std::min(least, (corner.at.cast<double>() - p).norm());
        return least;
    };
    for (const Vec3& p : {d.shoulder_left, d.shoulder_right})
        EXPECT_LT(nearest(p), 35);  // on the skin, near enough
    for (const Vec3& p : {d.elbow_left, d.elbow_right, d.hand_left, d.hand_right, d.knee_left, d.knee_right})
        EXPECT_LT(nearest(p), 70);
    for (const Vec3& p : {d.heel_left, d.heel_right}) EXPECT_LT(nearest(p), 45);
    EXPECT_GT(volume(body), 4.5e7);  // 45 litres at least, and it faces out
    EXPECT_LT(volume(body), 1.2e8);
}

TEST(DriverFigure, IsBeltedToTheBarAndTheAnchors) {
    const Driver d = someone();
    const ResolvedMember bar =
        testing_render::bar("belt_bar", "belt_bar", {{{-150, 700, 590}, 0}, {{-150, -700, 590}, 0}});
    CageGeometry cage;
    cage.members = {bar};
    const Mesh with = beltStraps(d, cage), without = beltStraps(d, {});
    EXPECT_GT(with.triangleCount(), without.triangleCount());
    const auto reaches = [](const Mesh& mesh, const Vec3& p, double slack) {
        return std::any_of(mesh.corners.begin(), mesh.corners.end(),
                           [&](const MeshCorner& c) { return (c.at.cast<double>() - p).norm() < slack; });
    };
    for (const Vec3& anchor : d.belts.lap_anchors) EXPECT_TRUE(reaches(with, anchor, 45));
    for (const double y : {250.0, 450.0}) {  // 200 mm apart at the bar, over its top
        EXPECT_TRUE(reaches(with, {-150, y, 590 + 20}, 45));
        EXPECT_FALSE(reaches(without, {-150, y, 590 + 20}, 45));
    }
    for (const MeshCorner& corner : with.corners) {  // never into the bar
        const Vec3 p = corner.at.cast<double>();
        EXPECT_GT(std::hypot(p.x() + 150, p.z() - 590), 19.0);
    }
}

TEST(DriverFigure, SitsInASeatOfTheMeasuredSizeIfThereIsOne) {
    Driver d = someone();
    const Box seat = seatShell(d).bounds();
    EXPECT_NEAR(seat.sizes().y(), 420, 30);
    EXPECT_NEAR(seat.max().z(), d.hip.z() + 640 * std::cos(d.back_angle_rad), 60);
    d.seat.reset();
    EXPECT_TRUE(seatShell(d).triangles.empty());
    EXPECT_FALSE(steeringWheel(d).triangles.empty());
    d.hand_left = d.hand_right;
    EXPECT_TRUE(steeringWheel(d).triangles.empty());
}

TEST(DriverFigure, HoldsTheMeasuredWheel) {
    Driver d = someone();
    d.steering_wheel = SteeringWheel{{540, 350, 560}, 360, 0.4};
    const Mesh wheel = steeringWheel(d);
    double top = -1e9, across = -1e9;
    for (const MeshCorner& corner : wheel.corners) {
        const Vec3 p = corner.at.cast<double>() - d.steering_wheel->centre;
        top = std::max(top, p.dot(d.steering_wheel->up()));
        across = std::max(across, p.y());
    }
    EXPECT_NEAR(top, 180, 1);
    EXPECT_NEAR(across, 180, 1);
    EXPECT_EQ(turnedTriangles(wheel), 0);
    EXPECT_EQ(openEdges(wheel), 3 * 2 * 10);  // of the spokes, inside the rim and the column, and no others
    d.hand_left = d.hand_right;               // measured, it no longer follows the hands
    EXPECT_EQ(steeringWheel(d).triangleCount(), wheel.triangleCount());
}

TEST(DriverFigure, IsWholeFromUprightToReclined) {
    for (const double lean : {0.0, 0.5, 1.0, 1.4}) {
        const Driver d =
            *driverFromFigure(figures()[0], {{300, 350, 100}, lean, Driver::Occupant::driver, {}});
        const Mesh body = driverBody(d, 24);
        EXPECT_GT(volume(body), 4.5e7) << lean;
        EXPECT_LT(volume(body), 1.3e8) << lean;
        for (const Vec3& p : {d.shoulder_left, d.elbow_right, d.hand_left, d.knee_right, d.heel_left}) {
            double least = 1e9;
            for (const MeshCorner& corner : body.corners)
                least = std::min(least, (corner.at.cast<double>() - p).norm());
            EXPECT_LT(least, 75) << lean;
        }
    }
}

}  // namespace
}  // namespace hoopwright
