#include "core/mesh/triangle_mesh.h"

#include <algorithm>

namespace hoopwright {

Box TriangleMesh::bounds() const {
    Box box;
    for (const Vec3& vertex : vertices) box.extend(vertex);
    return box;
}

EdgeCount countEdges(const TriangleMesh& mesh) {
    // Each edge is filed under its lower corner, so that only a handful have to be compared.
    const auto eachEdge = [&](auto visit) {
        for (const Corners& t : mesh.triangles)
            for (std::size_t i = 0; i < 3; ++i) {
                const auto [low, high] = std::minmax(t[i], t[(i + 1) % 3]);
                visit(low, high);
            }
    };
    std::vector<std::uint32_t> first(mesh.vertices.size() + 1);
    eachEdge([&](std::uint32_t low, std::uint32_t) { ++first[low + 1]; });
    for (std::size_t i = 1; i < first.size(); ++i) first[i] += first[i - 1];
    std::vector<std::uint32_t> other(mesh.triangles.size() * 3), next(first.begin(), first.end() - 1);
    eachEdge([&](std::uint32_t low, std::uint32_t high) { other[next[low]++] = high; });
    EdgeCount count;
    for (std::size_t v = 0; v + 1 < first.size(); ++v) {
        const auto begin = other.begin() + first[v], end = other.begin() + first[v + 1];
        std::sort(begin, end);
        for (auto run = begin; run != end;) {
            const auto after = std::find_if(run, end, [&](std::uint32_t corner) { return corner != *run; });
            if (after - run == 1) ++count.open;
            if (after - run > 2) ++count.shared_by_more;
            run = after;
        }
    }
    return count;
}

}  // namespace hoopwright
