// The mark a bar is painted with by what the rules answered about it.
#pragma once

#include <optional>

#include "render/colours.h"
#include "rules/finding.h"

namespace hoopwright {

/// Nothing was answered, or the rules do not apply: no mark.
Mark markOf(std::optional<Answer> answer);

}  // namespace hoopwright
