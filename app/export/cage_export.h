// A cage for other programs: glTF, STEP, DXF, CSV.
#pragma once

#include <QByteArray>
#include <string>
#include <vector>

#include "app/export/cage_csv.h"
#include "core/base/expected.h"
#include "core/base/progress.h"

namespace hoopwright {

enum class ExportFormat { glb, step, dxf, csv };
std::string formatWord(
    ExportFormat format);  ///< "glb", "step", "dxf", "csv": also the end of the file's name
std::vector<ExportFormat> allExportFormats();

struct ExportChoice {
    ExportFormat format = ExportFormat::glb;
    bool car = true, drivers = true;      ///< glb only
    CageTable table = CageTable::points;  ///< csv only
};

struct ExportedPiece {
    std::string id, name, kind;
    double volume_mm3 = 0, mass_kg = 0;  ///< of the finished piece
    double length_mm = 0;                ///< of a tube's centreline; else 0
    std::size_t triangles = 0;           ///< in a glb
    bool exact = true;                   ///< in a STEP file: all its faces are cylinders, tori and planes
};
struct CageExport {
    QByteArray bytes;
    std::vector<ExportedPiece> pieces;
    double volume_mm3 = 0, mass_kg = 0;  ///< of all pieces
    std::size_t triangles = 0, rows = 0;
    std::vector<std::string> left_out, notes;
    bool stopped = false;  ///< `progress` said so: there are no bytes
};
/// @pre the cage is of that job
CageExport exportCage(const Job& job, const CageGeometry& cage, const ExportChoice& choice,
                      const WorkProgress& progress = {});

}  // namespace hoopwright
