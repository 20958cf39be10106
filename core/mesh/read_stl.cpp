// STL: 80 bytes of anything, a count, 50 bytes a triangle; or text from "solid" to "endsolid". Neither has a
// unit. Source: 3D Systems, StereoLithography Interface Specification, 1988 (from memory).
#include <bit>
#include <cmath>
#include <cstring>

#include "core/base/text.h"
#include "core/mesh/mesh_builder.h"
#include "core/mesh/mesh_readers.h"

namespace hoopwright::reading {
namespace {

constexpr std::uint64_t kHead = 84, kTriangle = 50;
constexpr std::size_t kAtOnce = 1024;  // triangles

std::uint32_t littleEndian32(const char* bytes) {
    std::uint32_t out = 0;
    for (int i = 3; i >= 0; --i) out = out << 8 | static_cast<unsigned char>(bytes[i]);
    return out;
}

Vec3 corner(MeshBytes& bytes, const char* at, std::uint64_t byte, std::uint64_t triangle) {
    Vec3 out;
    for (int i = 0; i < 3; ++i) {
        out[i] = std::bit_cast<float>(littleEndian32(at + 4 * i));
        const bool finite = std::isfinite(out[i]);
        if (finite && std::abs(out[i]) <= kFarthestCoordinate) continue;
        bytes.troubleAtByte(
            byte + static_cast<std::uint64_t>(4 * i),
            "triangle " + std::to_string(triangle + 1) + " has a corner " +
                (finite ? "farther out than " + shortest(kFarthestCoordinate) : "that is no place in space"),
            "repair the scan, then export it again");
    }
    return out;
}

ReadMesh readBinary(MeshBytes& bytes, std::uint64_t count) {
    MeshBuilder builder(bytes);
    if (count <= kMostTriangles)
        builder.expect(static_cast<std::size_t>(count / 2), static_cast<std::size_t>(count));
    bytes.skip(kHead);
    for (std::uint64_t done = 0; done < count;) {
        const std::uint64_t now = std::min<std::uint64_t>(kAtOnce, count - done), byte = bytes.offset();
        const char* const block = bytes.take(static_cast<std::size_t>(now * kTriangle));
        for (std::uint64_t i = 0; i < now; ++i) {
            std::uint32_t corners[3];
            for (std::uint64_t k = 0; k < 3; ++k) {
                // Behind the normal, which nobody needs: it follows from the corners.
                const std::uint64_t at = i * kTriangle + 12 + 12 * k;
                corners[k] = builder.vertex(corner(bytes, block + at, byte + at, done + i));
            }
            builder.triangle(corners[0], corners[1], corners[2]);
        }
        done += now;
    }
    return builder.finish(MeshFormat::stl_binary);
}

void want(MeshBytes& bytes, std::string_view said) {
    const std::string_view word = bytes.word();
    if (says(word, said)) return;
    if (word.empty())
        bytes.trouble("the file ends where '" + std::string(said) + "' should stand",
                      "it has been cut short: export it again");
    bytes.trouble(inQuotes(word) + " stands where '" + std::string(said) + "' should",
                  "export the scan again");
}

void readFacet(MeshBytes& bytes, MeshBuilder& builder) {
    want(bytes, "normal");
    // Often wrong, sometimes nan; it follows from the corners.
    for (int i = 0; i < 3; ++i)
        if (bytes.word().empty())
            bytes.trouble("the file ends in a normal", "it has been cut short: export it again");
    want(bytes, "outer");
    want(bytes, "loop");
    std::uint32_t corners[3];
    for (std::uint32_t& each : corners) {
        want(bytes, "vertex");
        Vec3 at;
        for (double& part : at) part = bytes.coordinate(bytes.word());
        each = builder.vertex(at);
    }
    want(bytes, "endloop");
    want(bytes, "endfacet");
    builder.triangle(corners[0], corners[1], corners[2]);
}

ReadMesh readText(MeshBytes& bytes) {
    MeshBuilder builder(bytes);
    bool inside = false;
    for (;;) {
        const std::string_view word = bytes.word();
        if (!inside) {
            if (word.empty()) break;
            if (!says(word, "solid"))
                bytes.trouble(inQuotes(word) + " stands where 'solid' should", "export the scan again");
            bytes.skipLine();  // a name of any words
            inside = true;
        } else if (says(word, "facet")) {
            readFacet(bytes, builder);
        } else if (says(word, "endsolid")) {
            bytes.skipLine();
            inside = false;
        } else if (word.empty()) {
            bytes.trouble("the file ends without 'endsolid'", "it has been cut short: export it again");
        } else {
            bytes.trouble(inQuotes(word) + " stands where 'facet' or 'endsolid' should",
                          "export the scan again");
        }
    }
    return builder.finish(MeshFormat::stl_text);
}

}  // namespace

ReadMesh readStl(MeshBytes& bytes) {
    const std::string_view head = bytes.ahead(kHead);
    const std::uint64_t count = head.size() < kHead ? 0 : littleEndian32(head.data() + 80);
    // A binary head may begin with "solid" too: the size decides.
    if (head.size() == kHead && kHead + kTriangle * count == bytes.size()) return readBinary(bytes, count);
    const bool text = says(head.substr(0, 5), "solid") && head.find('\0') == std::string_view::npos;
    if (text) return readText(bytes);
    if (head.size() < kHead)
        bytes.troubleAtByte(0, "this is too short for an STL file and does not begin with 'solid'",
                            "export the scan again");
    bytes.troubleAtByte(80,
                        "the head says " + std::to_string(count) + " triangles, which take " +
                            std::to_string(kHead + kTriangle * count) + " bytes; the file has " +
                            std::to_string(bytes.size()),
                        kHead + kTriangle * count > bytes.size() ? "it has been cut short: export it again"
                                                                 : "export the scan again");
}

}  // namespace hoopwright::reading
