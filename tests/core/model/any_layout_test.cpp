// Layouts thrown together at random: nothing crashes, nothing is not a number, every index points at
// something.
#include <gtest/gtest.h>

#include <random>

#include "core/model/resolve.h"
#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using namespace testing;

class AnyLayout {
public:
    explicit AnyLayout(unsigned seed) : random_(seed) {}

    Job job() {
        Job job = emptyJob();
        job.cage.node_reach_mm = number();
        for (int i = 0; i < 6; ++i) {
            job.stock.tubes[1].section = {pick() ? 38.0 : number(), pick() ? 2.5 : number()};
            Plate plate = footPlate("p" + std::to_string(below(5)), number(), number(), number(), pick());
            plate.normal = pick() ? Vec3::UnitZ() : Vec3(number(), number(), number());
            if (below(6) == 0) plate.length_mm = number();
            job.cage.plates.push_back(plate);
        }
        const int members = below(14);
        for (int i = 0; i < members; ++i) job.cage.members.push_back(member(below(20) == 0 ? 0 : i));
        for (int i = 0; i < 2; ++i)
            job.cage.gussets.push_back({"g", pick(), name(), name(), number(), number()});
        return job;
    }

private:
    int below(int limit) { return std::uniform_int_distribution<int>(0, limit - 1)(random_); }
    bool pick() { return below(2) == 0; }
    double number() {
        switch (below(90)) {
            case 0:
                return std::numeric_limits<double>::quiet_NaN();
            case 1:
                return std::numeric_limits<double>::infinity();
            case 2:
                return -1e308;
            case 3:
                return 1e-300;
            case 4:
                return 0;
            case 5:
                return 1e6;
            default:
                return 100.0 * below(16) - 500;
        }
    }
    std::string name() {
        const std::string id = "m" + std::to_string(below(9));
        const int side = below(4);
        return side == 0 ? id + ".left" : side == 1 ? id + ".right" : id;
    }
    Side side() { return static_cast<Side>(below(3)); }
    MemberPoint point() {
        MemberPoint out;
        const int kind = below(10);
        if (kind < 5) {
            out = at(number(), number(), number());
        } else if (kind < 8) {
            Landing landing;
            landing.host = name();
            landing.by = static_cast<Landing::By>(below(6));
            landing.value = landing.by == Landing::By::fraction && pick() ? 0.1 * below(11) : number();
            landing.from_last_end = pick();
            landing.side = side();
            if (below(4) == 0) landing.offset = {number(), number(), number()};
            if (below(3) == 0) landing.also = {name(), name()};
            out.place = landing;
        } else if (kind == 8) {
            out.place = OnPlate{"p" + std::to_string(below(6)), {number(), number()}};
        } else {
            out.place = AtCarPoint{"nowhere", Vec3::Zero()};
        }
        if (below(5) == 0) out.bend_radius_mm = number();
        return out;
    }
    Member member(int number_of_it) {
        Member out = bar("m" + std::to_string(number_of_it), {},
                         pick()   ? "45x2.5"
                         : pick() ? "38x2.5"
                                  : "none");
        out.mirrored = pick();
        if (below(4) == 0) out.bend_radius_mm = number();
        if (below(5) == 0) out.passes = {name()};
        out.padding_mm = number();
        const int points = below(12) == 0 ? below(2) : 2 + below(4);
        for (int i = 0; i < points; ++i) out.path.push_back(point());
        return out;
    }
    std::mt19937 random_;
};

void expectSound(const CageGeometry& cage) {
    const int members = static_cast<int>(cage.members.size());
    const auto inRange = [](int i, std::size_t size) { return i >= -1 && i < static_cast<int>(size); };
    for (const ResolvedMember& member : cage.members) {
        ASSERT_FALSE(member.line.empty());
        EXPECT_TRUE(std::isfinite(member.line.length_mm()) && member.line.length_mm() > 0);
        EXPECT_TRUE(std::isfinite(member.mass_kg) && member.mass_kg >= 0);
        EXPECT_TRUE(std::isfinite(member.radius_mm()) && member.radius_mm() >= 0);
        EXPECT_TRUE(std::isfinite(member.padding_mm) && member.padding_mm >= 0);
        for (double s : member.line.sampleStations(5)) EXPECT_TRUE(member.line.point(s).allFinite());
        for (const ResolvedEnd& end : member.ends) {
            EXPECT_TRUE(end.at.allFinite() && std::isfinite(end.host_station_mm));
            EXPECT_NEAR(end.outward.norm(), 1, 1e-9);
            EXPECT_EQ(end.on == ResolvedEnd::On::member, end.host >= 0);
            EXPECT_EQ(end.on == ResolvedEnd::On::plate, end.plate >= 0);
            EXPECT_TRUE(inRange(end.host, cage.members.size()) && inRange(end.plate, cage.plates.size()) &&
                        inRange(end.node, cage.nodes.size()));
            EXPECT_EQ(end.node >= 0, end.on != ResolvedEnd::On::nothing);
            for (int also : end.also) EXPECT_TRUE(also >= 0 && also < members && also != end.host);
        }
    }
    for (const Joint& joint : cage.joints) {
        EXPECT_TRUE(joint.at.allFinite() && std::isfinite(joint.angle_rad) && std::isfinite(joint.offset_mm));
        EXPECT_TRUE(joint.node >= 0 && joint.host != joint.branch);
    }
    for (const Node& node : cage.nodes) {
        EXPECT_TRUE(node.at.allFinite() && std::isfinite(node.spread_mm));
        EXPECT_TRUE(std::is_sorted(node.members.begin(), node.members.end()));
    }
    for (const ResolvedPlate& plate : cage.plates)
        EXPECT_TRUE(plate.at.allFinite() && plate.axes.allFinite() && plate.area_mm2 > 0);
    for (const ResolvedGusset& gusset : cage.gussets)
        EXPECT_TRUE(std::isfinite(gusset.mass_kg) && gusset.mass_kg > 0);
    for (const GeometryProblem& problem : cage.problems)
        EXPECT_TRUE(problem.at.allFinite() && !problem.text.empty());
    EXPECT_TRUE(std::isfinite(cage.totals.tube_mass_kg) && std::isfinite(cage.totals.plate_mass_kg));
}

TEST(AnyLayout, ResolvesToSomethingSoundWithoutACrash) {
    std::size_t members = 0, joints = 0, problems = 0;
    for (unsigned seed = 1; seed <= 2000; ++seed) {
        const CageGeometry cage = resolve(AnyLayout(seed).job());
        SCOPED_TRACE("seed " + std::to_string(seed));
        expectSound(cage);
        if (HasFatalFailure() || HasNonfatalFailure()) return;
        members += cage.members.size();
        joints += cage.joints.size();
        problems += cage.problems.size();
    }
    // The layouts are wild, but not so wild that nothing is tried.
    EXPECT_GT(members, 4000u);
    EXPECT_GT(joints, 500u);
    EXPECT_GT(problems, 4000u);
}

}  // namespace
}  // namespace hoopwright
