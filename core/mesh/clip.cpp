#include "core/mesh/clip.h"

#include <map>

namespace hoopwright {
namespace {

double over(const HalfSpace& side, const Vec3& x) {
    return side.n.dot(x - side.p);
}

}  // namespace

std::span<const Vec3> keptPart(const Triangle& t, std::span<const HalfSpace> keep, std::vector<Vec3>& room) {
    std::vector<Vec3> now = {t.a, t.b, t.c};
    for (const HalfSpace& side : keep) {
        room.clear();
        for (std::size_t i = 0; i < now.size(); ++i) {
            const Vec3 &from = now[i], &to = now[(i + 1) % now.size()];
            const double h0 = over(side, from), h1 = over(side, to);
            if (h0 >= 0) room.push_back(from);
            if ((h0 < 0) != (h1 < 0)) room.push_back(from + h0 / (h0 - h1) * (to - from));
        }
        now = room;
    }
    room = std::move(now);
    return room;
}

TriangleMesh clipped(const TriangleMesh& mesh, std::span<const HalfSpace> keep) {
    constexpr std::uint32_t kNew = 0xffffffff;
    TriangleMesh out;
    std::vector<char> kept(mesh.vertices.size(), true);
    for (std::size_t i = 0; i < mesh.vertices.size(); ++i)
        for (const HalfSpace& side : keep) kept[i] = kept[i] && over(side, mesh.vertices[i]) >= 0;
    std::vector<std::uint32_t> index(mesh.vertices.size(), kNew);
    std::vector<Vec3> room;
    for (const Corners& t : mesh.triangles) {
        if (kept[t[0]] && kept[t[1]] && kept[t[2]]) {
            Corners same;
            for (std::size_t i = 0; i < 3; ++i) {
                std::uint32_t& at = index[t[i]];
                if (at == kNew) {
                    at = static_cast<std::uint32_t>(out.vertices.size());
                    out.vertices.push_back(mesh.vertices[t[i]]);
                }
                same[i] = at;
            }
            out.triangles.push_back(same);
            continue;
        }
        const auto part =
            keptPart({mesh.vertices[t[0]], mesh.vertices[t[1]], mesh.vertices[t[2]]}, keep, room);
        if (part.size() < 3) continue;
        const auto first = static_cast<std::uint32_t>(out.vertices.size());
        out.vertices.insert(out.vertices.end(), part.begin(), part.end());
        for (std::uint32_t i = 2; i < part.size(); ++i)
            out.triangles.push_back({first, first + i - 1, first + i});
    }
    return out;
}

}  // namespace hoopwright
