// Picking against two other ways to the same answer: rays met with cylinders, tori and balls by their
// equations, and with the triangles of the picture by the scene graph's own intersector.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <numbers>
#include <osgUtil/IntersectionVisitor>
#include <osgUtil/LineSegmentIntersector>
#include <random>

#include "render/pick.h"
#include "tests/render/demo_scene.h"
#include "tests/render/scene_parts.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing_render;

constexpr double kNever = 1e300;

struct Line {
    Vec3 from, along;  // unit
    Vec3 at(double t) const { return from + t * along; }
};

/// Both roots of t^2 + 2 b t + c = 0, in order; nothing if they are not real.
std::vector<double> quadratic(double b, double c) {
    const double d = b * b - c;
    if (d < 0) return {};
    return {-b - std::sqrt(d), -b + std::sqrt(d)};
}

std::vector<double> ballHits(const Line& ray, const Vec3& centre, double radius) {
    const Vec3 arm = ray.from - centre;
    return quadratic(arm.dot(ray.along), arm.squaredNorm() - radius * radius);
}

std::vector<double> cylinderHits(const Line& ray, const Piece& piece, double radius) {
    const Vec3 arm = ray.from - piece.start;
    const Vec3 across = ray.along - ray.along.dot(piece.tangent) * piece.tangent,
               off = arm - arm.dot(piece.tangent) * piece.tangent;
    const double a = across.squaredNorm();
    if (a < 1e-18) return {};
    std::vector<double> hits;
    for (const double t : quadratic(off.dot(across) / a, (off.squaredNorm() - radius * radius) / a)) {
        const double along = (ray.at(t) - piece.start).dot(piece.tangent);
        if (along >= 0 && along <= piece.length_mm) hits.push_back(t);
    }
    return hits;
}

/// Real roots of t^4 + a t^3 + b t^2 + c t + d: eigenvalues of the companion matrix, polished by Newton.
std::vector<double> quartic(double a, double b, double c, double d) {
    Eigen::Matrix4d companion = Eigen::Matrix4d::Zero();
    companion.row(0) << -a, -b, -c, -d;
    companion(1, 0) = companion(2, 1) = companion(3, 2) = 1;
    const Eigen::Vector4cd roots = companion.eigenvalues();
    std::vector<double> real;
    for (const std::complex<double>& root : roots) {
        if (std::abs(root.imag()) > 1e-5 * (1 + std::abs(root.real()))) continue;
        double t = root.real();
        for (int step = 0; step < 4; ++step) {
            const double f = (((t + a) * t + b) * t + c) * t + d,
                         slope = ((4 * t + 3 * a) * t + 2 * b) * t + c;
            if (std::abs(slope) > 1e-12) t -= f / slope;
        }
        real.push_back(t);
    }
    return real;
}

/// A torus x^2 + y^2 + z^2 + R^2 - r^2 = 2 R sqrt(x^2 + y^2), squared; lengths in units of R for good
/// numbers.
std::vector<double> torusHits(const Line& ray, const Piece& piece, double radius) {
    const double R = piece.radius_mm, r = radius / R;
    const Vec3 u = (piece.start - piece.centre).normalized(), w = piece.axis, v = w.cross(u);
    const double nearest = (piece.centre - ray.from).dot(ray.along);
    const Vec3 arm = (ray.at(nearest) - piece.centre) / R;  // square to the ray
    const Vec3 o(arm.dot(u), arm.dot(v), arm.dot(w)), d(ray.along.dot(u), ray.along.dot(v), ray.along.dot(w));
    const double s = o.squaredNorm() + 1 - r * r;
    const double A = d.x() * d.x() + d.y() * d.y(), B = o.x() * d.x() + o.y() * d.y(),
                 C = o.x() * o.x() + o.y() * o.y();
    std::vector<double> hits;
    for (const double t : quartic(0, 2 * s - 4 * A, -8 * B, s * s - 4 * C)) {
        const Vec3 p = o + t * d;
        double angle = std::atan2(p.y(), p.x());
        if (angle < 0) angle += 2 * std::numbers::pi;
        if (angle <= piece.angle_rad) hits.push_back(nearest + t * R);
    }
    return hits;
}

double firstHit(const Line& ray, const ResolvedMember& member) {
    std::vector<double> hits;
    const auto take = [&](const std::vector<double>& more) {
        hits.insert(hits.end(), more.begin(), more.end());
    };
    for (const Piece& piece : member.line.pieces())
        take(piece.kind == Piece::Kind::straight ? cylinderHits(ray, piece, member.radius_mm())
                                                 : torusHits(ray, piece, member.radius_mm()));
    take(ballHits(ray, member.line.start(), member.radius_mm()));
    take(ballHits(ray, member.line.end(), member.radius_mm()));
    double first = kNever;
    for (const double t : hits)
        if (t >= 0) first = std::min(first, t);
    return first;
}

/// A plate as six half-spaces, or as many as it has sides and two: where the ray comes into all of them.
double firstHit(const Line& ray, const ResolvedPlate& plate) {
    double in = 0, out = kNever;
    const auto behind = [&](const Vec3& point, const Vec3& outward) {
        const double speed = ray.along.dot(outward), height = (ray.from - point).dot(outward);
        if (std::abs(speed) < 1e-15) {
            if (height > 0) out = -1;
            return;
        }
        const double t = -height / speed;
        if (speed < 0)
            in = std::max(in, t);
        else
            out = std::min(out, t);
    };
    const Vec3 n = plate.axes.col(2);
    behind(plate.at, n);
    behind(plate.at - plate.thickness_mm * n, -n);
    for (std::size_t i = 0; i < plate.outline.size(); ++i) {
        const Vec2 &a = plate.outline[i], side = plate.outline[(i + 1) % plate.outline.size()] - a;
        behind(plate.at + plate.axes * Vec3(a.x(), a.y(), 0),
               plate.axes * Vec3(side.y(), -side.x(), 0).normalized());
    }
    return in <= out ? in : kNever;
}

struct Expectation {
    double t = kNever;
    int member = -1, plate = -1;
};
Expectation expected(const CageGeometry& cage, const Line& ray) {
    Expectation e;
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const double t = firstHit(ray, cage.members[i]);
        if (t < e.t) e = {t, static_cast<int>(i), -1};
    }
    for (std::size_t i = 0; i < cage.plates.size(); ++i) {
        const double t = firstHit(ray, cage.plates[i]);
        if (t < e.t) e = {t, -1, static_cast<int>(i)};
    }
    return e;
}

class PickOnTheDemo : public ::testing::TestWithParam<DemoCage> {
protected:
    void SetUp() override {
        demo_ = demoScene(GetParam());
        ASSERT_TRUE(demo_);
    }
    std::unique_ptr<DemoScene> demo_;
};

TEST_P(PickOnTheDemo, MeetsWhatTheEquationsOfCylinderTorusAndPlateSay) {
    std::mt19937 random(1903);
    constexpr int kWidth = 1366, kHeight = 768;
    std::uniform_real_distribution<double> x(0, kWidth), y(0, kHeight);
    int tubes = 0, plates = 0, misses = 0;
    for (const std::string& name : standardViews()) {
        const View view = standardView(name, demo_->scene.bounds(), static_cast<double>(kWidth) / kHeight);
        for (int i = 0; i < 250; ++i) {
            const auto [from, along] = view.ray(x(random), y(random), kWidth, kHeight);
            const Line ray{from, along};
            const Expectation wanted = expected(demo_->cage, ray);
            const Picked picked = pick(demo_->cage, from, along);
            ASSERT_EQ(picked.member, wanted.member) << name << " " << i;
            ASSERT_EQ(picked.plate, wanted.plate) << name << " " << i;
            if (!picked) {
                ++misses;
                continue;
            }
            ++(picked.member >= 0 ? tubes : plates);
            // A micrometre off the skin; along a graze that is sqrt(2 r 1e-6 mm) of the ray, 7 micrometres.
            EXPECT_NEAR((picked.at - from).dot(along), wanted.t, 0.01) << name << " " << i;
            if (picked.member < 0) continue;
            const ResolvedMember& member = demo_->cage.members[static_cast<std::size_t>(picked.member)];
            EXPECT_NEAR((picked.at - member.line.point(picked.station_mm)).norm(), member.radius_mm(), 2e-6);
        }
    }
    EXPECT_GT(tubes, 100);
    EXPECT_GT(misses, 500);
}

TEST_P(PickOnTheDemo, AimedAtATubeItFindsTheNearestOneOnTheWay) {
    std::mt19937 random(41);
    std::uniform_real_distribution<double> share(0, 1), out(-1, 1);
    int bends = 0;
    for (int i = 0; i < 1500; ++i) {
        const ResolvedMember& aimed =
            demo_->cage.members[static_cast<std::size_t>(i) % demo_->cage.members.size()];
        const double station = share(random) * aimed.line.length_mm();
        const Vec3 target =
            aimed.line.point(station) +
            0.9 * aimed.radius_mm() * Vec3(out(random), out(random), out(random)).normalized();
        const Vec3 from = target + 4000 * Vec3(out(random), out(random), out(random)).normalized();
        const Line ray{from, (target - from).normalized()};
        const Expectation wanted = expected(demo_->cage, ray);
        const Picked picked = pick(demo_->cage, from, ray.along);
        ASSERT_TRUE(picked) << i;  // the aim lies inside the tube
        ASSERT_EQ(picked.member, wanted.member) << i;
        ASSERT_EQ(picked.plate, wanted.plate) << i;
        EXPECT_NEAR((picked.at - from).dot(ray.along), wanted.t, 0.01);
        bends += picked.member >= 0 && demo_->cage.members[static_cast<std::size_t>(picked.member)]
                                               .line.pieceAt(picked.station_mm)
                                               .kind == Piece::Kind::bend;
    }
    EXPECT_GT(bends, 15);
}

TEST_P(PickOnTheDemo, AgreesWithTheTrianglesOfThePicture) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0, 1), out(-1, 1);
    int same = 0, all = 0, far_apart = 0;
    for (int i = 0; i < 600; ++i) {
        const ResolvedMember& aimed =
            demo_->cage.members[static_cast<std::size_t>(i) % demo_->cage.members.size()];
        const Vec3 target = aimed.line.point(share(random) * aimed.line.length_mm());
        const Vec3 from = target + 3500 * Vec3(out(random), out(random), out(random)).normalized();
        const Vec3 along = (target - from).normalized(), beyond = from + 7000 * along;
        osg::ref_ptr<osgUtil::LineSegmentIntersector> segment = new osgUtil::LineSegmentIntersector(
            osg::Vec3d(from.x(), from.y(), from.z()), osg::Vec3d(beyond.x(), beyond.y(), beyond.z()));
        segment->setIntersectionLimit(osgUtil::Intersector::LIMIT_NEAREST);
        osgUtil::IntersectionVisitor visitor(segment);
        visitor.setTraversalMask(kTubes | kPlates);
        named(demo_->scene, "lit")->accept(visitor);
        if (!segment->containsIntersections()) continue;
        const auto hit = segment->getFirstIntersection();
        const Picked picked = pick(demo_->cage, from, along);
        if (picked.member < 0) continue;
        ++all;
        const std::string drawn = hit.nodePath.back()->asGeode()
                                      ? hit.nodePath.back()->getName()
                                      : hit.nodePath[hit.nodePath.size() - 2]->getName();
        same += drawn == demo_->cage.members[static_cast<std::size_t>(picked.member)].id;
        const osg::Vec3d at = hit.getWorldIntersectPoint();
        far_apart += (Vec3(at.x(), at.y(), at.z()) - picked.at).norm() > 3;
    }
    EXPECT_GT(all, 450);
    // The rest graze an edge, or meet the round end that picking gives a tube inside its host or plate.
    EXPECT_GT(same, 0.97 * all);
    EXPECT_LT(far_apart, 0.05 * all);
}

INSTANTIATE_TEST_SUITE_P(OfTheDemo, PickOnTheDemo, ::testing::ValuesIn(kDemoCages), nameOf);

TEST(Pick, SlackWidensEveryTubeByThatMuchAndNoMore) {
    const CageGeometry cage = smallCage();
    CageGeometry wide = cage;
    constexpr double kSlack_mm = 9;
    for (ResolvedMember& member : wide.members) member.section.od_mm += 2 * kSlack_mm;
    std::mt19937 random(3);
    std::uniform_real_distribution<double> out(-1, 1), share(0, 1);
    for (int i = 0; i < 400; ++i) {
        const ResolvedMember& aimed = cage.members[static_cast<std::size_t>(i) % cage.members.size()];
        const Vec3 target = aimed.line.point(share(random) * aimed.line.length_mm()) +
                            40 * Vec3(out(random), out(random), out(random));
        const Vec3 from = target + 2500 * Vec3(out(random), out(random), out(random)).normalized();
        const Vec3 along = target - from;
        const Picked slack = pick(cage, from, along, kSlack_mm), thick = pick(wide, from, along);
        EXPECT_EQ(slack.member, thick.member);
        EXPECT_EQ(slack.plate, thick.plate);
        EXPECT_NEAR((slack.at - thick.at).norm(), 0, 1e-9);
    }
}

TEST(Pick, TheLengthOfTheDirectionDoesNotMatter) {
    const CageGeometry cage = smallCage();
    const Vec3 from(1800, 150, 640), along(-1, 0.1, -0.02);
    const Picked one = pick(cage, from, along.normalized());
    ASSERT_EQ(one.member, 1);
    for (const double length : {1e-3, 0.5, 40.0, 1e6}) {
        const Picked other = pick(cage, from, length * along);
        EXPECT_EQ(other.member, one.member);
        EXPECT_NEAR((other.at - one.at).norm(), 0, 1e-6);
    }
}

TEST(Pick, AnEmptyCageIsMissed) {
    EXPECT_FALSE(pick(CageGeometry(), {1000, 0, 0}, {-1, 0, 0}));
}

}  // namespace
}  // namespace hoopwright
