// The cage for other programs, from the command line.
#pragma once

#include <iosfwd>
#include <string>

#include "app/export/cage_export.h"

namespace hoopwright {

struct Command;
Command exportCommand();

/// See app/commands/JSON.md. `file`: that was written, or empty.
void writeExportJson(std::ostream& out, const Job& job, const CageGeometry& cage, const ExportChoice& choice,
                     const CageExport& made, const std::string& file);

}  // namespace hoopwright
