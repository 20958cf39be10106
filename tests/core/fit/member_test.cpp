// Members of the demo cages, fitted and put back in their layouts.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/files/job_file.h"
#include "core/fit/member_fit.h"
#include "core/model/resolve.h"
#include "core/skin/gap_to_skin.h"

namespace hoopwright {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

class MemberFitOn : public testing::TestWithParam<std::string> {
protected:
    MemberFitOn()
        : job_(*readJob(std::string(HOOPWRIGHT_SOURCE_DIR "/data/cages/") + GetParam() + ".yaml").job),
          cage_(resolve(job_)),
          car_(job_.car, job_.scan_meshes) {}

    CageGeometry with(const Member& fitted) const {
        Job job = job_;
        for (Member& member : job.cage.members)
            if (member.id == fitted.id) member = fitted;
        return resolve(job);
    }
    static const ResolvedMember& bar(const CageGeometry& cage, const std::string& id) {
        return cage.members[static_cast<std::size_t>(cage.member(id))];
    }
    /// What the die or the path has against a member.
    static std::vector<std::string> against(const CageGeometry& cage, const std::string& id) {
        std::vector<std::string> out;
        for (const GeometryProblem& problem : cage.problems) {
            using Kind = GeometryProblem::Kind;
            if (problem.member == id &&
                (problem.kind == Kind::path || problem.kind == Kind::no_die ||
                 problem.kind == Kind::straight_too_short || problem.kind == Kind::angle_too_great ||
                 problem.kind == Kind::landing_misses))
                out.push_back(problem.text);
        }
        return out;
    }

    static std::string againstBought(const CageGeometry& cage) {
        std::string out;
        for (const GeometryProblem& problem : cage.problems)
            if (problem.kind == GeometryProblem::Kind::bought_differs ||
                problem.kind == GeometryProblem::Kind::leg_too_short)
                out += problem.text;
        return out;
    }

    Job job_;
    CageGeometry cage_;
    FitCar car_;
};
INSTANTIATE_TEST_SUITE_P(Demos, MemberFitOn, testing::Values("hillclimb_saloon", "mile_pickup"),
                         [](const auto& it) { return it.param; });

TEST_P(MemberFitOn, TheMainHoopComesNearerAndCanBeBent) {
    const auto fit = fitMember(job_, cage_, car_, {.member = "main_hoop"});
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_TRUE(fit->is_hoop);
    EXPECT_EQ(fit->bar.trouble, "");
    EXPECT_LT(fit->bar.after.mean_mm, fit->bar.before.mean_mm);
    EXPECT_FALSE(fit->bar.limits.empty());
    const CageGeometry cage = with(fit->member);
    EXPECT_THAT(against(cage, "main_hoop"), ElementsAre());
    // The very bar the cage then has: its gap by the program's other way.
    const ResolvedMember& hoop = bar(cage, "main_hoop");
    EXPECT_EQ(hoop.line.bendCount(), 4);
    EXPECT_NEAR(hoop.line.length_mm(), fit->bar.line.length_mm(), 1e-6);
    const auto gap = gapToSkin(hoop, carSkin(job_.car, job_.scan_meshes), kFittedSurfaces);
    ASSERT_TRUE(gap);
    const double whole = hoop.line.length_mm();
    for (std::size_t i = 0; i < gap->gap.stations_mm.size(); ++i) {
        const double from_end = std::min(gap->gap.stations_mm[i], whole - gap->gap.stations_mm[i]);
        if (from_end <= 350) continue;
        EXPECT_GE(gap->gap.gaps_mm[i], kUsualGap_mm - kFitError_mm);
    }
}

TEST_P(MemberFitOn, ASideBarFollowsRoofRailAndPillar) {
    const auto fit = fitMember(job_, cage_, car_, {.member = "side_bar", .least_gap_mm = 15});
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_EQ(fit->fitted, "side_bar.left");
    EXPECT_THAT(fit->followed, ElementsAre("roof_rail.left", "a_pillar.left"));
    ASSERT_TRUE(fit->bar.after.lines && fit->bar.before.lines);
    EXPECT_LT(fit->bar.after.lines->mean_mm, fit->bar.before.lines->mean_mm);
    EXPECT_GE(fit->bar.after.lines->least_mm, 15 - kFitError_mm - fit->bar.short_by_mm);
    const CageGeometry cage = with(fit->member);
    EXPECT_THAT(against(cage, "side_bar"), ElementsAre());
    // Ends stay where they land, and the right one is the mirror image.
    EXPECT_NEAR((bar(cage, "side_bar.left").ends[0].at - bar(cage_, "side_bar.left").ends[0].at).norm(), 0,
                1e-9);
    EXPECT_NEAR(
        (bar(cage, "side_bar.right").line.end() - mirrored(bar(cage, "side_bar.left").line.end())).norm(), 0,
        1e-9);
}

TEST_P(MemberFitOn, AWindshieldBarSlidesAlongTheSideBars) {
    const auto fit =
        fitMember(job_, cage_, car_, {.member = "windshield_bar", .least_gap_mm = 15, .end_travel_mm = 120});
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_LE(fit->bar.after.mean_mm, fit->bar.before.mean_mm + 0.1);
    const CageGeometry cage = with(fit->member);
    EXPECT_THAT(against(cage, "windshield_bar"), ElementsAre());
    const ResolvedMember& bar_there = bar(cage, "windshield_bar");
    for (const int end : {0, 1}) {
        EXPECT_EQ(bar_there.ends[static_cast<std::size_t>(end)].on, ResolvedEnd::On::member);
        EXPECT_NEAR((bar_there.ends[static_cast<std::size_t>(end)].at -
                     (end == 0 ? fit->bar.path.front() : fit->bar.path.back()))
                        .norm(),
                    0, 1e-3);
    }
}

TEST_P(MemberFitOn, RefusesWithASentence) {
    const auto why = [&](const MemberWish& wish) { return fitMember(job_, cage_, car_, wish).reason(); };
    EXPECT_THAT(why({.member = "main_hop"}),
                HasSubstr("no member 'main_hop' in this cage; did you mean 'main_hoop'?"));
    EXPECT_THAT(why({.member = "dash_bar"}), HasSubstr("is straight and its ends stay"));
    EXPECT_THAT(why({.member = "side_bar", .follow = {{"roof_rai"}}}),
                HasSubstr("no line 'roof_rai'; did you mean"));
    EXPECT_THAT(why({.member = "main_hoop", .bends = 5}), HasSubstr("ask for 2, 4, 6 or 8"));
    EXPECT_THAT(why({.member = "main_hoop", .bent = "900, 75"}), HasSubstr("begin and end with a straight"));
    job_.dies.dies.clear();
    EXPECT_THAT(why({.member = "main_hoop"}), HasSubstr("add the die to the die list"));
}

TEST_P(MemberFitOn, AHoopStandsWhereTheBuilderSays) {
    const auto fit = fitMember(job_, cage_, car_, {.member = "main_hoop", .x_mm = -200, .lean_rad = 0.1});
    ASSERT_TRUE(fit) << fit.reason();
    for (const Vec3& p : fit->bar.path)
        EXPECT_NEAR(p.x(), -200 - std::tan(0.1) * (p.z() - fit->bar.path.front().z()), 1e-6);
    EXPECT_NEAR(bar(with(fit->member), "main_hoop").line.start().x(), -200, 1e-9);
}

TEST_P(MemberFitOn, AHoopBoughtBentIsLaidAndTrimmed) {
    const auto suited = fitMember(job_, cage_, car_, {.member = "main_hoop"});
    ASSERT_TRUE(suited);
    // The bar bent to suit, taped to the millimetre, with 100 more at each end.
    const BendTable table = bendTable(suited->bar.line);
    std::string shape;
    for (const BendRow& row : table.rows)
        shape += std::to_string(row.straight_before_mm + (shape.empty() ? 100 : 0)) + " mm, " +
                 std::to_string(row.angle_rad * 180 / 3.14159265358979) + ", ";
    shape += std::to_string(table.last_straight_mm + 100) + " mm";
    const auto fit = fitMember(job_, cage_, car_, {.member = "main_hoop", .bent = shape});
    ASSERT_TRUE(fit) << fit.reason();
    ASSERT_TRUE(fit->pre_bent);
    EXPECT_NEAR(fit->pre_bent->trim_mm[0], 100, 15);
    ASSERT_TRUE(fit->member.bent);
    const CageGeometry laid = with(fit->member);
    EXPECT_EQ(againstBought(laid), "") << "as it is placed it lies as taped";
    const ResolvedMember& made = bar(laid, "main_hoop");
    ASSERT_TRUE(made.bought);
    EXPECT_EQ(made.bought->saw_mm, fit->saw_mm);
    // The cut ends stand flat on their plates: the long point lies below the axis by r tan(lean).
    for (const std::size_t e : {0u, 1u}) {
        const Vec3 normal = laid.plates[static_cast<std::size_t>(made.ends[e].plate)].axes.col(2);
        const double lean = std::acos(std::min(1.0, std::abs(made.ends[e].outward.dot(normal))));
        EXPECT_NEAR(fit->saw_mm[e], fit->pre_bent->trim_mm[e] - made.radius_mm() * std::tan(lean), 0.01);
    }
    // Narrower in the top, it may use the way its feet are given.
    std::string narrow = "900, 80, 700, 80, 900";
    if (job_.cage.unit == LengthUnit::in) narrow = "36, 80, 28, 80, 36";
    for (const double travel_mm : {40.0, 120.0}) {
        const auto other =
            fitMember(job_, cage_, car_, {.member = "main_hoop", .end_travel_mm = travel_mm, .bent = narrow});
        ASSERT_TRUE(other && other->pre_bent) << other.reason();
        EXPECT_EQ(other->pre_bent->fits, other->pre_bent->short_by_mm == 0) << other->pre_bent->verdict;
        for (const double off : other->pre_bent->foot_off_mm)
            EXPECT_LE(off, travel_mm + other->pre_bent->short_by_mm + 0.2);
    }
    EXPECT_NEAR(fit->pre_bent->placed.mean_mm, suited->bar.after.mean_mm, 2);
    EXPECT_EQ(fit->member.path.size(), suited->member.path.size());
}

TEST_P(MemberFitOn, ALegThatIsTooShortIsLaidToItsPlateAndSaid) {
    const bool inches = job_.cage.unit == LengthUnit::in;
    const std::string shape = inches ? "24, 80, 34, 80, 24" : "800, 85, 720, 85, 800";
    const auto fit = fitMember(job_, cage_, car_, {.member = "main_hoop", .bent = shape});
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_FALSE(fit->pre_bent->fits);
    ASSERT_LT(fit->pre_bent->trim_mm[0], -20);
    EXPECT_NEAR(fit->saw_mm[0], fit->pre_bent->trim_mm[0], 8) << "less what the foot leans";
    const CageGeometry laid = with(fit->member);
    EXPECT_EQ(bar(laid, "main_hoop").ends[0].on, ResolvedEnd::On::plate);
    EXPECT_THAT(againstBought(laid), HasSubstr("its first leg is"));
    EXPECT_THAT(againstBought(laid), HasSubstr("too short to reach"));
}

/// The hoop's feet past the folds of their plates, which are shifted under them.
TEST_P(MemberFitOn, ABoughtHoopIsCutToTheFlapsItStandsOn) {
    const auto setOnFlaps = [&](double past_mm) {
        Member& hoop = *std::ranges::find(job_.cage.members, "main_hoop", &Member::id);
        for (MemberPoint* point : {&hoop.path.front(), &hoop.path.back()}) {
            auto& foot = std::get<OnPlate>(point->place);
            for (Plate& plate : job_.cage.plates) {
                if (!foot.plate.starts_with(plate.id)) continue;
                foot.offset.y() = (foot.plate.ends_with("right") ? -1 : 1) * (plate.width_mm / 2 + past_mm);
                if (point != &hoop.path.front()) continue;
                std::get<AtCarPoint>(plate.at).offset.y() -= foot.offset.y();
                plate.flaps = {{PlateEdge::left, 130, -25 * std::numbers::pi / 180}};
            }
        }
        cage_ = resolve(job_);
    };
    setOnFlaps(60);
    const ResolvedMember& was = bar(cage_, "main_hoop");
    for (const ResolvedEnd& end : was.ends) ASSERT_TRUE(end.off_flat) << "on flaps alone";
    std::string shape = "1200, 80, 780, 80, 1200";
    if (job_.cage.unit == LengthUnit::in) shape = "48, 80, 31, 80, 48";
    const auto fit =
        fitMember(job_, cage_, car_, {.member = "main_hoop", .end_travel_mm = 60, .bent = shape});
    ASSERT_TRUE(fit && fit->pre_bent) << fit.reason();
    const CageGeometry laid = with(fit->member);
    const ResolvedMember& made = bar(laid, "main_hoop");
    for (const std::size_t e : {0u, 1u}) {
        ASSERT_EQ(made.ends[e].on, ResolvedEnd::On::plate) << e;
        const PlacedFlap& flap = laid.plates[static_cast<std::size_t>(made.ends[e].plate)].flaps.front();
        const Vec3 normal = flap.along.cross((flap.to - flap.from).normalized()).normalized();
        EXPECT_NEAR((made.ends[e].at - flap.from).dot(normal), 0, 1e-6) << "its axis ends on the flap";
        EXPECT_GT((made.ends[e].at - was.ends[e].at).norm(), 1) << "and has moved there";
        // Cut flat to the flap: the long point lies past the axis by r tan(lean).
        const double lean = std::acos(std::min(1.0, std::abs(made.ends[e].outward.dot(normal))));
        EXPECT_NEAR(fit->saw_mm[e], fit->pre_bent->trim_mm[e] - made.radius_mm() * std::tan(lean), 0.01);
    }
}

TEST_P(MemberFitOn, ABoughtHoopNeedsNoDieAndIsFittedAgainAsTheLayoutHasIt) {
    const bool inches = job_.cage.unit == LengthUnit::in;
    const std::string shape = inches ? "40, 80, 34, 80, 40" : "1000, 85, 720, 85, 1000";
    job_.dies.dies.clear();
    EXPECT_THAT(fitMember(job_, cage_, car_, {.member = "main_hoop", .bent = shape}).reason(),
                HasSubstr("bend radius of the tube is not known"));
    const auto fit =
        fitMember(job_, cage_, car_, {.member = "main_hoop", .bent = shape, .bent_radius_mm = 150});
    ASSERT_TRUE(fit) << fit.reason();
    EXPECT_EQ(fit->member.bent->bend_radius_mm, 150);
    for (Member& member : job_.cage.members)
        if (member.id == "main_hoop") member = fit->member;
    const auto again = fitMember(job_, resolve(job_), car_, {.member = "main_hoop"});
    ASSERT_TRUE(again) << again.reason();
    ASSERT_TRUE(again->pre_bent);
    EXPECT_EQ(again->member.bent, fit->member.bent);
    EXPECT_NEAR(again->pre_bent->placed.mean_mm, fit->pre_bent->placed.mean_mm, 1);
}

}  // namespace
}  // namespace hoopwright
