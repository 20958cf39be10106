// Lines of a cage as a draughtsman would draw them: where they are, and where they go behind something.
#include "core/drawing/line_drawing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "core/model/sheet_shape.h"

namespace hoopwright {
namespace {

constexpr double kRadius_mm = 20;

ResolvedMember tubeAlong(const std::string& id, const std::vector<PathPoint>& path, double od_mm = 40) {
    ResolvedMember out;
    out.id = out.name = id;
    out.section = {od_mm, 2};
    out.line = makeCentreline(path).line;
    out.ends[0].at = out.line.start();
    out.ends[1].at = out.line.end();
    out.ends[0].outward = -out.line.tangent(0);
    out.ends[1].outward = out.line.tangent(out.line.length_mm());
    return out;
}

/// Length of the lines of a bar, seen or hidden, as drawn on paper.
double lengthOn(const LineView& view, const std::vector<CageLine>& lines, int bar, bool hidden,
                CageLine::Kind kind) {
    double out = 0;
    for (const CageLine& line : lines) {
        if (line.of != CageLine::Of::tube || line.index != bar || line.hidden != hidden || line.kind != kind)
            continue;
        for (std::size_t i = 1; i < line.points.size(); ++i)
            out += (view.flat(line.points[i]) - view.flat(line.points[i - 1])).norm();
    }
    return out;
}

TEST(LineView, HasTheFrontOfTheCarOnTheLeftFromTheLeftAndFromAbove) {
    const std::vector<LineView>& all = lineViews();
    EXPECT_LT(all[0].flat(Vec3(1, 0, 0)).x(), 0);
    EXPECT_GT(all[0].flat(Vec3(0, 0, 1)).y(), 0);
    EXPECT_LT(all[2].flat(Vec3(1, 0, 0)).x(), 0);
    EXPECT_LT(all[2].flat(Vec3(0, 1, 0)).y(), 0);  // the driver's left is below: seen from above
    EXPECT_GT(all[1].flat(Vec3(0, 1, 0)).x(), 0);  // from the front the car's left is on the right
    for (const LineView& view : all) {
        EXPECT_NEAR(view.right.dot(view.up), 0, 1e-12) << view.name;
        EXPECT_NEAR(view.towards().norm(), 1, 1e-12) << view.name;
    }
}

TEST(LineDrawing, ATubeInFrontHidesTheOtherOverItsWidth) {
    // From the front: one lies across, 200 ahead of it another stands upright.
    CageGeometry cage;
    cage.members = {tubeAlong("across", {{{0, -500, 300}}, {{0, 500, 300}}}),
                    tubeAlong("upright", {{{200, 100, 0}}, {{200, 100, 800}}})};
    const LineView& view = lineViews()[1];
    const std::vector<CageLine> lines = lineDrawing(cage, view);
    const auto outline = CageLine::Kind::outline;
    EXPECT_NEAR(lengthOn(view, lines, 0, true, outline), 2 * 2 * kRadius_mm, 0.3);
    EXPECT_NEAR(lengthOn(view, lines, 0, false, outline), 2 * (1000 - 2 * kRadius_mm), 0.3);
    EXPECT_NEAR(lengthOn(view, lines, 1, false, outline), 2 * 800, 0.01);
    EXPECT_NEAR(lengthOn(view, lines, 1, true, outline), 0, 1e-9);
}

TEST(LineDrawing, FromBehindItIsTheOtherWayRound) {
    CageGeometry cage;
    cage.members = {tubeAlong("across", {{{0, -500, 300}}, {{0, 500, 300}}}),
                    tubeAlong("upright", {{{200, 100, 0}}, {{200, 100, 800}}})};
    const LineView& view = lineViews()[3];
    const std::vector<CageLine> lines = lineDrawing(cage, view);
    EXPECT_NEAR(lengthOn(view, lines, 1, true, CageLine::Kind::outline), 2 * 2 * kRadius_mm, 0.3);
    EXPECT_NEAR(lengthOn(view, lines, 0, true, CageLine::Kind::outline), 0, 1e-9);
}

TEST(LineDrawing, EveryOutlineIsTheRadiusFromTheCentrelineOnPaper) {
    CageGeometry cage;
    cage.members = {
        tubeAlong("hoop", {{{0, 600, 0}}, {{100, 500, 900}, 140}, {{60, -500, 950}, 140}, {{0, -620, 0}}})};
    const Centreline& line = cage.members[0].line;
    for (const LineView& view : lineViews()) {
        for (const CageLine& one : lineDrawing(cage, view)) {
            if (one.kind != CageLine::Kind::outline) continue;
            for (std::size_t i = 0; i < one.points.size(); ++i) {
                const Vec3& p = one.points[i];
                const Vec3 out = p - line.point(line.nearestStation(p));
                // The ends of a stretch lie on chords of the outline.
                const double good = i == 0 || i + 1 == one.points.size() ? 0.02 : 1e-6;
                ASSERT_NEAR(out.norm(), kRadius_mm, good) << view.name;
                ASSERT_NEAR(out.dot(view.towards()), 0, good * kRadius_mm) << view.name;
            }
        }
    }
}

TEST(LineDrawing, ATubeSeenEndOnIsACircle) {
    CageGeometry cage;
    cage.members = {tubeAlong("across", {{{0, -500, 300}}, {{0, 500, 300}}})};
    const LineView& view = lineViews()[0];
    double seen = 0;
    for (const CageLine& line : lineDrawing(cage, view)) {
        for (const Vec3& p : line.points)
            EXPECT_NEAR((view.flat(p) - view.flat({0, 0, 300})).norm(), kRadius_mm, 0.05);
        if (line.hidden) continue;
        for (std::size_t i = 1; i < line.points.size(); ++i)
            seen += (line.points[i] - line.points[i - 1]).norm();
    }
    EXPECT_GE(seen, 2 * std::numbers::pi * kRadius_mm * 0.99);
}

TEST(LineDrawing, AHoopSeenEdgeOnIsClosedAtTheTop) {
    // In a plane square to the view's paper: the top bar runs straight at whoever looks.
    CageGeometry cage;
    cage.members = {
        tubeAlong("hoop", {{{0, 600, 0}}, {{0, 600, 900}, 140}, {{0, -600, 900}, 140}, {{0, -600, 0}}})};
    const LineView& view = lineViews()[0];
    double top = -1e300;
    for (const CageLine& line : lineDrawing(cage, view)) {
        if (line.hidden) continue;
        for (const Vec3& p : line.points) {
            top = std::max(top, view.flat(p).y());
            EXPECT_LE(std::abs(view.flat(p).x()), kRadius_mm + 1e-6);
        }
    }
    EXPECT_NEAR(top, 900 + kRadius_mm, 0.05);
}

TEST(LineDrawing, APlateHidesWhatIsUnderIt) {
    CageGeometry cage;
    cage.members = {tubeAlong("under", {{{-400, 0, -100}}, {{400, 0, -100}}})};
    ResolvedPlate plate;
    plate.id = "plate";
    plate.outline = {{-60, -50}, {60, -50}, {60, 50}, {-60, 50}};
    plate.thickness_mm = 3;
    cage.plates = {plate};
    const LineView& view = lineViews()[2];
    const std::vector<CageLine> lines = lineDrawing(cage, view);
    EXPECT_NEAR(lengthOn(view, lines, 0, true, CageLine::Kind::outline), 2 * 120, 0.3);
    double rim = 0;
    for (const CageLine& line : lines)
        if (line.of == CageLine::Of::plate && !line.hidden)
            for (std::size_t i = 1; i < line.points.size(); ++i)
                rim += (view.flat(line.points[i]) - view.flat(line.points[i - 1])).norm();
    // The upper face's rim; the lower lies right under it and its edges have the same place on paper.
    EXPECT_GE(rim, 2 * (120 + 100) - 0.1);
    EXPECT_LE(rim, 2 * 2 * (120 + 100) + 0.1);
}

/// Length of the lines of sheet that are seen, as drawn on paper; with the box round them.
struct SeenSheet {
    double length_mm = 0;
    Vec2 low = Vec2::Constant(1e9), high = Vec2::Constant(-1e9);
};
SeenSheet seenSheet(const LineView& view, const std::vector<CageLine>& lines, CageLine::Of of) {
    SeenSheet out;
    for (const CageLine& line : lines) {
        if (line.of != of || line.hidden) continue;
        for (std::size_t i = 0; i < line.points.size(); ++i) {
            const Vec2 p = view.flat(line.points[i]);
            out.low = out.low.cwiseMin(p), out.high = out.high.cwiseMax(p);
            if (i > 0) out.length_mm += (p - view.flat(line.points[i - 1])).norm();
        }
    }
    return out;
}

TEST(LineDrawing, AFlapIsDrawnAndHidesWhatIsBehindIt) {
    Plate said;
    said.length_mm = 120, said.width_mm = 100, said.thickness_mm = 3;
    said.flaps = {{PlateEdge::left, 60, std::numbers::pi / 2}};
    CageGeometry cage;
    cage.members = {tubeAlong("behind", {{{-400, 0, 30}}, {{400, 0, 30}}})};
    ResolvedPlate plate;
    plate.outline = notchedRectangle(said);
    plate.thickness_mm = 3;
    plate.flaps = placedFlaps(said, plate);
    cage.plates = {plate};
    const LineView& view = lineViews()[0];  // from the left
    const std::vector<CageLine> lines = lineDrawing(cage, view);
    EXPECT_NEAR(lengthOn(view, lines, 0, true, CageLine::Kind::outline), 2 * 120, 0.3);
    const SeenSheet seen = seenSheet(view, lines, CageLine::Of::plate);
    // From the lower face up to the free edge, 60 over the outside.
    EXPECT_NEAR(seen.low.y(), -3, 0.01);
    EXPECT_NEAR(seen.high.y(), 57, 0.01);
    EXPECT_NEAR(seen.high.x() - seen.low.x(), 120, 0.01);
    EXPECT_GE(seen.length_mm, 2 * (120 + 60) - 0.1);
}

TEST(LineDrawing, AFormedGussetIsDrawnAsItIsFoldedAndSeenThroughItsHole) {
    CageGeometry cage;
    cage.members = {tubeAlong("a", {{{0, 0, 0}}, {{600, 0, 0}}}),
                    tubeAlong("b", {{{0, 0, 0}}, {{0, 0, 600}}}),
                    tubeAlong("behind", {{{0, -200, 75}}, {{400, -200, 75}}}, 6)};
    ResolvedGusset gusset;
    gusset.member_a = 0, gusset.member_b = 1;
    gusset.corners = {Vec3(0, 0, 0), Vec3(200, 0, 0), Vec3(0, 0, 200)};
    gusset.thickness_mm = 2;
    gusset.formed = true;
    gusset.hole_mm = 30;
    cage.gussets = {gusset};
    const GussetShape shape = gussetShape(cage, gusset);
    ASSERT_TRUE(shape.hole);
    const Vec3 hole = shape.at(*shape.hole);
    const LineView& view = lineViews()[0];
    // The thin bar runs past behind the hole's middle.
    cage.members[2] = tubeAlong("behind", {{{-300, -200, hole.z()}}, {{400, -200, hole.z()}}}, 6);
    const auto hidden = [&] {
        return lengthOn(view, lineDrawing(cage, view), 2, true, CageLine::Kind::outline);
    };
    const double pierced = hidden();
    cage.gussets[0].hole_mm.reset();
    const double whole = hidden();
    EXPECT_NEAR(whole - pierced, 2 * 2 * std::sqrt(15 * 15 - 3 * 3), 0.5);
    // Behind: the upright is 40 wide, the cheek reaches to the open side and its fold.
    const double open = 200 - hole.z() + 2 * std::numbers::sqrt2;
    EXPECT_NEAR(whole, 2 * (open + 20), 0.5 + 2 * 3);
    // From ahead the strip is as wide as from cheek to cheek over the outside.
    const SeenSheet strip =
        seenSheet(lineViews()[1], lineDrawing(cage, lineViews()[1]), CageLine::Of::gusset);
    EXPECT_NEAR(strip.high.x() - strip.low.x(), 40 + 2 * 2, 0.01);
}

TEST(LineDrawing, ASeamLiesOnBothTubes) {
    const JobResult read = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/mile_pickup.yaml");
    ASSERT_TRUE(read.job);
    const CageGeometry cage = resolve(*read.job);
    int seams = 0;
    for (const CageLine& line : lineDrawing(cage, lineViews().back())) {
        if (line.of != CageLine::Of::tube || line.kind != CageLine::Kind::edge) continue;
        const ResolvedMember& m = cage.members[static_cast<std::size_t>(line.index)];
        ++seams;
        for (const Vec3& p : line.points) {
            // Beyond the end of its centreline the tube goes on straight.
            const Vec3 out0 = p - m.line.start(), out1 = p - m.line.end();
            const Vec3 t0 = m.line.tangent(0), t1 = m.line.tangent(m.line.length_mm());
            const double own =
                std::min({(p - m.line.point(m.line.nearestStation(p))).norm(),
                          (out0 - out0.dot(t0) * t0).norm(), (out1 - out1.dot(t1) * t1).norm()});
            EXPECT_NEAR(own, m.radius_mm(), 0.05) << m.id;
        }
    }
    EXPECT_GT(seams, 40);
}

TEST(LineDrawing, IsTheSameMirroredForASymmetricCage) {
    CageGeometry cage;
    cage.members = {
        tubeAlong("hoop", {{{0, 600, 0}}, {{0, 500, 900}, 140}, {{0, -500, 900}, 140}, {{0, -600, 0}}}),
        tubeAlong("left", {{{0, 500, 800}}, {{-700, 400, 100}}}),
        tubeAlong("right", {{{0, -500, 800}}, {{-700, -400, 100}}})};
    const auto seen = [&](std::size_t view, int bar) {
        return lengthOn(lineViews()[view], lineDrawing(cage, lineViews()[view]), bar, false,
                        CageLine::Kind::outline);
    };
    EXPECT_NEAR(seen(0, 1), seen(4, 2), 0.5);
    EXPECT_NEAR(seen(1, 1), seen(1, 2), 0.5);
}

}  // namespace
}  // namespace hoopwright
