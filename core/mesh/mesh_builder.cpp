#include "core/mesh/mesh_builder.h"

#include <bit>

namespace hoopwright::reading {
namespace {

constexpr std::uint32_t kFree = 0xffffffff;

std::uint64_t stirred(std::uint64_t x) {
    x ^= x >> 32;
    x *= 0xd6e8feb86659fd93u;
    x ^= x >> 32;
    x *= 0xd6e8feb86659fd93u;
    return x ^ (x >> 32);
}

std::uint64_t hashOf(const Vec3& at) {
    std::uint64_t hash = 0;
    for (const double part : at) hash = stirred(hash + std::bit_cast<std::uint64_t>(part));
    return hash;
}

}  // namespace

void MeshBuilder::expect(std::size_t vertices, std::size_t triangles) {
    out_.mesh.vertices.reserve(vertices);
    out_.mesh.triangles.reserve(triangles);
    while (slots_.size() < 2 * vertices) grow();
}

void MeshBuilder::grow() {
    slots_.assign(std::max<std::size_t>(64, slots_.size() * 2), kFree);
    const std::size_t mask = slots_.size() - 1;
    for (std::size_t i = 0; i < out_.mesh.vertices.size(); ++i) {
        std::size_t slot = hashOf(out_.mesh.vertices[i]) & mask;
        while (slots_[slot] != kFree) slot = (slot + 1) & mask;
        slots_[slot] = static_cast<std::uint32_t>(i);
    }
}

std::uint32_t MeshBuilder::vertex(const Vec3& given) {
    std::vector<Vec3>& vertices = out_.mesh.vertices;
    if (slots_.size() < 2 * (vertices.size() + 1)) grow();
    const Vec3 at = given + Vec3::Zero();  // minus zero becomes zero
    const std::size_t mask = slots_.size() - 1;
    std::size_t slot = hashOf(at) & mask;
    for (; slots_[slot] != kFree; slot = (slot + 1) & mask)
        if (vertices[slots_[slot]] == at) return slots_[slot];
    slots_[slot] = static_cast<std::uint32_t>(vertices.size());
    vertices.push_back(at);
    return slots_[slot];
}

void MeshBuilder::triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    if (triangles() >= kMostTriangles)
        throw Trouble{{{bytes_.name(), 0, 0},
                       "the scan has more than " + std::to_string(kMostTriangles) + " triangles",
                       "thin it where it was made, then export it again"}};
    if (a == b || b == c || c == a) {
        ++out_.dropped;
    } else {
        out_.mesh.triangles.push_back({a, b, c});
    }
}

void MeshBuilder::face(std::span<const std::uint32_t> corners) {
    if (corners.size() > 3) ++out_.fanned;
    for (std::size_t i = 2; i < corners.size(); ++i) triangle(corners[0], corners[i - 1], corners[i]);
}

void MeshBuilder::dropUnused() {
    TriangleMesh& mesh = out_.mesh;
    std::vector<std::uint32_t> now(mesh.vertices.size(), kFree);
    for (const Corners& triangle : mesh.triangles)
        for (const std::uint32_t corner : triangle) now[corner] = 0;
    std::uint32_t kept = 0;
    for (std::size_t i = 0; i < now.size(); ++i) {
        if (now[i] == kFree) continue;
        mesh.vertices[kept] = mesh.vertices[i];
        now[i] = kept++;
    }
    if (kept == now.size()) return;
    mesh.vertices.resize(kept);
    for (Corners& triangle : mesh.triangles)
        for (std::uint32_t& corner : triangle) corner = now[corner];
}

ReadMesh MeshBuilder::finish(MeshFormat format) {
    if (out_.mesh.triangles.empty()) {
        const bool all_dropped = out_.dropped > 0;
        const bool points = !all_dropped && !out_.mesh.vertices.empty();
        throw Trouble{{{bytes_.name(), 0, 0},
                       all_dropped ? "every triangle of the scan has two corners in one place"
                       : points    ? "the scan has points but no triangles"
                                   : "the scan has no triangles",
                       points ? "make a surface of the points where it was scanned, then export that"
                              : "export it again"}};
    }
    slots_ = {};
    dropUnused();
    out_.format = format;
    out_.edges = countEdges(out_.mesh);
    return std::move(out_);
}

}  // namespace hoopwright::reading
