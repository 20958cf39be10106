#include "core/skin/gap_to_skin.h"

#include <algorithm>
#include <atomic>
#include <future>
#include <span>
#include <thread>

namespace hoopwright {
namespace {

/// Without its feet, unless nothing would be left.
Stretch clearOfFeet(const ResolvedMember& member) {
    const auto leftOut = [&](const ResolvedEnd& end) {
        return end.on == ResolvedEnd::On::plate ? kFootLeftOut_od * member.section.od_mm : 0;
    };
    const Stretch part{leftOut(member.ends[0]), member.line.length_mm() - leftOut(member.ends[1])};
    return part.from_mm < part.to_mm ? part : kWholeLine;
}

}  // namespace

std::optional<GapToSkin> gapToSkin(const ResolvedMember& member, const CarSkin& skin, SurfaceKinds kinds,
                                   double step_mm) {
    if (member.line.empty()) return std::nullopt;
    std::vector<PlacedMesh> meshes;
    std::vector<int> surface_of;
    for (std::size_t i = 0; i < skin.surfaces.size(); ++i) {
        if (!(kinds & bitOf(skin.surfaces[i].kind))) continue;
        meshes.push_back(skin.surfaces[i].mesh);
        surface_of.push_back(static_cast<int>(i));
    }
    const Stretch part = clearOfFeet(member);
    std::optional<TubeGap> gap = gapAlong(member.line, member.radius_mm(), meshes, step_mm, part);
    if (!gap) return std::nullopt;
    const auto nameOf = [&](int mesh, std::uint32_t triangle) {
        return skin.surfaces[static_cast<std::size_t>(surface_of[static_cast<std::size_t>(mesh)])].partAt(
            triangle);
    };
    GapToSkin out;
    out.surface = surface_of[static_cast<std::size_t>(gap->mesh)];
    out.part = nameOf(gap->mesh, gap->triangle);
    for (std::size_t i = 0; i < meshes.size(); ++i) {
        if (static_cast<int>(i) == gap->mesh) {
            out.surfaces.push_back({surface_of[i], out.part, gap->least_mm, gap->least_station_mm});
            continue;
        }
        const auto near =
            nearest(member.line, std::span<const PlacedMesh>(&meshes[i], 1), MeshTree::kAnyDistance, part);
        if (!near) continue;
        out.surfaces.push_back({surface_of[i], nameOf(static_cast<int>(i), near->triangle),
                                near->distance_mm - member.radius_mm(), near->station_mm});
    }
    out.gap = *std::move(gap);
    return out;
}

std::vector<std::optional<GapToSkin>> gapsToSkin(std::span<const ResolvedMember* const> members,
                                                 const CarSkin& skin, SurfaceKinds kinds, double step_mm) {
    std::vector<std::optional<GapToSkin>> out(members.size());
    std::atomic<std::size_t> next = 0;
    const auto work = [&] {
        for (std::size_t i = next++; i < members.size(); i = next++)
            out[i] = gapToSkin(*members[i], skin, kinds, step_mm);
    };
    constexpr std::size_t kBarsPerThread = 4;  // fewer are done before a thread has started
    const std::size_t threads =
        std::min<std::size_t>(std::thread::hardware_concurrency(), members.size() / kBarsPerThread);
    std::vector<std::future<void>> others;
    for (std::size_t i = 1; i < threads; ++i) others.push_back(std::async(std::launch::async, work));
    work();
    for (std::future<void>& other : others) other.get();
    return out;
}

std::vector<std::optional<GapToSkin>> gapsToSkin(const CageGeometry& cage, const CarSkin& skin,
                                                 SurfaceKinds kinds, double step_mm) {
    std::vector<const ResolvedMember*> members;
    for (const ResolvedMember& member : cage.members) members.push_back(&member);
    return gapsToSkin(members, skin, kinds, step_mm);
}

}  // namespace hoopwright
