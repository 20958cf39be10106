// PLY: a head of text that says what follows, then rows of text or of binary numbers.
// Source: G. Turk, The PLY Polygon File Format, Stanford 1994 (from memory).
#include <bit>
#include <charconv>
#include <cmath>
#include <cstring>
#include <optional>

#include "core/base/text.h"
#include "core/mesh/mesh_builder.h"
#include "core/mesh/mesh_readers.h"

namespace hoopwright::reading {
namespace {

constexpr std::size_t kMostHeadLines = 1000;
constexpr std::size_t kMostCorners = 10'000;  // of one face

struct NumberType {
    std::string_view word, other_word;
    std::size_t bytes;
    bool whole, is_signed;
};
constexpr NumberType kTypes[] = {
    {"char", "int8", 1, true, true},      {"uchar", "uint8", 1, true, false},
    {"short", "int16", 2, true, true},    {"ushort", "uint16", 2, true, false},
    {"int", "int32", 4, true, true},      {"uint", "uint32", 4, true, false},
    {"float", "float32", 4, false, true}, {"double", "float64", 8, false, true},
};

struct Property {
    std::string name;
    const NumberType* type = nullptr;
    const NumberType* count_type = nullptr;  ///< of a list
};

struct Element {
    std::string name;
    std::uint64_t count = 0;
    std::size_t line = 0;  ///< of the head
    std::vector<Property> properties;
};

class PlyReader {
public:
    explicit PlyReader(MeshBytes& bytes) : bytes_(bytes), builder_(bytes) {}

    ReadMesh read() {
        readHead();
        for (const Element& element : elements_) {
            if (element.name == "vertex") {
                readVertices(element);
            } else if (element.name == "face") {
                readFaces(element);
            } else {
                row_ = 0;
                for (; row_ < element.count; ++row_) {
                    for (const Property& property : element.properties) passOver(property);
                    endRow();
                }
            }
        }
        return builder_.finish(format_);
    }

private:
    // The head.

    void readHead() {
        if (bytes_.wordOnLine() != "ply")
            bytes_.trouble("the file does not begin with 'ply'", "export the scan again");
        nextHeadLine();
        bool have_format = false;
        for (;;) {
            const std::string keyword(bytes_.wordOnLine());
            if (keyword == "end_header") break;
            if (keyword == "format") {
                readFormat();
                have_format = true;
            } else if (keyword == "element") {
                readElement();
            } else if (keyword == "property") {
                readProperty();
            } else if (keyword.empty() && bytes_.left() == 0) {
                bytes_.trouble("the file ends in its head", "it has been cut short: export it again");
            } else if (!keyword.empty() && keyword != "comment" && keyword != "obj_info") {
                bytes_.trouble(inQuotes(keyword) + " is no line of a PLY head", "export the scan again");
            }
            nextHeadLine();
        }
        if (!have_format) bytes_.trouble("the head has no 'format'", "export the scan again");
        bytes_.skipLine();
        checkHead();
    }

    void nextHeadLine() {
        bytes_.skipLine();
        if (bytes_.line() > kMostHeadLines)
            bytes_.troubleAtLine(bytes_.line(),
                                 "the head has more than " + std::to_string(kMostHeadLines) + " lines",
                                 "export the scan again");
    }

    void readFormat() {
        const std::string format(bytes_.wordOnLine());
        if (format == "ascii") {
            format_ = MeshFormat::ply_text;
        } else if (format == "binary_little_endian") {
            format_ = MeshFormat::ply_little_endian;
        } else if (format == "binary_big_endian") {
            format_ = MeshFormat::ply_big_endian;
        } else {
            bytes_.trouble(inQuotes(format) + " is no format of a PLY file",
                           "ascii, binary_little_endian and binary_big_endian are read");
        }
    }

    void readElement() {
        Element element;
        element.name = bytes_.wordOnLine();
        element.line = bytes_.line();
        const std::string count(bytes_.wordOnLine());
        const auto read = std::from_chars(count.data(), count.data() + count.size(), element.count);
        if (read.ec != std::errc{} || read.ptr != count.data() + count.size())
            bytes_.trouble(inQuotes(count) + " is no count", "export the scan again");
        for (const Element& other : elements_)
            if (other.name == element.name)
                bytes_.trouble(inQuotes(element.name) + " stands twice in the head", "export the scan again");
        elements_.push_back(std::move(element));
    }

    static const NumberType* typeNamed(std::string_view word) {
        for (const NumberType& type : kTypes)
            if (word == type.word || word == type.other_word) return &type;
        return nullptr;
    }

    const NumberType* readType(const std::string& word) {
        const NumberType* const type = typeNamed(word);
        if (!type)
            bytes_.trouble(inQuotes(word) + " is no type of number in a PLY file", "export the scan again");
        return type;
    }

    void readProperty() {
        if (elements_.empty())
            bytes_.trouble("a property stands before any element", "export the scan again");
        Property property;
        const std::string first(bytes_.wordOnLine());
        if (first == "list") {
            property.count_type = readType(std::string(bytes_.wordOnLine()));
            if (!property.count_type->whole)
                bytes_.trouble("the length of a list is not a whole number", "export the scan again");
        }
        property.type = readType(property.count_type ? std::string(bytes_.wordOnLine()) : first);
        property.name = bytes_.wordOnLine();
        if (property.name.empty()) bytes_.trouble("a property has no name", "export the scan again");
        elements_.back().properties.push_back(std::move(property));
    }

    /// What the head says must fit into the file, before anything is made room for.
    void checkHead() {
        std::uint64_t left = bytes_.left();
        for (const Element& element : elements_) {
            if (element.count > 0 && element.properties.empty())
                bytes_.troubleAtLine(element.line, inQuotes(element.name) + " has no properties",
                                     "export the scan again");
            std::uint64_t least = 0;
            for (const Property& property : element.properties)
                least += format_ == MeshFormat::ply_text ? 2
                         : property.count_type           ? property.count_type->bytes
                                                         : property.type->bytes;
            // The last row of a text may lack the blank behind its last number.
            const std::uint64_t have = left + (format_ == MeshFormat::ply_text ? 1 : 0);
            if (least > 0 && element.count > have / least)
                bytes_.troubleAtLine(element.line,
                                     "the head says " + std::to_string(element.count) + " of " +
                                         inQuotes(element.name) + ", for which the file is too short",
                                     "it has been cut short: export it again");
            left -= std::min(left, least * element.count);
            if (element.name == "vertex" && element.count > kMostVertices)
                bytes_.troubleAtLine(element.line,
                                     "the scan has more than " + std::to_string(kMostVertices) + " points",
                                     "thin it where it was made, then export it again");
        }
    }

    // The rows.

    bool isText() const { return format_ == MeshFormat::ply_text; }

    [[noreturn]] void cutShort(const Property& property) {
        const std::string what =
            "the file ends at '" + property.name + "' of row " + std::to_string(row_ + 1);
        if (isText()) bytes_.trouble(what, "it has been cut short: export it again");
        bytes_.troubleAtByte(bytes_.offset(), what, "it has been cut short: export it again");
    }

    [[noreturn]] void wrong(const std::string& what, const std::string& remedy) {
        if (isText()) bytes_.trouble(what, remedy);
        bytes_.troubleAtByte(bytes_.offset(), what, remedy);
    }

    std::uint64_t raw(const NumberType& type, const Property& property) {
        if (bytes_.left() < type.bytes) cutShort(property);
        const char* const at = bytes_.take(type.bytes);
        std::uint64_t out = 0;
        for (std::size_t i = 0; i < type.bytes; ++i) {
            const std::size_t from = format_ == MeshFormat::ply_little_endian ? type.bytes - 1 - i : i;
            out = out << 8 | static_cast<unsigned char>(at[from]);
        }
        return out;
    }

    std::string_view word(const Property& property) {
        const std::string_view out = bytes_.wordOnLine();
        if (!out.empty()) return out;
        if (bytes_.left() == 0) cutShort(property);
        bytes_.trouble("the line ends before '" + property.name + "'", "export the scan again");
    }

    double number(const NumberType& type, const Property& property) {
        if (isText()) return bytes_.coordinate(word(property));
        const std::uint64_t bits = raw(type, property);
        double value = 0;
        if (type.whole) {
            value =
                type.is_signed ? static_cast<double>(extended(bits, type.bytes)) : static_cast<double>(bits);
        } else {
            value = type.bytes == 4
                        ? static_cast<double>(std::bit_cast<float>(static_cast<std::uint32_t>(bits)))
                        : std::bit_cast<double>(bits);
        }
        if (std::isfinite(value) && std::abs(value) <= kFarthestCoordinate) return value;
        bytes_.troubleAtByte(
            bytes_.offset() - type.bytes,
            "'" + property.name + "' of point " + std::to_string(row_ + 1) +
                (std::isfinite(value) ? " is farther out than " + shortest(kFarthestCoordinate)
                                      : " is no place in space"),
            "repair the scan, then export it again");
    }

    static std::int64_t extended(std::uint64_t bits, std::size_t bytes) {
        const auto shift = static_cast<int>(64 - 8 * bytes);
        return static_cast<std::int64_t>(bits << shift) >> shift;
    }

    std::int64_t whole(const NumberType& type, const Property& property) {
        if (!isText()) {
            const std::uint64_t bits = raw(type, property);
            return type.is_signed ? extended(bits, type.bytes) : static_cast<std::int64_t>(bits);
        }
        const std::string_view text = word(property);
        std::int64_t value = 0;
        const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
        if (read.ec != std::errc{} || read.ptr != text.data() + text.size())
            bytes_.trouble(inQuotes(text) + " is no whole number", "export the scan again");
        return value;
    }

    std::int64_t listLength(const Property& property) {
        const std::int64_t length = whole(*property.count_type, property);
        if (length < 0) wrong("a list of " + std::to_string(length) + " numbers", "export the scan again");
        return length;
    }

    void passOver(const Property& property) {
        if (isText()) {
            const std::int64_t words = property.count_type ? listLength(property) : 1;
            for (std::int64_t i = 0; i < words; ++i) word(property);
            return;
        }
        const auto numbers = static_cast<std::uint64_t>(property.count_type ? listLength(property) : 1);
        const std::uint64_t bytes = numbers * property.type->bytes;
        if (bytes > bytes_.left()) cutShort(property);
        bytes_.skip(bytes);
    }

    void endRow() {
        if (!isText()) return;
        if (const std::string_view more = bytes_.wordOnLine(); !more.empty())
            bytes_.trouble(inQuotes(more) + " is more than the head says stands on a line",
                           "export the scan again");
        bytes_.skipLine();
    }

    void readVertices(const Element& element) {
        int axis_of[3] = {-1, -1, -1};
        for (std::size_t i = 0; i < element.properties.size(); ++i) {
            const Property& property = element.properties[i];
            const std::size_t axis = std::string_view("xyz").find(property.name);
            if (property.name.size() == 1 && axis < 3 && !property.count_type)
                axis_of[axis] = static_cast<int>(i);
        }
        for (int i = 0; i < 3; ++i)
            if (axis_of[i] < 0)
                bytes_.troubleAtLine(element.line, std::string("the points have no '") + "xyz"[i] + "'",
                                     "export the scan again");
        index_.reserve(static_cast<std::size_t>(element.count));
        builder_.expect(static_cast<std::size_t>(element.count), 0);
        for (row_ = 0; row_ < element.count; ++row_) {
            Vec3 at;
            for (std::size_t i = 0; i < element.properties.size(); ++i) {
                const Property& property = element.properties[i];
                const int* const axis = std::find(axis_of, axis_of + 3, static_cast<int>(i));
                if (axis == axis_of + 3) {
                    passOver(property);
                } else {
                    at[axis - axis_of] = number(*property.type, property);
                }
            }
            endRow();
            index_.push_back(builder_.vertex(at));
        }
    }

    void readFaces(const Element& element) {
        bool found = false;
        for (const Property& property : element.properties) found = found || isCorners(property);
        if (!found)
            bytes_.troubleAtLine(element.line, "the faces have no list 'vertex_indices' of whole numbers",
                                 "export the scan again");
        for (row_ = 0; row_ < element.count; ++row_) {
            for (const Property& property : element.properties) {
                if (isCorners(property)) {
                    readCorners(property);
                } else {
                    passOver(property);
                }
            }
            endRow();
        }
    }

    static bool isCorners(const Property& property) {
        return property.count_type && property.type->whole &&
               (property.name == "vertex_indices" || property.name == "vertex_index");
    }

    void readCorners(const Property& property) {
        const std::int64_t length = listLength(property);
        if (length < 3 || length > static_cast<std::int64_t>(kMostCorners))
            wrong("face " + std::to_string(row_ + 1) + " has " + std::to_string(length) + " corners",
                  "3 to " + std::to_string(kMostCorners) + " are read");
        corners_.clear();
        for (std::int64_t i = 0; i < length; ++i) {
            const std::int64_t corner = whole(*property.type, property);
            if (corner < 0 || corner >= static_cast<std::int64_t>(index_.size()))
                wrong("face " + std::to_string(row_ + 1) + " asks for point " + std::to_string(corner) +
                          "; there are " + std::to_string(index_.size()) + ", counted from 0",
                      "export the scan again");
            corners_.push_back(index_[static_cast<std::size_t>(corner)]);
        }
        builder_.face(corners_);
    }

    MeshBytes& bytes_;
    MeshBuilder builder_;
    MeshFormat format_ = MeshFormat::ply_text;
    std::vector<Element> elements_;
    std::uint64_t row_ = 0;
    std::vector<std::uint32_t> index_;  ///< vertex of each point of the file
    std::vector<std::uint32_t> corners_;
};

}  // namespace

ReadMesh readPly(MeshBytes& bytes) {
    return PlyReader(bytes).read();
}

}  // namespace hoopwright::reading
