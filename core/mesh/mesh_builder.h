// A mesh as it is read: corners in one place become one vertex. Not for use outside core/mesh.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "core/mesh/mesh_bytes.h"
#include "core/mesh/read_mesh.h"

namespace hoopwright::reading {

class MeshBuilder {
public:
    explicit MeshBuilder(const MeshBytes& bytes) : bytes_(bytes) {}
    /// How much is coming at most; only a hint.
    void expect(std::size_t vertices, std::size_t triangles);
    std::uint32_t vertex(const Vec3& at);
    void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c);
    /// Cut into triangles from its first corner.
    void face(std::span<const std::uint32_t> corners);
    std::size_t triangles() const { return out_.mesh.triangles.size() + out_.dropped; }
    /// What was read, without vertices nobody uses. Trouble if there is no triangle.
    ReadMesh finish(MeshFormat format);

private:
    void grow();
    void dropUnused();

    const MeshBytes& bytes_;
    ReadMesh out_;
    std::vector<std::uint32_t> slots_;  ///< open hashing: index of a vertex, or kFree
};

}  // namespace hoopwright::reading
