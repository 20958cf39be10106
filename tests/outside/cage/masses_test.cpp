// Masses and lengths of the demo cages: steel per metre by the round formula, plates by their outline, cuts
// by marched rays.
#include <algorithm>
#include <cmath>

#include "core/shop/order.h"
#include "tests/outside/cage/demo_cage.h"
#include "tests/outside/cage/march.h"

namespace hoopwright {
namespace {

/// EN 10220, mass per length (from memory): kg/m = 0.0246615 t (D - t), in mm, for steel of 7.85 kg/dm3.
double kgPerMetre(const TubeSection& section) {
    return 0.0246615 * section.wall_mm * (section.od_mm - section.wall_mm);
}

const ResolvedMember& memberOf(const CageGeometry& cage, const OrderPiece& piece) {
    return cage.members[static_cast<std::size_t>(piece.member)];
}

/// What an end's cut takes off the tube, averaged over its metal: rings marched all round.
double meanCut(const CageGeometry& cage, int member, int end) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    const ResolvedEnd& at = tube.ends[static_cast<std::size_t>(end)];
    if (at.on == ResolvedEnd::On::nothing) return 0;
    const CopeEnd cut = copeEnd(cage, member, end);
    const auto hosts = obstaclesOf(cage, at);
    const auto pieces = tube.line.pieces();
    const double from = (end == 0 ? pieces.front() : pieces.back()).length_mm / 2;
    const int rings = 6, turns = 120;
    double sum = 0, weight = 0;
    for (int r = 0; r < rings; ++r) {
        const double radius =
            cut.bore_radius_mm + (cut.outer_radius_mm - cut.bore_radius_mm) * (r + 0.5) / rings;
        for (int k = 0; k < turns; ++k) {
            const auto s = march(generatorOf(cut, radius, 2 * M_PI * k / turns), hosts, from, -400);
            if (!s) return NAN;
            sum += *s * radius;
            weight += radius;
        }
    }
    return sum / weight;
}

using OutsideDemoMasses = OutsideDemo;
HOOPWRIGHT_EACH_DEMO(OutsideDemoMasses);

TEST_P(OutsideDemoMasses, ABarWeighsItsLengthOfTubeLessWhatItsCopesTakeOff) {
    double length = 0, mass = 0;
    int weighed = 0;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& member = cage.members[m];
        double walked = 0;
        const int chords = 4000;
        for (int i = 0; i < chords; ++i) {
            walked += (member.line.point(member.line.length_mm() * (i + 1) / chords) -
                       member.line.point(member.line.length_mm() * i / chords))
                          .norm();
        }
        EXPECT_NEAR(member.line.length_mm(), walked, 1e-3) << member.id;
        const double off = meanCut(cage, static_cast<int>(m), 0) + meanCut(cage, static_cast<int>(m), 1);
        if (std::isfinite(off)) {
            EXPECT_NEAR(member.mass_kg, kgPerMetre(member.section) * (walked - off) / 1000,
                        4e-4 * member.mass_kg)
                << member.id;
            ++weighed;
        }
        length += walked;
        mass += member.mass_kg;
    }
    EXPECT_GE(weighed, 20);
    EXPECT_NEAR(cage.totals.tube_length_mm, length, 0.01);
    EXPECT_NEAR(cage.totals.tube_mass_kg, mass, 1e-9);
}

TEST_P(OutsideDemoMasses, APlateWeighsItsOutline) {
    double mass = 0;
    for (const ResolvedPlate& plate : cage.plates) {
        double twice = 0;
        for (std::size_t i = 0; i < plate.outline.size(); ++i) {
            const Vec2 &a = plate.outline[i], &b = plate.outline[(i + 1) % plate.outline.size()];
            twice += a.x() * b.y() - b.x() * a.y();
        }
        EXPECT_NEAR(plate.area_mm2, twice / 2, 1e-6) << plate.id;
        const Plate& laid = demo.job.cage.plates[static_cast<std::size_t>(plate.layout)];
        double backing = 0;
        if (laid.backing)
            backing = laid.backing->length_mm * laid.backing->width_mm * laid.backing->thickness_mm;
        // A flap starts where the outer faces meet; the sharp corner is the plate's.
        double flaps = 0;
        for (const Flap& flap : laid.flaps) {
            const bool across = flap.edge == PlateEdge::ahead || flap.edge == PlateEdge::behind;
            flaps += (across ? laid.width_mm : laid.length_mm) * plate.thickness_mm *
                     (flap.length_mm - plate.thickness_mm * std::tan(std::abs(flap.angle_rad) / 2));
        }
        EXPECT_NEAR(plate.mass_kg, (twice / 2 * plate.thickness_mm + flaps + backing) * 7.85e-6, 1e-9)
            << plate.id;
        mass += plate.mass_kg;
    }
    for (const ResolvedGusset& gusset : cage.gussets) {
        mass += gusset.mass_kg;
        // A folded one is weighed as the solid another library reads, in tests/outside/step.
        if (demo.job.cage.gussets[static_cast<std::size_t>(gusset.layout)].formed) continue;
        const Vec3 a = gusset.corners[1] - gusset.corners[0], b = gusset.corners[2] - gusset.corners[0];
        // The sheet ends at the tubes' outsides, so it is less than the triangle of the centrelines.
        EXPECT_GT(gusset.area_mm2, 0) << gusset.id;
        EXPECT_LT(gusset.area_mm2, a.cross(b).norm() / 2) << gusset.id;
        EXPECT_NEAR(gusset.mass_kg, gusset.area_mm2 * gusset.thickness_mm * 7.85e-6, 1e-9) << gusset.id;
    }
    EXPECT_NEAR(cage.totals.plate_mass_kg, mass, 1e-9);
}

TEST_P(OutsideDemoMasses, AFinishedPieceWeighsWhatTheCutsLeave) {
    const Order bought = order(demo.job, cage);
    int pieces = 0;
    for (const OrderTube& tube : bought.tubes) {
        double mass = 0;
        for (const OrderPiece& piece : tube.pieces) {
            const ResolvedMember& member = memberOf(cage, piece);
            const double off = meanCut(cage, piece.member, 0) + meanCut(cage, piece.member, 1);
            if (piece.spare == 0) mass += piece.mass_kg;
            if (!std::isfinite(off)) continue;
            const double length = member.line.length_mm() - off;
            EXPECT_NEAR(piece.mass_kg, kgPerMetre(member.section) * length / 1000, 4e-4 * piece.mass_kg)
                << member.id;
            EXPECT_NEAR(piece.cut.mean_mm, length, 0.3) << member.id;
            ++pieces;
        }
        EXPECT_NEAR(tube.mass_kg, mass, 1e-9);
    }
    EXPECT_GE(pieces, 20);
}

/// The farthest a cut's edge reaches past the foot of its end, and the least: on outside and bore.
std::pair<double, double> reachOf(const CageGeometry& cage, int member, int end) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    const CopeEnd cut = copeEnd(cage, member, end);
    const auto hosts = obstaclesOf(cage, tube.ends[static_cast<std::size_t>(end)]);
    const auto pieces = tube.line.pieces();
    const double from = (end == 0 ? pieces.front() : pieces.back()).length_mm / 2;
    double least = 1e9, greatest = -1e9;
    for (const double radius : {cut.outer_radius_mm, cut.bore_radius_mm}) {
        for (int k = 0; k < 720; ++k) {
            const auto s = march(generatorOf(cut, radius, 2 * M_PI * k / 720), hosts, from, -400);
            if (!s) return {NAN, NAN};
            least = std::min(least, *s);
            greatest = std::max(greatest, *s);
        }
    }
    return {least, greatest};
}

TEST_P(OutsideDemoMasses, TheSawLengthIsFromLongPointToLongPoint) {
    int checked = 0;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& member = cage.members[m];
        const auto [long_a, short_a] = reachOf(cage, static_cast<int>(m), 0);
        const auto [long_b, short_b] = reachOf(cage, static_cast<int>(m), 1);
        if (!std::isfinite(long_a + long_b)) continue;
        const CutLength cut = cutLength(cage, static_cast<int>(m));
        // The points tried may lie beside the longest: the piece is then a little longer than they say.
        const double length = member.line.length_mm() - long_a - long_b;
        EXPECT_NEAR(cut.long_to_long_mm, length, 0.2) << member.id;
        EXPECT_NEAR(cut.short_to_short_mm, member.line.length_mm() - short_a - short_b, 0.2) << member.id;
        EXPECT_GE(cut.blank_mm, length - 1e-5) << member.id;
        ++checked;
    }
    EXPECT_GE(checked, 20);
}

}  // namespace
}  // namespace hoopwright
