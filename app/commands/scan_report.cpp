#include "app/commands/scan_report.h"

#include <cmath>

#include "core/base/text.h"
#include "core/mesh/scan_mesh.h"

namespace hoopwright {
namespace {

const ScanMesh* meshOf(const CarScan& scan, const ScanMeshes& meshes) {
    const auto found = meshes.find(scan.file);
    return found == meshes.end() ? nullptr : found->second.get();
}

std::string counted(std::size_t count, const std::string& what) {
    return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

}  // namespace

void writeScanMesh(JsonWriter& json, const ScanMesh& mesh) {
    const auto whole = [&](std::string_view key, std::size_t count) {
        json.whole(key, static_cast<long long>(count));
    };
    json.text("format", formatWords(mesh.format));
    whole("triangles", mesh.tree->mesh().triangles.size());
    whole("points", mesh.tree->mesh().vertices.size());
    whole("faces_fanned", mesh.fanned);
    whole("triangles_dropped", mesh.dropped);
    whole("open_edges", mesh.edges.open);
    whole("edges_shared_by_more", mesh.edges.shared_by_more);
    json.point("least_in_file", mesh.tree->bounds().min());
    json.point("greatest_in_file", mesh.tree->bounds().max());
}

void writePlacedScan(JsonWriter& json, const CarScan& scan, const ScanMeshes& meshes,
                     const PlacedScan& placed) {
    json.text("file", scan.file);
    json.text("problem", placed.problem);
    if (const ScanMesh* const mesh = meshOf(scan, meshes)) writeScanMesh(json, *mesh);
    json.text("unit", scanUnitWord(placed.unit));
    json.yesNo("unit_guessed", placed.unit_guessed);
    {
        const auto list = json.list("pairs");
        for (std::size_t i = 0; i < scan.pairs.size(); ++i) {
            const auto each = json.object();
            json.point("scan_in_file", scan.pairs[i].scan);
            json.point("car_mm", scan.pairs[i].car);
            if (placed.fit) json.number("residual_mm", placed.fit->residuals_mm[i]);
        }
    }
    if (!placed.fit) return;
    json.number("rms_mm", placed.fit->rms_mm);
    json.number("size_ratio", placed.fit->size_ratio);
    const MeshPlacement& place = placed.fit->placement;
    json.number("scale_mm", place.scale);
    json.point("shift_mm", place.shift);
    const auto turn = json.list("turn");
    for (int row = 0; row < 3; ++row) json.point("", place.turn.row(row).transpose());
}

std::string scanMeshWords(const ScanMesh& mesh) {
    std::string out = std::string(formatWords(mesh.format)) + "; " +
                      counted(mesh.tree->mesh().triangles.size(), "triangle") + ", " +
                      counted(mesh.tree->mesh().vertices.size(), "point");
    if (mesh.fanned > 0)
        out += "; " + counted(mesh.fanned, "face") + " of more than three corners cut into triangles";
    if (mesh.dropped > 0) out += "; " + counted(mesh.dropped, "triangle") + " without an area left out";
    if (mesh.edges.open > 0) out += "; " + counted(mesh.edges.open, "open edge");
    if (mesh.edges.shared_by_more > 0)
        out += "; " + counted(mesh.edges.shared_by_more, "edge") + " shared by more than two triangles";
    return out;
}

std::string placedScanWords(const CarScan& scan, const ScanMeshes& meshes, const PlacedScan& placed,
                            LengthUnit unit) {
    std::string out = scan.file + ": ";
    const ScanMesh* const mesh = meshOf(scan, meshes);
    if (mesh) {
        out += scanMeshWords(*mesh) + "; " + sizeWords(mesh->tree->bounds(), placed.unit);
        if (placed.unit_guessed) out += " (the unit is guessed from the size)";
        out += ". ";
    }
    if (!placed.problem.empty()) return out + "Not placed: " + placed.problem + ".";
    if (!placed.fit) return out + "No pairs are picked: it stands in the car's axes.";
    const LengthStyle style{unit};
    out += counted(placed.fit->residuals_mm.size(), "pair") + " fit to " +
           showLength(placed.fit->rms_mm, style) + " rms:";
    for (const double residual : placed.fit->residuals_mm)
        out += " " + showLength(residual, {unit, 1, 0, false});
    out += ".";
    const double ratio = placed.fit->size_ratio;
    if (std::abs(std::log(ratio)) > 0.02)
        out += " The places picked are " + fixed(ratio, 2) +
               " times as far apart on the car: a wrong unit, or a wrong pair.";
    return out;
}

}  // namespace hoopwright
