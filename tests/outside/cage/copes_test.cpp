// Every cut of the demo cages, on straights, on bends, round several bars and on plates, against rays
// marched by distance alone.
#include <algorithm>
#include <cmath>
#include <tuple>

#include "core/model/end_hosts.h"
#include "core/shop/joint_cope.h"
#include "tests/outside/cage/demo_cage.h"
#include "tests/outside/cage/march.h"

namespace hoopwright {
namespace {

constexpr int kStations = 24;
constexpr double kBelow_mm = -400;  ///< no cut of the demos reaches so far past the foot

/// One cut end of a demo cage: what the program says of it, and what it is to sit on.
struct CutEnd {
    std::string name;
    CopeEnd end;
    std::vector<Obstacle> hosts;
    double from_mm = 0;  ///< half the straight behind the cut: no host is there
    CopeProfile profile;
    bool on_bend = false;
    /// The first meeting of the generator at this radius and angle.
    std::optional<double> marched(double radius_mm, double phi_rad) const {
        return march(generatorOf(end, radius_mm, phi_rad), hosts, from_mm, kBelow_mm);
    }
};

double phiOf(std::size_t station, int stations) {
    return 2 * M_PI * static_cast<double>(station) / stations;
}

std::vector<CutEnd> cutsOf(const CageGeometry& cage, int stations) {
    std::vector<CutEnd> out;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& member = cage.members[m];
        for (int e = 0; e < 2; ++e) {
            const ResolvedEnd& at = member.ends[static_cast<std::size_t>(e)];
            if (at.on == ResolvedEnd::On::nothing) continue;
            const auto profile = jointCope(cage, static_cast<int>(m), e, stations);
            EXPECT_TRUE(profile) << profile.reason();
            if (!profile) continue;
            const auto pieces = member.line.pieces();
            const Piece& last = e == 0 ? pieces.front() : pieces.back();
            CutEnd cut{member.id + (e == 0 ? ", first end" : ", last end"),
                       copeEnd(cage, static_cast<int>(m), e), obstaclesOf(cage, at), last.length_mm / 2,
                       *profile};
            for (const Joint& joint : cage.joints)
                if (joint.branch == static_cast<int>(m) && joint.end == e) cut.on_bend = joint.on_bend;
            out.push_back(std::move(cut));
        }
    }
    return out;
}

/// The plate under a foot is folded, and shifted under it so that the foot is over the fold or past it.
void foldUnder(Job& job, const std::string& id, const Flap& flap, const Vec2& offset) {
    for (Plate& plate : job.cage.plates) {
        if (plate.id != id) continue;
        plate.flaps = {flap};
        std::get<AtCarPoint>(plate.at).offset -= Vec3(offset.x(), offset.y(), 0);
    }
    for (Member& member : job.cage.members)
        for (MemberPoint& point : member.path)
            if (auto* foot = std::get_if<OnPlate>(&point.place); foot && foot->plate.starts_with(id))
                foot->offset += Vec2(offset.x(), foot->plate.ends_with(".right") ? -offset.y() : offset.y());
}

constexpr const char* kOnFolds = "hillclimb_saloon_on_folds";

/// The demos; and the saloon with the hoop over an edge folded down, the side bars in a corner folded up and
/// the braces on flaps alone.
DemoCage demoOnFolds(const std::string& name) {
    if (name != kOnFolds) return demoCage(name);
    Job job = demoCage("hillclimb_saloon").job;
    foldUnder(job, "hoop_foot", {PlateEdge::left, 60, -50 * M_PI / 180}, {0, 55});
    foldUnder(job, "side_foot", {PlateEdge::left, 60, 40 * M_PI / 180}, {0, 45});
    foldUnder(job, "brace_foot", {PlateEdge::ahead, 80, -30 * M_PI / 180}, {98, 0});
    return {job, resolve(job)};
}

class OutsideDemoCopes : public testing::TestWithParam<std::string> {
protected:
    const DemoCage demo = demoOnFolds(GetParam());
    const CageGeometry& cage = demo.cage;
};
INSTANTIATE_TEST_SUITE_P(Jobs, OutsideDemoCopes, testing::Values("hillclimb_saloon", "mile_pickup", kOnFolds),
                         [](const auto& it) { return it.param; });

TEST(OutsideDemoFolds, FeetLieOnTheFlapsAsMeant) {
    const DemoCage demo = demoOnFolds(kOnFolds);
    for (const auto& [bar, end, faces, off_flat] :
         {std::tuple("main_hoop", 0u, 2u, false), std::tuple("main_hoop", 1u, 2u, false),
          std::tuple("side_bar.left", 1u, 2u, false), std::tuple("side_bar.right", 1u, 2u, false),
          std::tuple("rear_brace.left", 1u, 1u, true)}) {
        const ResolvedEnd& foot =
            demo.cage.members[static_cast<std::size_t>(demo.cage.member(bar))].ends[end];
        EXPECT_EQ(facesOf(foot).size(), faces) << bar;
        EXPECT_EQ(foot.off_flat, off_flat) << bar;
    }
    for (const GeometryProblem& problem : demo.cage.problems)
        EXPECT_TRUE(problem.kind != GeometryProblem::Kind::foot_overhangs &&
                    problem.kind != GeometryProblem::Kind::strikes_flap)
            << problem.text;
}

/// The ordinate is on a host, and a ray from farther out gets there with nothing before it.
void expectFirstMeeting(const CutEnd& cut, double radius_mm, double phi_rad, double s_mm) {
    const Generator generator = generatorOf(cut.end, radius_mm, phi_rad);
    double nearest = 1e9;
    for (const Obstacle& host : cut.hosts)
        nearest = std::min(nearest, std::abs(host.gap(generator.at(s_mm)).distance_mm));
    EXPECT_LT(nearest, 1e-8) << cut.name << " at " << phi_rad;
    const auto marched = cut.marched(radius_mm, phi_rad);
    ASSERT_TRUE(marched) << cut.name << " at " << phi_rad;
    // Where a ray all but runs along the wall, a hair of distance is a long way along the ray.
    double left = 1e9, before = 1e9;
    for (const Obstacle& host : cut.hosts) {
        left = std::min(left, host.gap(generator.at(*marched)).distance_mm);
        before = std::min(before, host.gap(generator.at(*marched + 0.1)).distance_mm);
    }
    const bool grazes = before < 0.002;
    EXPECT_NEAR(*marched, s_mm, grazes ? 0.02 : 1e-7) << cut.name << " at " << phi_rad;
    EXPECT_LT(left, 1e-6) << cut.name << " at " << phi_rad;
}

TEST_P(OutsideDemoCopes, EveryOrdinateIsWhereARayFirstMeetsAHost) {
    int bends = 0, several = 0;
    for (const CutEnd& cut : cutsOf(cage, kStations)) {
        bends += cut.on_bend;
        several += cut.hosts.size() > 1;
        for (const auto& [edge, radius] : {std::pair(&cut.profile.outer, cut.end.outer_radius_mm),
                                           std::pair(&cut.profile.bore, cut.end.bore_radius_mm)}) {
            for (std::size_t i = 0; i < kStations; ++i) {
                const double phi = phiOf(i, kStations);
                if (edge->missed[i]) {
                    EXPECT_FALSE(cut.marched(radius, phi)) << cut.name << " at " << phi;
                } else {
                    expectFirstMeeting(cut, radius, phi, edge->s_mm[i]);
                }
            }
        }
    }
    EXPECT_GE(bends, 1) << "a joint on a bend";
    EXPECT_GE(several, 2) << "ends cut round several bars";
}

TEST_P(OutsideDemoCopes, ExtremesAreMetWhereTheyAreSaidToBeAndNothingGoesBeyond) {
    for (const CutEnd& cut : cutsOf(cage, 36)) {
        const CopeEdge& outer = cut.profile.outer;
        if (outer.missedCount() > 0) continue;
        expectFirstMeeting(cut, cut.end.outer_radius_mm, outer.least_phi_rad, outer.least_mm);
        expectFirstMeeting(cut, cut.end.outer_radius_mm, outer.greatest_phi_rad, outer.greatest_mm);
        double least = 1e9, greatest = -1e9;
        for (std::size_t i = 0; i < 720; ++i) {
            const double s = cut.marched(cut.end.outer_radius_mm, phiOf(i, 720)).value_or(outer.least_mm);
            least = std::min(least, s);
            greatest = std::max(greatest, s);
        }
        EXPECT_LE(outer.least_mm, least + 1e-6) << cut.name;
        EXPECT_GE(outer.greatest_mm, greatest - 1e-6) << cut.name;
    }
}

TEST_P(OutsideDemoCopes, GrindingIsTheFarthestTheBoreLiesBehindTheOutside) {
    for (const CutEnd& cut : cutsOf(cage, 36)) {
        if (cut.profile.outer.missedCount() + cut.profile.bore.missedCount() > 0) continue;
        double farthest = 0;
        for (std::size_t i = 0; i < 720; ++i) {
            const auto outer = cut.marched(cut.end.outer_radius_mm, phiOf(i, 720));
            const auto bore = cut.marched(cut.end.bore_radius_mm, phiOf(i, 720));
            if (outer && bore) farthest = std::max(farthest, *bore - *outer);
        }
        EXPECT_GE(cut.profile.grind_mm, farthest - 1e-6) << cut.name;
        // Where one host takes over from another the cut may step; the greatest is on one side of the step.
        double there = 0;
        for (const double aside : {-1e-6, 0.0, 1e-6}) {
            const auto outer = cut.marched(cut.end.outer_radius_mm, cut.profile.grind_phi_rad + aside);
            const auto bore = cut.marched(cut.end.bore_radius_mm, cut.profile.grind_phi_rad + aside);
            ASSERT_TRUE(outer && bore) << cut.name;
            there = std::max(there, *bore - *outer);
        }
        EXPECT_NEAR(there, cut.profile.grind_mm, 0.02) << cut.name;
    }
}

TEST_P(OutsideDemoCopes, TheWeldIsAsLongAsManyChordsRoundIt) {
    for (const CutEnd& cut : cutsOf(cage, 36)) {
        if (cut.profile.outer.missedCount() > 0) continue;
        double length = 0;
        std::optional<Vec3> before;
        for (std::size_t i = 0; i <= 1440; ++i) {
            const double phi = phiOf(i, 1440);
            const auto s = cut.marched(cut.end.outer_radius_mm, phi);
            ASSERT_TRUE(s) << cut.name;
            const Vec3 here = generatorOf(cut.end, cut.end.outer_radius_mm, phi).at(*s);
            if (before) length += (here - *before).norm();
            before = here;
        }
        EXPECT_NEAR(cut.profile.edge_length_mm, length, 1e-3 * length) << cut.name;
    }
}

TEST_P(OutsideDemoCopes, TheSharpestCornerOfTheWeldIsThatOfTheTwoWalls) {
    for (const CutEnd& cut : cutsOf(cage, 36)) {
        if (cut.profile.outer.missedCount() > 0) continue;
        double sharpest = M_PI;
        for (std::size_t i = 0; i < 720; ++i) {
            const double phi = phiOf(i, 720);
            const Generator generator = generatorOf(cut.end, cut.end.outer_radius_mm, phi);
            const auto s = cut.marched(cut.end.outer_radius_mm, phi);
            ASSERT_TRUE(s) << cut.name;
            const Vec3 p = generator.at(*s);
            // The way out of the host's wall by differences of its distance; of the branch's, from its axis.
            const auto host = std::ranges::min_element(
                cut.hosts, {}, [&](const Obstacle& each) { return std::abs(each.gap(p).distance_mm); });
            Vec3 out;
            for (int axis = 0; axis < 3; ++axis) {
                const Vec3 step = 1e-4 * Vec3::Unit(axis);
                out[axis] = (host->gap(p + step).distance_mm - host->gap(p - step).distance_mm) / 2e-4;
            }
            const Vec3 own = (generator.foot - cut.end.foot).normalized();
            sharpest = std::min(sharpest, M_PI - std::acos(std::clamp(out.dot(own), -1.0, 1.0)));
        }
        EXPECT_NEAR(cut.profile.least_dihedral_rad, sharpest, 0.02) << cut.name;
    }
}

}  // namespace
}  // namespace hoopwright
