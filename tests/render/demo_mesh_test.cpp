// The meshes of the demo cages against the geometry they stand for: distances worked out here, by plane
// geometry, from lines and hosts carried straight on.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/shop/joint_cope.h"
#include "render/tube_ends.h"
#include "tests/render/demo_scene.h"
#include "tests/render/mesh_check.h"
#include "tests/render/scene_parts.h"

namespace hoopwright {
namespace {

using namespace testing_render;

constexpr int kSides = 24;            // of a full-quality tube
constexpr double kFloat_mm = 2e-3;    // a corner is kept to single precision
constexpr double kCutEdge_mm = 5e-3;  // the same, where a cut is nearly along its host
constexpr double kOnWeld_mm = 1e-3;

class DemoMesh : public ::testing::TestWithParam<DemoCage> {
protected:
    void SetUp() override {
        demo_ = demoScene(GetParam());
        ASSERT_TRUE(demo_);
        drawn_ = drawnIn(demo_->scene, "tubes");
    }

    Mesh meshOfMember(const ResolvedMember& member) const {
        osg::Geometry* geometry = drawn_.at(member.id);
        return geometry ? meshOf(*geometry) : Mesh();
    }

    /// Signed distance from the skin of the nearest thing an end is cut to: 0 on it, positive outside all. A
    /// host carried on past its end counts only where there is nothing else.
    double overHosts(const ResolvedEnd& end, const Vec3& p) const {
        double least = 1e9, least_past_an_end = 1e9;
        for (const int host : hostsOf(end)) {
            const ResolvedMember& h = demo_->cage.members[static_cast<std::size_t>(host)];
            double& nearest = beyondTheEnds(h.line, onEndlessLine(h.line, p)) ? least_past_an_end : least;
            nearest = std::min(nearest, fromEndlessLine_mm(h.line, p) - h.radius_mm());
        }
        if (end.plate >= 0) {
            const ResolvedPlate& plate = demo_->cage.plates[static_cast<std::size_t>(end.plate)];
            least = std::min(least, plate.axes.col(2).dot(p - plate.at));
        }
        return least < 1e9 ? least : least_past_an_end;
    }

    /// The end of a member a point is nearer to.
    static int nearerEnd(const ResolvedMember& member, const Vec3& p) {
        return (p - member.line.start()).norm() < (p - member.line.end()).norm() ? 0 : 1;
    }

    std::unique_ptr<DemoScene> demo_;
    std::map<std::string, osg::Geometry*> drawn_;
};

TEST_P(DemoMesh, EveryMemberIsDrawn) {
    EXPECT_GT(demo_->cage.members.size(), 20u);
    EXPECT_EQ(drawn_.size(), demo_->cage.members.size());
    for (const ResolvedMember& member : demo_->cage.members)
        EXPECT_GT(meshOfMember(member).triangleCount(), 200u) << member.id;
}

TEST_P(DemoMesh, EveryCornerOfATubeLiesOnItsOuterSkinOrItsBore) {
    for (const ResolvedMember& member : demo_->cage.members) {
        const double outer = member.radius_mm(), bore = outer - member.section.wall_mm;
        int on_outer = 0, on_bore = 0;
        for (const MeshCorner& corner : meshOfMember(member).corners) {
            const double radius = fromEndlessLine_mm(member.line, corner.at.cast<double>());
            const bool skin = std::abs(radius - outer) < kFloat_mm;
            ASSERT_TRUE(skin || std::abs(radius - bore) < kFloat_mm) << member.id << " " << radius;
            ++(skin ? on_outer : on_bore);
        }
        EXPECT_GE(on_outer, 6 * kSides) << member.id;
        EXPECT_GE(on_bore, 6 * kSides) << member.id;
    }
}

TEST_P(DemoMesh, NormalsOfSkinAndBorePointStraightFromTheCentreline) {
    for (const ResolvedMember& member : demo_->cage.members) {
        const double outer = member.radius_mm();
        int radial = 0, all = 0;
        for (const MeshCorner& corner : meshOfMember(member).corners) {
            const Vec3 p = corner.at.cast<double>();
            const Vec3 out = (p - onEndlessLine(member.line, p)).normalized();
            const double facing = out.dot(corner.normal.cast<double>());
            const bool skin = std::abs(fromEndlessLine_mm(member.line, p) - outer) < kFloat_mm;
            EXPECT_NEAR(corner.normal.norm(), 1, 1e-4);
            ++all;
            radial += std::abs(facing - (skin ? 1 : -1)) < 1e-4;
        }
        // All but the cut faces at both ends, which have corners of their own.
        EXPECT_EQ(all - radial, 4 * (kSides + 1)) << member.id;
    }
}

TEST_P(DemoMesh, EveryTubeIsOneClosedSkinThatFacesOut) {
    for (const ResolvedMember& member : demo_->cage.members) {
        const Mesh mesh = meshOfMember(member);
        EXPECT_EQ(openEdges(mesh), 0) << member.id;
        EXPECT_EQ(turnedTriangles(mesh), 0) << member.id;
        EXPECT_GT(volume(mesh), 0) << member.id;
    }
}

TEST_P(DemoMesh, MetalOfTheMeshIsWhatTheShopWeighs) {
    int compared = 0;
    for (std::size_t i = 0; i < demo_->cage.members.size(); ++i) {
        const ResolvedMember& member = demo_->cage.members[i];
        const CutLength cut = cutLength(demo_->cage, static_cast<int>(i));
        if (!cut.trouble.empty()) continue;
        ++compared;
        // The mean cut times the area of the metal, less what 24 sides and chords of the bends leave out.
        const double metal = member.section.area_mm2() * cut.mean_mm * polygonShare(kSides);
        EXPECT_NEAR(volume(meshOfMember(member)) / metal, 1, 2e-3) << member.id;
    }
    EXPECT_GT(compared, 20);
}

TEST_P(DemoMesh, CutEdgesLieOnWhatTheEndIsWeldedTo) {
    int edges = 0;
    for (std::size_t i = 0; i < demo_->cage.members.size(); ++i) {
        const ResolvedMember& member = demo_->cage.members[i];
        const Mesh mesh = meshOfMember(member);
        for (int end = 0; end < 2; ++end) {
            const ResolvedEnd& e = member.ends[static_cast<std::size_t>(end)];
            const Expected<CopeProfile> profile = jointCope(demo_->cage, static_cast<int>(i), end, kSides);
            if (!profile) continue;
            int on_host = 0, aside = 0;
            for (const MeshCorner& corner : mesh.corners) {
                const Vec3 p = corner.at.cast<double>();
                const bool skin =
                    std::abs(fromEndlessLine_mm(member.line, p) - member.radius_mm()) < kFloat_mm;
                if (!skin || corner.weld_mm > kOnWeld_mm || nearerEnd(member, p) != end) continue;
                ++(std::abs(overHosts(e, p)) < kCutEdge_mm ? on_host : aside);
            }
            // Each station stands in the skin and in the cut face; the first closes the ring a second time.
            const int missed = profile->outer.missedCount();
            EXPECT_GE(on_host, 2 * (kSides - missed)) << member.id << " end " << end;
            EXPECT_LE(aside, 2 * (missed + (missed > 0))) << member.id << " end " << end;
            edges += on_host > 0;
        }
    }
    EXPECT_GT(edges, 30);
}

TEST_P(DemoMesh, CutEdgesReachAsFarAsTheShopsCopeSays) {
    for (std::size_t i = 0; i < demo_->cage.members.size(); ++i) {
        const ResolvedMember& member = demo_->cage.members[i];
        const Mesh mesh = meshOfMember(member);
        for (int end = 0; end < 2; ++end) {
            const Expected<CopeProfile> profile = jointCope(demo_->cage, static_cast<int>(i), end, kSides);
            if (!profile) continue;
            const CopeEnd cope = copeEnd(demo_->cage, static_cast<int>(i), end);
            std::vector<double> drawn, wanted = profile->outer.s_mm;
            for (const MeshCorner& corner : mesh.corners) {
                const Vec3 p = corner.at.cast<double>();
                if (corner.weld_mm > kOnWeld_mm || nearerEnd(member, p) != end) continue;
                if (std::abs(fromEndlessLine_mm(member.line, p) - member.radius_mm()) < kFloat_mm)
                    drawn.push_back((p - cope.foot).dot(cope.inward));
            }
            ASSERT_FALSE(drawn.empty()) << member.id << " end " << end;
            const auto [least, greatest] = std::minmax_element(drawn.begin(), drawn.end());
            EXPECT_NEAR(*least, *std::min_element(wanted.begin(), wanted.end()), kFloat_mm) << member.id;
            EXPECT_NEAR(*greatest, *std::max_element(wanted.begin(), wanted.end()), kFloat_mm) << member.id;
        }
    }
}

TEST_P(DemoMesh, NoTubeReachesIntoWhatItIsWeldedTo) {
    for (std::size_t i = 0; i < demo_->cage.members.size(); ++i) {
        const ResolvedMember& member = demo_->cage.members[i];
        const Mesh mesh = meshOfMember(member);
        for (int end = 0; end < 2; ++end) {
            if (!jointCope(demo_->cage, static_cast<int>(i), end, kSides)) continue;
            const ResolvedEnd& e = member.ends[static_cast<std::size_t>(end)];
            const Vec3 at = end == 0 ? member.line.start() : member.line.end();
            double deepest = 0;
            for (const MeshCorner& corner : mesh.corners) {
                const Vec3 p = corner.at.cast<double>();
                if ((p - at).norm() < 6 * member.radius_mm()) deepest = std::min(deepest, overHosts(e, p));
            }
            EXPECT_GT(deepest, -kCutEdge_mm) << member.id << " end " << end;
        }
    }
}

TEST_P(DemoMesh, WeldsHaveBothToesInTheMetalSoThatNoGapShows) {
    constexpr std::size_t kAcross = 6;  // corners from the toe on the tube to the toe on the host
    const auto welds = drawnIn(demo_->scene, "welds");
    int toes = 0;
    for (const ResolvedMember& member : demo_->cage.members) {
        if (!welds.at(member.id)) continue;
        const Mesh bead = meshOf(*welds.at(member.id));
        ASSERT_EQ(bead.corners.size() % kAcross, 0u);
        std::vector<bool> used(bead.corners.size());
        for (const std::uint32_t index : bead.triangles) used[index] = true;
        for (std::size_t i = 0; i < bead.corners.size(); i += kAcross) {
            if (!used[i]) continue;  // along a stretch that meets no host
            const Vec3 on_tube = bead.corners[i].at.cast<double>(),
                       on_host = bead.corners[i + kAcross - 1].at.cast<double>();
            const double over_tube = fromEndlessLine_mm(member.line, on_tube) - member.radius_mm();
            EXPECT_LT(over_tube, 0.01) << member.id;
            EXPECT_GT(over_tube, -1.2) << member.id;
            const ResolvedEnd& end = member.ends[static_cast<std::size_t>(nearerEnd(member, on_tube))];
            EXPECT_LT(overHosts(end, on_host), 0.6) << member.id;
            EXPECT_GT(overHosts(end, on_host), -2.5) << member.id;  // deepest in the corner of two hosts
            ++toes;
        }
    }
    EXPECT_GT(toes, 1000);
}

TEST_P(DemoMesh, OutlineAndDraftAreTheSameTubesWithFewerTriangles) {
    const auto outlines = drawnIn(demo_->scene, "outlines");
    std::map<std::string, std::size_t> full;
    for (const ResolvedMember& member : demo_->cage.members) {
        const Mesh outline = meshOf(*outlines.at(member.id));
        for (const MeshCorner& corner : outline.corners)
            ASSERT_NEAR(fromEndlessLine_mm(member.line, corner.at.cast<double>()), member.radius_mm(),
                        kFloat_mm);
        full[member.id] = meshOfMember(member).triangleCount();
        EXPECT_LT(outline.triangleCount(), full[member.id]);
    }
    demo_->scene.setQuality(Quality::draft);
    drawn_ = drawnIn(demo_->scene, "tubes");
    for (const ResolvedMember& member : demo_->cage.members) {
        const Mesh draft = meshOfMember(member);
        for (const MeshCorner& corner : draft.corners)
            ASSERT_NEAR(fromEndlessLine_mm(member.line, corner.at.cast<double>()), member.radius_mm(),
                        kFloat_mm);
        EXPECT_LE(draft.triangleCount() * 4, full[member.id]) << member.id;
    }
}

TEST_P(DemoMesh, ChordsOfTheBendsStrayNoFartherThanTheEyeCanSee) {
    // The middle of every long edge of the full skin against the true surface: a quarter millimetre on the
    // centreline grows with the radius on the outside of the bend, and the sides' own sagitta adds to it.
    for (const ResolvedMember& member : demo_->cage.members) {
        const Mesh mesh = meshOfMember(member);
        double worst = 0;
        for (std::size_t i = 0; i + 2 < mesh.triangles.size(); i += 3)
            for (std::size_t k = 0; k < 3; ++k) {
                const Vec3 a = cornerOf(mesh, i + k), b = cornerOf(mesh, i + (k + 1) % 3);
                const double from = fromEndlessLine_mm(member.line, a),
                             to = fromEndlessLine_mm(member.line, b);
                if (std::abs(from - member.radius_mm()) > kFloat_mm ||
                    std::abs(to - member.radius_mm()) > kFloat_mm)
                    continue;
                const double middle = fromEndlessLine_mm(member.line, 0.5 * (a + b));
                worst = std::max(worst, member.radius_mm() - middle);
            }
        EXPECT_LT(worst, sagitta_mm(member.radius_mm(), kSides) + 0.45) << member.id;
    }
}

TEST_P(DemoMesh, BoundsHoldEverythingThatIsDrawnOfCageCarAndDriver) {
    const Box bounds = demo_->scene.bounds();
    constexpr double kSlack_mm = 25;  // welds, bolts, and the round of a visor
    for (const char* group : {"tubes", "plates", "skin", "drivers", "rails and wheels"})
        for (const osg::Geometry* geometry : geometriesBelow(*named(demo_->scene, group))) {
            const osg::BoundingBox& box = geometry->getBoundingBox();
            for (int i = 0; i < 3; ++i) {
                EXPECT_GT(static_cast<double>(box._min[i]), bounds.min()[i] - kSlack_mm) << group;
                EXPECT_LT(static_cast<double>(box._max[i]), bounds.max()[i] + kSlack_mm) << group;
            }
        }
    // And no more room than the things in it take.
    Box tight;
    for (const char* group : {"tubes", "plates", "skin", "drivers", "rails and wheels"})
        for (const osg::Geometry* geometry : geometriesBelow(*named(demo_->scene, group))) {
            const osg::BoundingBox& box = geometry->getBoundingBox();
            tight.extend(Vec3(box.xMin(), box.yMin(), box.zMin()));
            tight.extend(Vec3(box.xMax(), box.yMax(), box.zMax()));
        }
    EXPECT_LT((bounds.sizes() - tight.sizes()).maxCoeff(), 120);
}

INSTANTIATE_TEST_SUITE_P(OfTheDemo, DemoMesh, ::testing::ValuesIn(kDemoCages), nameOf);

}  // namespace
}  // namespace hoopwright
