// A scan of the car as people read it and as programs do.
#pragma once

#include <string>

#include "app/commands/json.h"
#include "core/skin/car_skin.h"
#include "core/units/measure.h"

namespace hoopwright {

/// One object's keys: see "scans" in app/commands/JSON.md.
void writePlacedScan(JsonWriter& json, const CarScan& scan, const ScanMeshes& meshes,
                     const PlacedScan& placed);
/// The keys of the mesh itself.
void writeScanMesh(JsonWriter& json, const ScanMesh& mesh);
/// "cab.stl: 182340 triangles, 1834 x 1390 x 1210 mm (taken as mm); 4 pairs fit to 2.1 mm rms, worst 3.4 mm."
std::string placedScanWords(const CarScan& scan, const ScanMeshes& meshes, const PlacedScan& placed,
                            LengthUnit unit);
/// "STL, binary; 182340 triangles, 91208 points; 412 open edges, 3 shared by more than two triangles"
std::string scanMeshWords(const ScanMesh& mesh);

}  // namespace hoopwright
