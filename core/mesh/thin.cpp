#include "core/mesh/thin.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace hoopwright {
namespace {

constexpr double kFinest = 1 << 20;  // cells along a side: three numbers fit one key

ThinnedMesh clustered(const TriangleMesh& mesh, const Box& box, double cell) {
    const Vec3 corner = box.min();
    std::unordered_map<std::uint64_t, std::uint32_t> cell_of_key;
    std::vector<std::uint32_t> cluster(mesh.vertices.size());
    std::vector<double> members;
    ThinnedMesh out;
    for (std::size_t i = 0; i < mesh.vertices.size(); ++i) {
        std::uint64_t key = 0;
        for (int axis = 0; axis < 3; ++axis)
            key = key << 21 | static_cast<std::uint64_t>((mesh.vertices[i][axis] - corner[axis]) / cell);
        const auto [known, is_new] = cell_of_key.emplace(key, static_cast<std::uint32_t>(members.size()));
        if (is_new) {
            members.push_back(0);
            out.mesh.vertices.push_back(Vec3::Zero());
        }
        cluster[i] = known->second;
        members[known->second] += 1;
        out.mesh.vertices[known->second] += mesh.vertices[i];
    }
    for (std::size_t i = 0; i < members.size(); ++i) out.mesh.vertices[i] /= members[i];
    for (std::size_t i = 0; i < cluster.size(); ++i)
        out.error = std::max(out.error, (out.mesh.vertices[cluster[i]] - mesh.vertices[i]).norm());
    std::vector<std::pair<Corners, Corners>>
        kept;  // sorted corners, to find the same triangle again; as they run
    for (const Corners& t : mesh.triangles) {
        const Corners now = {cluster[t[0]], cluster[t[1]], cluster[t[2]]};
        Corners sorted = now;
        std::sort(sorted.begin(), sorted.end());
        if (sorted[0] != sorted[1] && sorted[1] != sorted[2]) kept.emplace_back(sorted, now);
    }
    std::sort(kept.begin(), kept.end());
    for (std::size_t i = 0; i < kept.size(); ++i)
        if (i == 0 || kept[i].first != kept[i - 1].first) out.mesh.triangles.push_back(kept[i].second);
    return out;
}

}  // namespace

ThinnedMesh thinned(const TriangleMesh& mesh, std::size_t most) {
    if (mesh.triangles.size() <= most) return {mesh, 0};
    const Box box = mesh.bounds();
    const double side = box.sizes().maxCoeff();
    // A cell of a skin holds about two triangles of the thinned mesh.
    double cell = std::max(side / std::sqrt(static_cast<double>(most)), side / kFinest);
    for (;;) {
        ThinnedMesh out = clustered(mesh, box, cell);
        if (out.mesh.triangles.size() <= most) return out;
        cell *= std::clamp(
            std::sqrt(static_cast<double>(out.mesh.triangles.size()) / static_cast<double>(most)), 1.1, 2.0);
    }
}

}  // namespace hoopwright
