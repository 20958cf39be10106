#include "app/export/cage_export.h"

#include <cmath>

#include "app/export/centreline_dxf.h"
#include "app/export/glb_file.h"
#include "app/sheets/drawing.h"
#include "core/solid/cage_solids.h"
#include "core/solid/step_text.h"
#include "render/colours.h"

namespace hoopwright {
namespace {

/// To what a screen shows; keeps the file short.
double share(float channel) {
    return std::round(static_cast<double>(channel) * 1000) / 1000;
}

std::array<double, 3> colourOf(const CagePiece& piece, const CageGeometry& cage) {
    Rgb colour{0.62f, 0.63f, 0.65f};
    if (piece.kind == CagePiece::Kind::tube)
        colour = placeColour(roleOf(cage.members[static_cast<std::size_t>(piece.index)].role).place);
    return {share(colour.r), share(colour.g), share(colour.b)};
}

void writeStep(CageExport& out, const std::string& name, const CageGeometry& cage, CageSolids& solids) {
    std::vector<StepPart> parts;
    for (CagePiece& piece : solids.pieces)
        parts.push_back({piece.id, piece.name, colourOf(piece, cage), std::move(piece.solid)});
    out.bytes = QByteArray::fromStdString(stepText(name, parts));
    out.left_out = solids.left_out;
    out.notes = solids.notes;
}

}  // namespace

std::string formatWord(ExportFormat format) {
    switch (format) {
        case ExportFormat::glb:
            return "glb";
        case ExportFormat::step:
            return "step";
        case ExportFormat::dxf:
            return "dxf";
        case ExportFormat::csv:
            break;
    }
    return "csv";
}

std::vector<ExportFormat> allExportFormats() {
    return {ExportFormat::glb, ExportFormat::step, ExportFormat::dxf, ExportFormat::csv};
}

CageExport exportCage(const Job& job, const CageGeometry& cage, const ExportChoice& choice,
                      const WorkProgress& progress) {
    CageExport out;
    const bool step = choice.format == ExportFormat::step;
    CageSolids solids = step ? cageSolids(job, cage, progress) : cagePieces(job, cage);
    out.stopped = solids.stopped;
    for (const CagePiece& piece : solids.pieces) {
        const double length = piece.kind == CagePiece::Kind::tube
                                  ? cage.members[static_cast<std::size_t>(piece.index)].line.length_mm()
                                  : 0;
        out.pieces.push_back({piece.id, piece.name, pieceWord(piece.kind), piece.volume_mm3, piece.mass_kg,
                              length, 0, piece.exact});
        out.volume_mm3 += piece.volume_mm3;
        out.mass_kg += piece.mass_kg;
    }
    switch (choice.format) {
        case ExportFormat::glb: {
            GlbFile made = glbFile(job, cage, {choice.car, choice.drivers}, progress);
            out.bytes = std::move(made.bytes);
            out.triangles = made.triangles;
            out.stopped = made.stopped;
            for (ExportedPiece& piece : out.pieces)
                for (const auto& [id, triangles] : made.pieces)
                    if (piece.id == id) piece.triangles = triangles;
            break;
        }
        case ExportFormat::step:
            if (!out.stopped) writeStep(out, job.cage.name, cage, solids);
            break;
        case ExportFormat::dxf:
            out.bytes = centrelineDxf(cage);
            break;
        case ExportFormat::csv: {
            const auto rows = cageRows(choice.table, job, cage);
            out.rows = rows.size() - 1;
            out.bytes = csvOf(rows);
            break;
        }
    }
    return out;
}

}  // namespace hoopwright
