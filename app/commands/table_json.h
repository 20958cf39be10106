// A rule table as programs are told of it.
#pragma once

#include "app/commands/json.h"
#include "rules/check.h"

namespace hoopwright {

/// "id", "title", "edition", "written_by", "published", "rules" (how many) and "advice", into the object that
/// is open.
void writeTableInfo(JsonWriter& json, const RuleTableInfo& table);

}  // namespace hoopwright
