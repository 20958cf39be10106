// A mesh written as each kind of file, for the readers to read back.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <string>

#include "core/base/text.h"
#include "core/mesh/triangle_mesh.h"

namespace hoopwright {

template <class T>
void putBytes(std::string& out, T value, bool big_endian = false) {
    std::array<char, sizeof(T)> bytes = std::bit_cast<std::array<char, sizeof(T)>>(value);
    if (big_endian) std::reverse(bytes.begin(), bytes.end());
    out.append(bytes.data(), bytes.size());
}

inline std::string spaced(const Vec3& p) {
    return shortest(p.x()) + " " + shortest(p.y()) + " " + shortest(p.z());
}

inline std::string stlBinary(const TriangleMesh& mesh) {
    std::string out = "solid is no promise";
    out.resize(80, '\0');
    putBytes(out, static_cast<std::uint32_t>(mesh.triangles.size()));
    for (const Corners& t : mesh.triangles) {
        out.append(12, '\0');
        for (const std::uint32_t corner : t)
            for (const double part : mesh.vertices[corner]) putBytes(out, static_cast<float>(part));
        out.append(2, '\0');
    }
    return out;
}

inline std::string stlText(const TriangleMesh& mesh) {
    std::string out = "solid some name\n";
    for (const Corners& t : mesh.triangles) {
        out += "  facet normal 0 0 1\n    outer loop\n";
        for (const std::uint32_t corner : t) out += "      vertex " + spaced(mesh.vertices[corner]) + "\n";
        out += "    endloop\n  endfacet\n";
    }
    return out + "endsolid some name\n";
}

inline std::string objText(const TriangleMesh& mesh) {
    std::string out = "# a scan\no body\n";
    for (const Vec3& vertex : mesh.vertices) out += "v " + spaced(vertex) + "\n";
    for (const Corners& t : mesh.triangles) {
        out += "f";
        for (const std::uint32_t corner : t)
            out += " " + std::to_string(corner + 1) + "//" + std::to_string(corner + 1);
        out += "\n";
    }
    return out;
}

enum class PlyForm { text, little_endian, big_endian };
inline std::string plyFile(const TriangleMesh& mesh, PlyForm form) {
    const bool text = form == PlyForm::text, big = form == PlyForm::big_endian;
    std::string out = "ply\nformat ";
    out += text ? "ascii" : big ? "binary_big_endian" : "binary_little_endian";
    out += " 1.0\ncomment made up\nelement vertex " + std::to_string(mesh.vertices.size()) +
           "\nproperty double x\nproperty double y\nproperty double z\nproperty uchar red\nelement face " +
           std::to_string(mesh.triangles.size()) + "\nproperty list uchar int vertex_indices\nend_header\n";
    for (const Vec3& vertex : mesh.vertices) {
        if (text) {
            out += spaced(vertex) + " 128\n";
            continue;
        }
        for (const double part : vertex) putBytes(out, part, big);
        out += '\x80';
    }
    for (const Corners& t : mesh.triangles) {
        if (text) {
            out += "3";
            for (const std::uint32_t corner : t) out += " " + std::to_string(corner);
            out += "\n";
            continue;
        }
        out += '\x03';
        for (const std::uint32_t corner : t) putBytes(out, corner, big);
    }
    return out;
}

}  // namespace hoopwright
