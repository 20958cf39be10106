// What tests measure on meshes, by means of their own: none of the program's geometry is asked.
#pragma once

#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <osg/Geometry>
#include <vector>

#include "core/geometry/centreline.h"
#include "render/mesh.h"

namespace hoopwright::testing_render {

inline Vec3 cornerOf(const Mesh& mesh, std::size_t index) {
    return mesh.corners[mesh.triangles[index]].at.cast<double>();
}

/// Enclosed volume, positive where triangles face out. Divergence theorem: a sixth of each triangle's triple
/// product.
inline double volume(const Mesh& mesh) {
    double six = 0;
    for (std::size_t i = 0; i + 2 < mesh.triangles.size(); i += 3)
        six += cornerOf(mesh, i).dot(cornerOf(mesh, i + 1).cross(cornerOf(mesh, i + 2)));
    return six / 6;
}

inline double surfaceArea(const Mesh& mesh) {
    double twice = 0;
    for (std::size_t i = 0; i + 2 < mesh.triangles.size(); i += 3)
        twice += (cornerOf(mesh, i + 1) - cornerOf(mesh, i))
                     .cross(cornerOf(mesh, i + 2) - cornerOf(mesh, i))
                     .norm();
    return twice / 2;
}

/// Corners within `apart_mm` of each other taken as one: the number of each corner's place.
inline std::vector<int> placesOf(const Mesh& mesh, double apart_mm) {
    using Cell = std::array<long, 3>;
    std::map<Cell, std::vector<std::pair<Vec3f, int>>> cells;
    std::vector<int> places;
    int count = 0;
    for (const MeshCorner& corner : mesh.corners) {
        Cell cell;
        for (int i = 0; i < 3; ++i)
            cell[static_cast<std::size_t>(i)] =
                static_cast<long>(std::floor(static_cast<double>(corner.at[i]) / (4 * apart_mm)));
        int found = -1;
        for (long dx = -1; dx <= 1 && found < 0; ++dx)
            for (long dy = -1; dy <= 1 && found < 0; ++dy)
                for (long dz = -1; dz <= 1 && found < 0; ++dz) {
                    const auto near = cells.find({cell[0] + dx, cell[1] + dy, cell[2] + dz});
                    if (near == cells.end()) continue;
                    for (const auto& [at, place] : near->second)
                        if ((at - corner.at).norm() <= static_cast<float>(apart_mm)) found = place;
                }
        if (found < 0) cells[cell].push_back({corner.at, found = count++});
        places.push_back(found);
    }
    return places;
}

/// Edges that do not meet an edge of another triangle running the other way: none on a watertight skin.
inline int openEdges(const Mesh& mesh, double apart_mm = 0.004) {
    const std::vector<int> place = placesOf(mesh, apart_mm);
    std::map<std::pair<int, int>, int> edges;
    for (std::size_t i = 0; i + 2 < mesh.triangles.size(); i += 3)
        for (std::size_t k = 0; k < 3; ++k) {
            const int a = place[mesh.triangles[i + k]], b = place[mesh.triangles[i + (k + 1) % 3]];
            if (a < b) ++edges[{a, b}];
            if (a > b) --edges[{b, a}];
        }
    int open = 0;
    for (const auto& [edge, sum] : edges) open += sum != 0;
    return open;
}

/// Triangles whose winding goes against the normals of their corners, slivers left out.
inline int turnedTriangles(const Mesh& mesh) {
    int turned = 0;
    for (std::size_t i = 0; i + 2 < mesh.triangles.size(); i += 3) {
        const auto &a = mesh.corners[mesh.triangles[i]], &b = mesh.corners[mesh.triangles[i + 1]],
                   &c = mesh.corners[mesh.triangles[i + 2]];
        const Vec3f n = (b.at - a.at).cross(c.at - a.at);
        if (n.norm() > 1e-2f && n.dot(a.normal + b.normal + c.normal) <= 0) ++turned;
    }
    return turned;
}

/// An n-sided polygon in a circle has this share of its area.
inline double polygonShare(int sides) {
    return sides / (2 * std::numbers::pi) * std::sin(2 * std::numbers::pi / sides);
}
/// How far the middle of a side of that polygon lies inside the circle.
inline double sagitta_mm(double radius_mm, int sides) {
    return radius_mm * (1 - std::cos(std::numbers::pi / sides));
}

/// Nearest point of a centreline carried straight on beyond both ends, by plane geometry.
inline Vec3 onEndlessLine(const Centreline& line, const Vec3& p) {
    const auto pieces = line.pieces();
    Vec3 nearest = Vec3::Constant(1e9);
    const auto offer = [&](const Vec3& q) {
        if ((q - p).norm() < (nearest - p).norm()) nearest = q;
    };
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Piece& piece = pieces[i];
        const bool first = i == 0, last = i + 1 == pieces.size();
        if (piece.kind == Piece::Kind::straight) {
            double along = (p - piece.start).dot(piece.tangent);
            if (!first) along = std::max(0.0, along);
            if (!last) along = std::min(piece.length_mm, along);
            offer(piece.start + along * piece.tangent);
            continue;
        }
        const Vec3 u = (piece.start - piece.centre).normalized(), v = piece.axis.cross(u),
                   arm = p - piece.centre;
        double angle = std::atan2(arm.dot(v), arm.dot(u));
        if (angle < 0) angle += 2 * std::numbers::pi;
        if (angle <= piece.angle_rad)
            offer(piece.centre + piece.radius_mm * (std::cos(angle) * u + std::sin(angle) * v));
        if (first) offer(piece.start + std::min(0.0, (p - piece.start).dot(piece.tangent)) * piece.tangent);
        const Vec3 end =
            piece.centre + piece.radius_mm * (std::cos(piece.angle_rad) * u + std::sin(piece.angle_rad) * v);
        const Vec3 on = std::cos(piece.angle_rad) * v - std::sin(piece.angle_rad) * u;
        if (last) offer(end + std::max(0.0, (p - end).dot(on)) * on);
    }
    return nearest;
}
inline double fromEndlessLine_mm(const Centreline& line, const Vec3& p) {
    return (p - onEndlessLine(line, p)).norm();
}

/// Is a point of the endless line on the straight before its first end or past its last?
inline bool beyondTheEnds(const Centreline& line, const Vec3& q) {
    const Piece &first = line.pieces().front(), &last = line.pieces().back();
    const double before = (first.start - q).dot(first.tangent),
                 past = (q - last.end()).dot(last.endTangent());
    constexpr double kOn_mm = 1e-6;
    return (before > kOn_mm && (first.start - before * first.tangent - q).norm() < kOn_mm) ||
           (past > kOn_mm && (last.end() + past * last.endTangent() - q).norm() < kOn_mm);
}

/// A mesh read back from what is sent to the graphics card.
inline Mesh meshOf(const osg::Geometry& geometry) {
    Mesh mesh;
    const auto& at = static_cast<const osg::Vec3Array&>(*geometry.getVertexArray());
    const auto& normal = static_cast<const osg::Vec3Array&>(*geometry.getNormalArray());
    const auto& extra = static_cast<const osg::Vec4Array&>(*geometry.getTexCoordArray(0));
    for (std::size_t i = 0; i < at.size(); ++i) {
        MeshCorner corner;
        corner.at = {at[i].x(), at[i].y(), at[i].z()};
        corner.normal = {normal[i].x(), normal[i].y(), normal[i].z()};
        corner.light = extra[i].x();
        corner.weld_mm = extra[i].y();
        corner.around = extra[i].z();
        mesh.corners.push_back(corner);
    }
    for (unsigned s = 0; s < geometry.getNumPrimitiveSets(); ++s)
        for (unsigned i = 0; i < geometry.getPrimitiveSet(s)->getNumIndices(); ++i)
            mesh.triangles.push_back(geometry.getPrimitiveSet(s)->index(i));
    return mesh;
}

}  // namespace hoopwright::testing_render
