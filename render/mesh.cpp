#include "render/mesh.h"

#include <algorithm>

namespace hoopwright {

void Mesh::append(const Mesh& other) {
    const auto shift = static_cast<std::uint32_t>(corners.size());
    corners.insert(corners.end(), other.corners.begin(), other.corners.end());
    colours.insert(colours.end(), other.colours.begin(), other.colours.end());
    triangles.reserve(triangles.size() + other.triangles.size());
    for (const std::uint32_t index : other.triangles) triangles.push_back(index + shift);
}

Box Mesh::bounds() const {
    Box box;
    for (const MeshCorner& corner : corners) box.extend(corner.at.cast<double>());
    return box;
}

void joinGrid(Mesh& mesh, std::uint32_t first, int rows, int columns) {
    const auto width = static_cast<std::uint32_t>(columns);
    for (std::uint32_t i = 0; i + 1 < static_cast<std::uint32_t>(rows); ++i)
        for (std::uint32_t k = 0; k + 1 < width; ++k) {
            const std::uint32_t a = first + i * width + k, b = a + width;
            mesh.quad(a, b, b + 1, a + 1);
        }
}

void gridNormals(Mesh& mesh, std::uint32_t first, int rows, int columns) {
    const auto at = [&](int i, int k) -> const Vec3f& {
        i = std::clamp(i, 0, rows - 1);
        k = std::clamp(k, 0, columns - 1);
        return mesh.corners[first + static_cast<std::uint32_t>(i * columns + k)].at;
    };
    for (int i = 0; i < rows; ++i)
        for (int k = 0; k < columns; ++k) {
            const Vec3f n = (at(i + 1, k) - at(i - 1, k)).cross(at(i, k + 1) - at(i, k - 1));
            if (n.squaredNorm() > 1e-12f)
                mesh.corners[first + static_cast<std::uint32_t>(i * columns + k)].normal = n.normalized();
        }
}

}  // namespace hoopwright
