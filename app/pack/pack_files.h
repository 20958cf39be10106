// The pack as files: one PDF, and its tables as CSV.
#pragma once

#include "app/pack/pack.h"
#include "app/sheets/sheet_files.h"
#include "core/base/progress.h"

namespace hoopwright {

using PackRows = std::vector<std::vector<std::string>>;
/// Heads in the first row; keys name the unit; numbers to full precision.
PackRows tubeRows(const InspectorPack& pack);
PackRows weldRows(const InspectorPack& pack);
PackRows plateRows(const InspectorPack& pack);
PackRows wallRows(const InspectorPack& pack);
PackRows clearanceRows(const InspectorPack& pack);
PackRows beltRows(const InspectorPack& pack);
PackRows checklistRows(const InspectorPack& pack);
PackRows asBuiltRows(const InspectorPack& pack);
PackRows dateRows(const InspectorPack& pack);
PackRows changeRows(const InspectorPack& pack);

/// "inspector.pdf", then "tubes.csv", "welds.csv", "plates.csv", "walls.csv", "clearances.csv", "belts.csv",
/// "checklist.csv", "as_built.csv", "dates.csv", "changes.csv". Empty: `progress` wanted no more.
/// @pre there is a QGuiApplication, for its fonts
std::vector<SheetFile> packFiles(const SheetHead& head, const InspectorPack& pack,
                                 const WorkProgress& progress = {});

}  // namespace hoopwright
