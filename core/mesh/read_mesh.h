// Scans as they come: STL (text and binary), OBJ, PLY (text and binary, either byte order).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/problem.h"
#include "core/mesh/triangle_mesh.h"

namespace hoopwright {

enum class MeshFormat { stl_text, stl_binary, obj, ply_text, ply_little_endian, ply_big_endian };
/// "STL, binary"
std::string_view formatWords(MeshFormat format);

/// A mesh of a file in the file's own numbers and axes. Corners in the very same place are one vertex,
/// vertices no triangle uses are left out.
struct ReadMesh {
    TriangleMesh mesh;
    MeshFormat format = MeshFormat::stl_binary;
    std::size_t fanned = 0;   ///< faces of more than three corners, cut into triangles from their first one
    std::size_t dropped = 0;  ///< triangles with two corners in one place, left out
    EdgeCount edges;
};

/// A mesh, or the one problem that was met first (line and column in a text, the byte in the sentence of a
/// binary file), or neither: stopped.
struct MeshResult {
    std::optional<ReadMesh> value;
    std::optional<Problem> problem;
    bool stopped = false;
};

/// What is read at most; a bigger scan is a problem that says so.
inline constexpr std::size_t kMostTriangles = 4'000'000;
inline constexpr std::size_t kMostVertices = 3 * kMostTriangles;
/// No coordinate may be farther out.
inline constexpr double kFarthestCoordinate = 1e9;

/// The kind is told by the name's end: .stl, .obj or .ply, large or small letters. Never throws. A damaged or
/// hostile file ends in a sentence, and takes no more memory than a multiple of its own size.
MeshResult readMesh(const std::filesystem::path& file, const Progress& progress = {});

enum class MeshKind { stl, obj, ply };
/// The same from bytes in memory; `name` stands in the problem.
MeshResult readMeshBytes(std::string_view bytes, MeshKind kind, const std::string& name);

}  // namespace hoopwright
