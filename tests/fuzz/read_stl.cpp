#include "read_mesh.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    return hoopwright::readAnyMesh(data, size, hoopwright::MeshKind::stl);
}
