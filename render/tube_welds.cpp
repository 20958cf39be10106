#include "render/tube_welds.h"

#include <algorithm>

#include "render/tube_ends.h"
#include "render/weld_bead.h"

namespace hoopwright {
namespace {

constexpr int kBeadStations = 48;

}  // namespace

double weldLeg_mm(const ResolvedMember& member) {
    return std::clamp(1.0 + 1.15 * member.section.wall_mm, 3.0, 6.0);
}

Mesh weldsOf(const CageGeometry& cage, int member, const TubeSweep& sweep) {
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(member)];
    Mesh mesh;
    for (int end = 0; end < 2; ++end)
        mesh.append(weldBead(sweep, tube.radius_mm(), endCut(cage, member, end, kBeadStations), end,
                             surfacesAt(cage, member, end), weldLeg_mm(tube)));
    return mesh;
}

}  // namespace hoopwright
