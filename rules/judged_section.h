// The section of a bar with the wall a rule judges.
#pragma once

#include <optional>
#include <string>

#include "core/geometry/section.h"
#include "rules/table_run.h"

namespace hoopwright {

/// Nominal OD (as gauged, with the wall as gauged, where the bar's was read); wall as ordered, as the mill's
/// least, as gauged, or what its tightest bend leaves on the outside of the gauged wall (not gauged: of the
/// mill's least; no bend: that wall).
struct JudgedSection {
    std::optional<TubeSection> section;
    std::string missing;  ///< what is, where there is no section
};
JudgedSection judgedSection(const TableRun& run, int member, WallKind kind);

/// "nominal wall", "the mill's least wall", ...
std::string wallWords(WallKind kind);

}  // namespace hoopwright
