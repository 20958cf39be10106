#include "render/mesh.h"

#include <algorithm>
#include <numeric>

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

namespace {

double cross2(const Vec2& a, const Vec2& b) {
    return a.x() * b.y() - a.y() * b.x();
}

bool inside(const Vec2& p, const Vec2& a, const Vec2& b, const Vec2& c) {
    return cross2(b - a, p - a) >= 0 && cross2(c - b, p - b) >= 0 && cross2(a - c, p - c) >= 0;
}

bool isEar(const std::vector<Vec2>& outline, const std::vector<std::uint32_t>& left, std::size_t i) {
    const std::size_t n = left.size();
    const std::uint32_t ia = left[(i + n - 1) % n], ib = left[i], ic = left[(i + 1) % n];
    const Vec2 &a = outline[ia], &b = outline[ib], &c = outline[ic];
    if (cross2(b - a, c - b) <= 0) return false;
    return std::none_of(left.begin(), left.end(), [&](std::uint32_t j) {
        return j != ia && j != ib && j != ic && inside(outline[j], a, b, c);
    });
}

}  // namespace

std::vector<std::uint32_t> fillPolygon(const std::vector<Vec2>& outline) {
    std::vector<std::uint32_t> left(outline.size()), triangles;
    std::iota(left.begin(), left.end(), 0u);
    while (left.size() >= 3) {
        std::size_t ear = 0;
        while (ear < left.size() && !isEar(outline, left, ear)) ++ear;
        if (ear == left.size()) ear = 0;  // a crossed outline: fill what can be filled, never loop for ever
        const std::size_t n = left.size();
        triangles.insert(triangles.end(), {left[(ear + n - 1) % n], left[ear], left[(ear + 1) % n]});
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(ear));
    }
    return triangles;
}

}  // namespace hoopwright
