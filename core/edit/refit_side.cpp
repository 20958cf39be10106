#include "core/edit/refit_side.h"

#include <algorithm>

#include "core/edit/pair_edits.h"
#include "core/mesh/tube_gap.h"
#include "core/model/resolve.h"

namespace hoopwright {

Expected<SideRefit> refitRightSide(Job& job, const CageGeometry& now, const FitCar& car,
                                   std::string_view id) {
    const Member* member = job.cage.member(std::string(id));
    if (!member) return Reason{"There is no bar " + std::string(id) + " in the cage."};
    const std::string name = shownName(*member);
    if (!member->mirrored) return Reason{name + " is not a pair, so it has no other side to be fitted to."};
    if (member->bent) return Reason{name + " is bought bent: its bends are as it came."};
    const int left = now.member(resolvedIds(member->id, true).front());
    if (left < 0 || now.members[static_cast<std::size_t>(left)].line.empty())
        return Reason{name + " has no shape yet; see what is wrong with it first."};
    const ResolvedMember& bar = now.members[static_cast<std::size_t>(left)];
    const auto gap = gapAlong(bar.line, bar.radius_mm(), car.meshes());
    if (!gap)
        return Reason{"The car has no skin " + name + " could keep off: measure its shell or add a scan."};
    Job next = job;
    SideRefit out;
    out.gap_mm = std::max(0.0, gap->least_mm);
    out.right = breakPair(next, id).front();
    MemberWish wish;
    wish.member = out.right;
    wish.least_gap_mm = out.gap_mm;
    Expected<MemberFit> fit = fitMember(next, resolve(next), car, wish);
    if (!fit) return Reason{fit.reason()};
    *findMember(next.cage, out.right) = fit->member;
    out.fit = *std::move(fit);
    job = std::move(next);
    return out;
}

}  // namespace hoopwright
