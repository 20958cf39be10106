#include "app/view/flight.h"

#include <gtest/gtest.h>

#include <cmath>

#include "app/view/projection.h"
#include "test_cage.h"

namespace hoopwright {
namespace {

const Box kCar(Vec3(-800, -700, 0), Vec3(2200, 700, 1200));

void expectSame(const View& a, const View& b, double tolerance_mm) {
    EXPECT_LT((a.eye - b.eye).norm(), tolerance_mm);
    EXPECT_LT((a.target - b.target).norm(), tolerance_mm);
    EXPECT_NEAR(a.orthographic_height_mm, b.orthographic_height_mm, tolerance_mm);
}

TEST(Flight, StartsWhereItIsAndEndsExactlyWhereItGoes) {
    for (const auto& from_name : standardViews())
        for (const auto& to_name : standardViews()) {
            const View from = standardView(from_name, kCar, 1.6), to = standardView(to_name, kCar, 1.6);
            const Flight flight(from, to);
            const View start = flight.at(0);
            EXPECT_GT(start.forward().dot(from.forward()), 1 - 1e-9) << from_name << " to " << to_name;
            EXPECT_LT((start.target - from.target).norm(), 1e-6);
            expectSame(flight.at(1), to, 1e-12);
            EXPECT_GT(flight.at(0.9999).forward().dot(to.forward()), 0.9999);
        }
}

TEST(Flight, NeverJumpsOnTheWay) {
    const Flight flight(standardView("front", kCar, 1.6), standardView("three_quarter_rear", kCar, 1.6));
    View before = flight.at(0);
    for (int step = 1; step < 100; ++step) {
        const View now = flight.at(step / 100.0);
        ASSERT_TRUE(now.eye.allFinite());
        EXPECT_GT(now.forward().dot(before.forward()), std::cos(0.08));
        const double closer = (now.eye - now.target).norm() / (before.eye - before.target).norm();
        EXPECT_NEAR(closer, 1, 0.1);
        before = now;
    }
}

TEST(Projections, SwitchingBackAndForthKeepsTheSizeAtTheTarget) {
    const View view = standardView("three_quarter", kCar, 1.6);
    const View flat = asOrthographic(view);
    EXPECT_GT(flat.orthographic_height_mm, 0);
    const QSize size(1280, 800);
    EXPECT_NEAR(Projection(view, size).pixelsPerMm(view.target),
                Projection(flat, size).pixelsPerMm(view.target), 1e-9);
    expectSame(asPerspective(flat), view, 1e-6);
}

TEST(Hand, PanningMovesTheTargetWithTheHandPixelForPixel) {
    const QSize size(1000, 700);
    for (const auto* name : {"three_quarter", "left", "top"}) {
        const View view = standardView(name, kCar, 1000.0 / 700);
        const QPointF before = *Projection(view, size).at(view.target);
        const View moved = pannedByPixels(view, {37, -21}, size);
        const QPointF after = *Projection(moved, size).at(view.target);
        EXPECT_NEAR(after.x() - before.x(), 37, 1e-6) << name;
        EXPECT_NEAR(after.y() - before.y(), -21, 1e-6) << name;
    }
}

TEST(Hand, DraggingAcrossTheHeightTurnsHalfRound) {
    const View view = standardView("left", kCar, 1.5);
    const View turned = orbitedByPixels(view, {600, 0}, QSize(900, 600));
    EXPECT_LT((turned.forward() + view.forward()).norm(), 1e-9);
    // What is near follows the hand: dragged to the right, the near side goes to the right.
    const View nudged = orbitedByPixels(view, {10, 0}, QSize(900, 600));
    const Vec3 near_side = view.target - 500 * view.forward();
    EXPECT_GT(nudged.project(near_side, 900, 600).x(), view.project(near_side, 900, 600).x());
}

TEST(Hand, DraggingDownLooksFromHigher) {
    const View view = standardView("three_quarter", kCar, 1.5);
    EXPECT_GT(orbitedByPixels(view, {0, 40}, QSize(900, 600)).eye.z(), view.eye.z());
}

// For a measured line in each direction, and each view one may come from, it is seen at a good length.
TEST(ViewOfFinding, NeverLooksAlongTheMeasuredLine) {
    const CageGeometry cage = testCage();
    const QSize size(1280, 800);
    for (const Vec3& way : {Vec3(1, 0, 0), Vec3(0, 1, 0), Vec3(0, 0, 1), Vec3(1, 1, 0), Vec3(0.3, -1, 0.5)})
        for (const auto& name : standardViews()) {
            Finding finding;
            const Vec3 from(300, 100, 500), to = from + 160 * way.normalized();
            finding.evidence.shapes = {ShownLine{from, to, true}};
            const View view = viewOfFinding(finding, testJob(), cage, standardView(name, kCar, 1.6), 1.6);
            const Projection projection(view, size);
            const auto a = projection.at(from), b = projection.at(to);
            ASSERT_TRUE(a && b);
            EXPECT_TRUE(QRectF(0, 0, 1280, 800).contains(*a) && QRectF(0, 0, 1280, 800).contains(*b));
            const double seen = std::hypot(a->x() - b->x(), a->y() - b->y());
            EXPECT_GT(seen, 0.4 * 160 * projection.pixelsPerMm(from)) << name << ", " << way.transpose();
        }
}

TEST(ViewOfFinding, ShowsTheBarsWhereNothingWasMeasured) {
    const CageGeometry cage = testCage();
    Finding finding;
    finding.evidence.members = {"belt_bar"};
    finding.evidence.look_at = {0, 0, 720};
    const View view = viewOfFinding(finding, testJob(), cage, standardView("three_quarter", kCar, 1.6), 1.6);
    const Projection projection(view, QSize(1280, 800));
    for (const Vec3& end : {cage.members[4].line.start(), cage.members[4].line.end()}) {
        const auto at = projection.at(end);
        ASSERT_TRUE(at);
        EXPECT_TRUE(QRectF(0, 0, 1280, 800).contains(*at));
    }
}

TEST(BoundsOfFinding, HoldEveryKindOfShape) {
    Finding finding;
    finding.evidence.shapes = {ShownPoint{{-1, 0, 0}}, ShownLine{{0, -2, 0}, {0, 3, 0}, false},
                               ShownAngle{{0, 0, -4}, {5, 0, 0}, {0, 0, 6}},
                               ShownPlane{{0, 0, 7}, Vec3::UnitZ(), 300},
                               ShownBand{{0, 0, 8}, {9, 0, 0}, {0, 300, 0}}};
    const Box box = boundsOf(finding);
    EXPECT_EQ(box.min(), Vec3(-1, -2, -4));
    EXPECT_EQ(box.max(), Vec3(9, 3, 8));
    finding.evidence.shapes.clear();
    finding.evidence.look_at = {1, 2, 3};
    EXPECT_EQ(boundsOf(finding).center(), Vec3(1, 2, 3));
}

}  // namespace
}  // namespace hoopwright
