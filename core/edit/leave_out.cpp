#include "core/edit/leave_out.h"

#include <algorithm>

#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"

namespace hoopwright {

LeftOut leaveOut(const Job& job, const CageGeometry& cage, const std::vector<std::string>& ids) {
    LeftOut out{job, {}, {}};
    deleteParts(out.job, cage, ids, Orphans::remove_too);
    for (const Member& member : job.cage.members)
        if (!out.job.cage.member(member.id) && std::ranges::find(ids, member.id) == ids.end())
            out.goes_too.push_back(member.id);
    out.cage = resolve(out.job);
    return out;
}

}  // namespace hoopwright
