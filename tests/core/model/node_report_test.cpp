// Nodes and what does not quite meet, on frames whose answer is known beforehand.
#include "core/model/node_report.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "tests/core/model/small_cage.h"

namespace hoopwright {
namespace {

using testing::at;
using testing::bar;
using testing::onBy;
using testing::onHeight;

MemberPoint onEnd(std::string host, bool last) {
    return onBy(std::move(host), Landing::By::end, 0, last);
}

constexpr double kLong = 1200, kWide = 1000, kHigh = 900;

/// Four posts on plates, four bars along their tops; a diagonal in each of the five faces whose bit is set:
/// front, left, rear, right, top. The sixth is the car.
Job boxFrame(unsigned faces) {
    Job job = testing::emptyJob();
    const double x[] = {0, kLong, kLong, 0}, y[] = {0, 0, kWide, kWide};
    const auto post = [](int i) { return "post_" + std::to_string(i % 4); };
    for (int i = 0; i < 4; ++i) {
        const std::string foot = "foot_" + std::to_string(i);
        job.cage.plates.push_back(testing::footPlate(foot, x[i], y[i], 0, false));
        job.cage.members.push_back(bar(post(i), {testing::onPlate(foot), at(x[i], y[i], kHigh)}));
    }
    for (int i = 0; i < 4; ++i)
        job.cage.members.push_back(
            bar("top_" + std::to_string(i), {onEnd(post(i), true), onEnd(post(i + 1), true)}));
    for (int i = 0; i < 4; ++i)
        if (faces & (1u << i))
            job.cage.members.push_back(
                bar("diagonal_" + std::to_string(i),
                    {testing::onPlate("foot_" + std::to_string(i)), onEnd(post(i + 1), true)}));
    if (faces & 16u) job.cage.members.push_back(bar("roof", {onEnd("post_0", true), onEnd("post_2", true)}));
    return job;
}

/// All rings of the box by trying every one: no way across shorter than the ring itself, four corners that
/// lie in a plane, and the car only along the sides of the floor. Returns how many.
std::size_t ringsByTrying(unsigned faces) {
    std::vector<Vec3> at;
    for (const double z : {0.0, kHigh})
        for (const auto& [x, y] : {std::pair{0.0, 0.0}, {kLong, 0.0}, {kLong, kWide}, {0.0, kWide}})
            at.push_back({x, y, z});
    constexpr double kFar = 1e9;
    double way[8][8];
    bool bar_between[8][8] = {}, car_between[8][8] = {};
    const auto bar_of = [&](int a, int b) { bar_between[a][b] = bar_between[b][a] = true; };
    for (int i = 0; i < 4; ++i) {
        bar_of(i, i + 4);
        bar_of(4 + i, 4 + (i + 1) % 4);
        car_between[i][(i + 1) % 4] = car_between[(i + 1) % 4][i] = true;
        if (faces & (1u << i)) bar_of(i, 4 + (i + 1) % 4);
    }
    if (faces & 16u) bar_of(4, 6);
    for (int a = 0; a < 8; ++a)
        for (int b = 0; b < 8; ++b)
            way[a][b] = bar_between[a][b] || (a < 4 && b < 4)
                            ? (at[std::size_t(a)] - at[std::size_t(b)]).norm()
                            : kFar;
    for (int k = 0; k < 8; ++k)
        for (int a = 0; a < 8; ++a)
            for (int b = 0; b < 8; ++b) way[a][b] = std::min(way[a][b], way[a][k] + way[k][b]);
    std::size_t found = 0;
    std::vector<int> ring;
    const auto sound = [&] {
        const std::size_t n = ring.size();
        const auto place = [&](std::size_t i) { return at[std::size_t(ring[i % n])]; };
        std::vector<double> along{0};
        for (std::size_t i = 0; i < n; ++i) along.push_back(along.back() + (place(i + 1) - place(i)).norm());
        bool has_bar = false;
        for (std::size_t i = 0; i < n; ++i) {
            has_bar |= bar_between[ring[i]][ring[(i + 1) % n]];
            for (std::size_t k = i + 1; k < n; ++k)
                if (way[ring[i]][ring[k]] < std::min(along[k] - along[i], along[n] - along[k] + along[i]) - 1)
                    return false;
        }
        const Vec3 normal = (place(1) - place(0)).cross(place(2) - place(0)).normalized();
        for (std::size_t i = 0; i < n; ++i)
            if (std::abs((place(i) - place(0)).dot(normal)) > 1) return false;
        return has_bar;
    };
    const auto grow = [&](const auto& self) -> void {
        const int last = ring.back();
        for (int next = ring.front(); next < 8; ++next) {
            if (!bar_between[last][next] && !car_between[last][next]) continue;
            if (next == ring.front() && ring.size() >= 4 && ring[1] < ring.back()) found += sound();
            if (std::ranges::find(ring, next) != ring.end()) continue;
            ring.push_back(next);
            self(self);
            ring.pop_back();
        }
    };
    for (int start = 0; start < 8; ++start) {
        ring = {start};
        grow(grow);
    }
    return found;
}

TEST(OpenBays, OfABoxAreThoseFoundByTryingEveryRing) {
    EXPECT_EQ(openBays(resolve(boxFrame(0))).size(), 5u) << "four sides and the top";
    for (unsigned faces = 0; faces < 32; ++faces) {
        const std::vector<OpenBay> bays = openBays(resolve(boxFrame(faces)));
        EXPECT_EQ(bays.size(), ringsByTrying(faces)) << faces;
        for (const OpenBay& bay : bays) {
            double least = 1e9;
            for (std::size_t i = 0; i < bay.corners.size(); ++i)
                for (std::size_t k = i + 2; k < bay.corners.size() + (i > 0); ++k)
                    if (k < bay.corners.size() && !(i == 0 && k + 1 == bay.corners.size()))
                        least = std::min(least, (bay.corners[i] - bay.corners[k]).norm());
            EXPECT_NEAR(bay.across_mm, least, 1e-9);
        }
    }
    // With a diagonal in each of the five faces nothing is open.
    for (const OpenBay& bay : openBays(resolve(boxFrame(31)))) EXPECT_GT(bay.members.size(), 4u) << bay.key;
}

TEST(OpenBays, AnXClosesABayAndABarThroughTheMiddleMakesTwo) {
    Job job = boxFrame(15);  // only the top is open
    job.cage.members.push_back(bar(
        "middle", {onBy("top_0", Landing::By::fraction, 0.5), onBy("top_2", Landing::By::fraction, 0.5)}));
    const auto inTheTop = [](const std::vector<OpenBay>& bays) {
        return std::ranges::count_if(bays, [](const OpenBay& bay) {
            return std::ranges::all_of(bay.corners, [](const Vec3& p) { return p.z() > kHigh - 50; });
        });
    };
    EXPECT_EQ(inTheTop(openBays(resolve(boxFrame(15)))), 1);
    EXPECT_EQ(inTheTop(openBays(resolve(job))), 2);
    job = boxFrame(15);
    job.cage.members.push_back(bar("roof", {onEnd("post_0", true), onEnd("post_2", true)}));
    job.cage.members.push_back(
        bar("half_a", {onEnd("post_1", true), onBy("roof", Landing::By::fraction, 0.5)}));
    job.cage.members.push_back(
        bar("half_b", {onEnd("post_3", true), onBy("roof", Landing::By::fraction, 0.5)}));
    EXPECT_EQ(inTheTop(openBays(resolve(job))), 0);
}

/// A diagonal that lands a little below the corner still makes triangles of its bay; one that lands well
/// below leaves four corners.
TEST(OpenBays, BarsThatMissACornerByALittleStillMakeATriangle) {
    const auto inTheFirstSide = [](double below_mm) {
        Job job = boxFrame(30);  // all but the first side are crossed
        job.cage.members.push_back(
            bar("late", {testing::onPlate("foot_0"), onBy("post_1", Landing::By::height, kHigh - below_mm)}));
        int open = 0;
        for (const OpenBay& bay : openBays(resolve(job))) {
            const bool in_it = std::ranges::all_of(bay.corners, [](const Vec3& p) { return p.y() < 50; });
            if (in_it && bay.corners.size() == 4) ++open;
            for (std::size_t i = 0; i < bay.corners.size(); ++i)
                EXPECT_GT((bay.corners[(i + 1) % bay.corners.size()] - bay.corners[i]).norm(), 100)
                    << bay.key;
        }
        return open;
    };
    EXPECT_EQ(inTheFirstSide(70), 0);
    EXPECT_EQ(inTheFirstSide(300), 1);
}

TEST(OpenBays, ABentHoopsBendsAreCorners) {
    Job job = testing::hoopJob();
    const std::vector<OpenBay> bays = openBays(resolve(job));
    // Over the belt bar: its two ends and the two bends; under it: its two ends and the two feet.
    int above = 0, below = 0;
    for (const OpenBay& bay : bays) {
        if (bay.members.size() != 2) continue;
        double highest = 0, lowest = 1e9;
        for (const Vec3& corner : bay.corners) {
            highest = std::max(highest, corner.z());
            lowest = std::min(lowest, corner.z());
        }
        if (highest > 800 && lowest > 500) ++above;
        if (lowest < 10 && highest < 700) ++below;
    }
    EXPECT_EQ(above, 1);
    EXPECT_EQ(below, 1);
}

TEST(NodeReport, OffsetIsTheCommonPerpendicular) {
    // Two bars land on a third, one of them 7 mm beside: by hand the axes miss by 7.
    Job job = testing::emptyJob();
    job.cage.members = {bar("rail", {at(0, 0, 0), at(1000, 0, 0)}),
                        bar("square", {onBy("rail", Landing::By::distance, 400), at(400, 500, 0)}),
                        bar("beside", {onBy("rail", Landing::By::distance, 410), at(410, 0, 500)})};
    std::get<Landing>(job.cage.members[2].path[0].place).offset = {0, 7, 0};
    std::get<FixedPoint>(job.cage.members[2].path[1].place).at.y() = 7;
    const CageGeometry now = resolve(job);
    const NodeReport report = nodeReport(now);
    ASSERT_EQ(report.nodes.size(), 1u);
    const NodeLine& line = report.nodes[0];
    EXPECT_EQ(line.key, "beside+rail+square");
    ASSERT_EQ(line.offsets.size(), 3u);
    // square and beside are 10 mm apart along the rail; rail and beside miss by 7.
    EXPECT_NEAR(line.offsets[0].offset_mm, 10, 1e-9);
    EXPECT_NEAR(line.offsets[1].offset_mm, 7, 1e-9);
    EXPECT_NEAR(line.offsets[2].offset_mm, 0, 1e-9);
    EXPECT_NEAR(line.greatest_offset_mm, 10, 1e-9);
}

TEST(NodeReport, ABendIsFreeUntilABarLandsNearIt) {
    Job job = testing::hoopJob();
    CageGeometry now = resolve(job);
    // Braces land at 720: from where the bends begin, by walking the centreline in small steps.
    const Centreline& hoop = now.members[std::size_t(now.member("main_hoop"))].line;
    double lands = 0, bends = 0;
    for (double s = 0; s < hoop.length_mm() / 2; s += 0.01) {
        if (lands == 0 && hoop.point(s).z() >= 720) lands = s;
        if (bends == 0 && hoop.pieceAt(s).kind == Piece::Kind::bend) bends = s;
    }
    const double off = bends - lands;
    ASSERT_GT(off, 5);
    EXPECT_TRUE(nodeReport(now, off + 1).free_bends.empty());
    const NodeReport strict = nodeReport(now, off - 1);
    ASSERT_EQ(strict.free_bends.size(), 2u);
    EXPECT_NEAR(strict.free_bends[0].nearest_mm.value(), off, 0.05);
    EXPECT_NEAR(strict.free_bends[0].angle_rad, strict.free_bends[1].angle_rad, 1e-9);
    // Nothing on it at all.
    job.cage.members = {bar("alone", {at(0, 0, 0), at(500, 0, 0), at(500, 500, 0)})};
    job.cage.plates.clear();
    const NodeReport alone = nodeReport(resolve(job));
    ASSERT_EQ(alone.free_bends.size(), 1u);
    EXPECT_FALSE(alone.free_bends[0].nearest_mm);
    EXPECT_EQ(alone.free_bends[0].key, "alone");
}

TEST(NodeReport, AnEndNearANodeIsNamedOnceByTheLaterBar) {
    Job job = testing::hoopJob();
    Member late = bar("late", {onHeight("main_hoop", 720 + 90, Side::left), at(-600, 500, 810)});
    job.cage.members.push_back(late);
    const CageGeometry now = resolve(job);
    const NodeReport report = nodeReport(now);
    ASSERT_FALSE(report.near_ends.empty());
    int named = 0;
    for (const NearEnd& near : report.near_ends) {
        const std::string& id = now.members[std::size_t(near.member)].id;
        if (id != "late") continue;
        ++named;
        EXPECT_EQ(near.end, 0);
        const Vec3 gap =
            now.nodes[std::size_t(near.node)].at - now.members[std::size_t(near.member)].ends[0].at;
        EXPECT_NEAR(near.distance_mm, std::sqrt(gap.x() * gap.x() + gap.y() * gap.y() + gap.z() * gap.z()),
                    1e-9);
        EXPECT_NEAR(near.distance_mm, 90, 12);
    }
    EXPECT_EQ(named, 1);
    for (const NearEnd& near : report.near_ends)
        EXPECT_NE(now.members[std::size_t(near.member)].id, "rear_brace.left") << "it was there first";
}

}  // namespace
}  // namespace hoopwright
