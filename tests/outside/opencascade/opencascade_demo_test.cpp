// The cuts of the demo cages against the surfaces OpenCASCADE makes of their hosts.
#include <gtest/gtest.h>

#include <GeomAPI_IntCS.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <cmath>
#include <gp_Vec.hxx>
#include <optional>

#include "core/shop/joint_cope.h"
#include "tests/outside/cage/demo_cage.h"
#include "tests/outside/opencascade/shapes.h"

namespace hoopwright {
namespace {

/// A surface of a host, and the piece it belongs to; none for a plate.
struct Wall {
    Handle(Geom_Surface) surface;
    const Piece* piece = nullptr;
};

Wall wallOf(const Piece& piece, double radius_mm) {
    if (piece.kind == Piece::Kind::straight) {
        return {new Geom_CylindricalSurface(gp_Ax3(point(piece.start), direction(piece.tangent)), radius_mm),
                &piece};
    }
    return {new Geom_ToroidalSurface(gp_Ax3(point(piece.centre), direction(piece.axis)), piece.radius_mm,
                                     radius_mm),
            &piece};
}

std::vector<Wall> wallsOf(const CageGeometry& cage, const ResolvedEnd& end) {
    std::vector<Wall> walls;
    if (end.on == ResolvedEnd::On::plate) {
        const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(end.plate)];
        walls.push_back({new Geom_Plane(point(plate.at), direction(plate.axes.col(2))), nullptr});
    }
    std::vector<int> hosts = end.also;
    if (end.on == ResolvedEnd::On::member) hosts.push_back(end.host);
    for (const int host : hosts) {
        const ResolvedMember& tube = cage.members[static_cast<std::size_t>(host)];
        for (const Piece& piece : tube.line.pieces()) walls.push_back(wallOf(piece, tube.radius_mm()));
    }
    return walls;
}

/// How far beyond the ends of its piece a point of a wall lies, along it; 0 within.
double beyondPiece(const Piece& piece, const Vec3& p) {
    const Vec3 q = p - piece.centre;
    double along = (p - piece.start).dot(piece.tangent);
    if (piece.kind == Piece::Kind::bend) {
        const Vec3 to_start = (piece.start - piece.centre).normalized();
        const double turn = std::atan2(q.dot(piece.axis.cross(to_start)), q.dot(to_start));
        along = turn * piece.radius_mm;
    }
    return std::max({0.0, -along, along - piece.length_mm});
}

/// Where a generator meets a wall, and the sine of the angle at which it does.
struct Met {
    double s_mm = 0, sine = 0;
};

/// The outermost place between `to` and `from` at which a generator meets a wall within its piece.
std::optional<Met> outermost(const Vec3& foot, const Vec3& inward, const std::vector<Wall>& walls,
                             double from, double to) {
    const Handle(Geom_Line) line = new Geom_Line(point(foot), direction(inward));
    std::optional<Met> first;
    for (const Wall& wall : walls) {
        const GeomAPI_IntCS meetings(line, wall.surface);
        for (int i = 1; i <= meetings.NbPoints(); ++i) {
            double u = 0, v = 0, s = 0;
            meetings.Parameters(i, u, v, s);
            if (s > from || s < to || (wall.piece && beyondPiece(*wall.piece, foot + s * inward) > 1e-9))
                continue;
            gp_Pnt at;
            gp_Vec along_u, along_v;
            wall.surface->D1(u, v, at, along_u, along_v);
            const double sine = std::abs(along_u.Crossed(along_v).Normalized() * gp_Vec(direction(inward)));
            if (!first || s > first->s_mm) first = Met{s, sine};
        }
    }
    return first;
}

using OpenCascadeDemo = OutsideDemo;
HOOPWRIGHT_EACH_DEMO(OpenCascadeDemo);

// OpenCASCADE 7.6, GeomAPI_IntCS: line with cylinder, torus and plane.
TEST_P(OpenCascadeDemo, EveryCutIsWhereTheKernelsSurfacesAreMet) {
    constexpr int kStations = 12;
    int compared = 0;
    for (std::size_t m = 0; m < cage.members.size(); ++m) {
        const ResolvedMember& member = cage.members[m];
        for (int e = 0; e < 2; ++e) {
            const ResolvedEnd& at = member.ends[static_cast<std::size_t>(e)];
            if (at.on == ResolvedEnd::On::nothing) continue;
            const auto profile = jointCope(cage, static_cast<int>(m), e, kStations);
            ASSERT_TRUE(profile) << profile.reason();
            const CopeEnd end = copeEnd(cage, static_cast<int>(m), e);
            const auto walls = wallsOf(cage, at);
            const auto pieces = member.line.pieces();
            const double from = (e == 0 ? pieces.front() : pieces.back()).length_mm / 2;
            for (std::size_t i = 0; i < kStations; ++i) {
                if (profile->outer.missed[i]) continue;
                const double phi = 2 * M_PI * static_cast<double>(i) / kStations;
                const Vec3 side = end.inward.cross(end.clock);
                const Vec3 foot =
                    end.foot + end.outer_radius_mm * (std::cos(phi) * end.clock + std::sin(phi) * side);
                const auto met = outermost(foot, end.inward, walls, from, -400);
                ASSERT_TRUE(met) << member.id << " end " << e << " at " << phi;
                // The kernel finds a tangent to the root of its tolerance.
                EXPECT_NEAR(profile->outer.s_mm[i], met->s_mm, met->sine < 1e-4 ? 1e-3 : 1e-7)
                    << member.id << " end " << e << " at " << phi;
                ++compared;
            }
        }
    }
    EXPECT_GE(compared, 500);
}

}  // namespace
}  // namespace hoopwright
