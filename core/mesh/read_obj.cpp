// OBJ: v and f of the polygonal subset; everything about looks, curves and groups is passed over.
// Source: Wavefront Advanced Visualizer manual, appendix B1, Object Files (from memory).
#include <algorithm>
#include <charconv>

#include "core/mesh/mesh_builder.h"
#include "core/mesh/mesh_readers.h"

namespace hoopwright::reading {
namespace {

constexpr std::string_view kPassedOver[] = {
    "vt",     "vn",     "vp",     "fo",         "l",         "p",    "g",     "s",   "o",    "mg",   "usemtl",
    "usemap", "mtllib", "maplib", "shadow_obj", "trace_obj", "lod",  "bevel", "deg", "bmat", "step", "cstype",
    "curv",   "curv2",  "surf",   "parm",       "trim",      "hole", "scrv",  "sp",  "end",  "con",  "call",
    "csh",    "ctech",  "stech",  "c_interp",   "d_interp",  "bsp",  "bzp",   "cdc", "cdp",  "res"};

class ObjReader {
public:
    explicit ObjReader(MeshBytes& bytes) : bytes_(bytes), builder_(bytes) {}

    ReadMesh read() {
        for (;;) {
            const std::string_view word = bytes_.wordOnLine();
            if (word.empty()) {
                if (bytes_.left() == 0) break;
            } else if (word == "v") {
                readVertex();
            } else if (word == "f") {
                readFace();
            } else if (word.front() != '#' && std::ranges::find(kPassedOver, word) == std::end(kPassedOver)) {
                bytes_.trouble(inQuotes(word) + " is no line of an OBJ file", "export the scan again");
            }
            bytes_.skipLine();
        }
        return builder_.finish(MeshFormat::obj);
    }

private:
    /// The next word of the line; a backslash at its end joins the next one to it.
    std::string_view word() {
        for (;;) {
            const std::string_view word = bytes_.wordOnLine();
            if (word != "\\") return word;
            bytes_.skipLine();
        }
    }

    void readVertex() {
        if (index_.size() >= kMostVertices)
            bytes_.trouble("the scan has more than " + std::to_string(kMostVertices) + " points",
                           "thin it where it was made, then export it again");
        Vec3 at;
        for (double& part : at) part = bytes_.coordinate(word());
        index_.push_back(builder_.vertex(at));  // a weight or a colour behind it does not matter
    }

    /// "7", "7/1", "7//3", "-1/2/3": the point only.
    std::uint32_t cornerOf(std::string_view word) {
        long long number = 0;
        const std::string_view digits = word.substr(0, word.find('/'));
        const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), number);
        if (read.ec != std::errc{} || read.ptr != digits.data() + digits.size() || number == 0)
            bytes_.trouble(inQuotes(word) + " is no number of a point", "export the scan again");
        const auto known = static_cast<long long>(index_.size());
        if (number > known || number < -known)
            bytes_.trouble(inQuotes(word) + " asks for a point that is not there: " + std::to_string(known) +
                               " stand before this line",
                           "export the scan again");
        return index_[static_cast<std::size_t>(number > 0 ? number - 1 : known + number)];
    }

    void readFace() {
        corners_.clear();
        for (std::string_view each = word(); !each.empty(); each = word()) {
            if (each.front() == '#') break;
            corners_.push_back(cornerOf(each));
        }
        if (corners_.size() < 3)
            bytes_.trouble("a face of " + std::to_string(corners_.size()) + " corners",
                           "a face needs three or more");
        builder_.face(corners_);
    }

    MeshBytes& bytes_;
    MeshBuilder builder_;
    std::vector<std::uint32_t> index_;  ///< vertex of each point of the file
    std::vector<std::uint32_t> corners_;
};

}  // namespace

ReadMesh readObj(MeshBytes& bytes) {
    return ObjReader(bytes).read();
}

}  // namespace hoopwright::reading
