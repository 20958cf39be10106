#include "core/skin/gap_to_skin.h"

#include <span>

#include "core/base/on_threads.h"
#include "core/mesh/gap_to_each.h"

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
    std::optional<GapToEach> each = gapToEach(member.line, member.radius_mm(), meshes, step_mm, part);
    if (!each) return std::nullopt;
    const auto nameOf = [&](int mesh, std::uint32_t triangle) {
        return skin.surfaces[static_cast<std::size_t>(surface_of[static_cast<std::size_t>(mesh)])].partAt(
            triangle);
    };
    GapToSkin out;
    out.gap = std::move(each->gap);
    out.surface = surface_of[static_cast<std::size_t>(out.gap.mesh)];
    out.part = nameOf(out.gap.mesh, out.gap.triangle);
    for (std::size_t i = 0; i < meshes.size(); ++i) {
        if (static_cast<int>(i) == out.gap.mesh) {
            out.surfaces.push_back({surface_of[i], out.part, out.gap.least_mm, out.gap.least_station_mm});
        } else if (const auto& near = each->of_mesh[i]) {
            out.surfaces.push_back({surface_of[i], nameOf(static_cast<int>(i), near->triangle),
                                    near->distance_mm - member.radius_mm(), near->station_mm});
        }
    }
    return out;
}

std::vector<std::optional<GapToSkin>> gapsToSkin(std::span<const ResolvedMember* const> members,
                                                 const CarSkin& skin, SurfaceKinds kinds, double step_mm) {
    std::vector<std::optional<GapToSkin>> out(members.size());
    constexpr std::size_t kBarsPerThread = 4;
    onThreads(members.size(), kBarsPerThread,
              [&](std::size_t i) { out[i] = gapToSkin(*members[i], skin, kinds, step_mm); });
    return out;
}

std::vector<std::optional<GapToSkin>> gapsToSkin(const CageGeometry& cage, const CarSkin& skin,
                                                 SurfaceKinds kinds, double step_mm) {
    std::vector<const ResolvedMember*> members;
    for (const ResolvedMember& member : cage.members) members.push_back(&member);
    return gapsToSkin(members, skin, kinds, step_mm);
}

}  // namespace hoopwright
