// The things a rule can be about.
#pragma once

#include <string_view>

#include "core/model/role.h"

namespace hoopwright {

enum class SubjectKind { member, joint, pair, plate, gusset, driver, cage };
/// "member", "joint", ...: what files say.
std::string_view kindWord(SubjectKind kind);

/// One thing of a cage. Indices into CageGeometry (or Job::drivers); a pair has two members, a joint one
/// index.
struct Subject {
    SubjectKind kind = SubjectKind::cage;
    int first = -1;
    int second = -1;
    Side side = Side::centre;  ///< the side it lies on; centre for what lies on neither or both
};

}  // namespace hoopwright
