// The cage as tables for a spreadsheet.
#pragma once

#include <string>
#include <vector>

#include "core/model/cage_geometry.h"

namespace hoopwright {

/// points: of every centreline. bars, bends, joints, plates: schedules. Columns say their unit.
enum class CageTable { points, bars, bends, joints, plates };
std::string tableWord(CageTable table);
std::vector<CageTable> allCageTables();

/// The first row names the columns. Numbers in full, with a point.
std::vector<std::vector<std::string>> cageRows(CageTable table, const Job& job, const CageGeometry& cage);

}  // namespace hoopwright
