#include "core/solid/solid.h"

#include <algorithm>

namespace hoopwright {

EdgeLoop reversed(const EdgeLoop& loop) {
    EdgeLoop out;
    for (auto use = loop.rbegin(); use != loop.rend(); ++use) out.push_back(use->reversed());
    return out;
}

int SolidBody::corner(const Vec3& at) {
    corners.push_back(at);
    return static_cast<int>(corners.size()) - 1;
}

int SolidBody::edge(int from, int to, EdgeCurve curve) {
    edges.push_back({from, to, std::move(curve)});
    return static_cast<int>(edges.size()) - 1;
}

bool closed(const SolidBody& solid) {
    std::vector<int> forward(solid.edges.size()), backward(solid.edges.size());
    for (const SolidFace& face : solid.faces) {
        for (const EdgeLoop& loop : face.loops) {
            for (std::size_t i = 0; i < loop.size(); ++i) {
                const EdgeUse use = loop[i], next = loop[(i + 1) % loop.size()];
                const SolidEdge& edge = solid.edges[static_cast<std::size_t>(use.edge)];
                const SolidEdge& after = solid.edges[static_cast<std::size_t>(next.edge)];
                if ((use.forward ? edge.to : edge.from) != (next.forward ? after.from : after.to))
                    return false;
                ++(use.forward ? forward : backward)[static_cast<std::size_t>(use.edge)];
            }
        }
    }
    const auto once = [](int count) { return count == 1; };
    return !solid.faces.empty() && std::ranges::all_of(forward, once) && std::ranges::all_of(backward, once);
}

EdgeUse FlatSided::straight(int from, int to) {
    for (std::size_t i = 0; i < solid_.edges.size(); ++i) {
        const SolidEdge& edge = solid_.edges[i];
        if (!std::holds_alternative<StraightEdge>(edge.curve)) continue;
        if (edge.from == from && edge.to == to) return {static_cast<int>(i), true};
        if (edge.from == to && edge.to == from) return {static_cast<int>(i), false};
    }
    return {solid_.edge(from, to, StraightEdge{}), true};
}

void FlatSided::face(const std::vector<std::vector<int>>& loops) {
    SolidFace face;
    const auto at = [&](int corner) { return solid_.corners[static_cast<std::size_t>(corner)]; };
    Vec3 normal = Vec3::Zero();  // Newell's
    const std::vector<int>& outer = loops.front();
    for (std::size_t i = 0; i < outer.size(); ++i)
        normal += (at(outer[i]) - at(outer[0])).cross(at(outer[(i + 1) % outer.size()]) - at(outer[0]));
    face.surface = PlaneSurface{at(outer[0]), normal.normalized()};
    for (const std::vector<int>& loop : loops) {
        EdgeLoop uses;
        for (std::size_t i = 0; i < loop.size(); ++i)
            uses.push_back(straight(loop[i], loop[(i + 1) % loop.size()]));
        face.loops.push_back(std::move(uses));
    }
    solid_.faces.push_back(std::move(face));
}

}  // namespace hoopwright
