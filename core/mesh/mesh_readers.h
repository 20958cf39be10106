// One reader for each kind of mesh file. Not for use outside core/mesh.
#pragma once

#include "core/mesh/mesh_bytes.h"
#include "core/mesh/read_mesh.h"

namespace hoopwright::reading {

// Each reads `bytes` from their start, and throws Trouble or Stopped.
ReadMesh readStl(MeshBytes& bytes);
ReadMesh readObj(MeshBytes& bytes);
ReadMesh readPly(MeshBytes& bytes);

/// Does a word of a file say this, in large or small letters? `said` in small ones.
bool says(std::string_view word, std::string_view said);

}  // namespace hoopwright::reading
