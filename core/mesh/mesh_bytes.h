// Bytes, words and numbers of a mesh file. Not for use outside core/mesh.
#pragma once

#include <array>
#include <cstdint>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/problem.h"
#include "core/mesh/triangle_mesh.h"

namespace hoopwright::reading {

/// Thrown by the readers, caught by readMesh(): the first problem ends the reading.
struct Trouble {
    Problem problem;
};
/// Thrown when whoever watches wants no more.
struct Stopped {};

/// A file, or a piece of memory, a block at a time.
class MeshBytes {
public:
    MeshBytes(std::string_view memory, std::string name);
    /// @param file  open, at its start; must outlive this
    MeshBytes(std::ifstream& file, std::uint64_t size, std::string name, const Progress& progress);
    MeshBytes(const MeshBytes&) = delete;
    MeshBytes& operator=(const MeshBytes&) = delete;

    std::uint64_t size() const { return size_; }
    std::uint64_t offset() const { return end_offset_ - static_cast<std::uint64_t>(end_ - at_); }
    std::uint64_t left() const { return size_ - offset(); }
    const std::string& name() const { return name_; }

    /// The next bytes, `count` of them or what there still is. Good until the next call. @pre count <= 1 MiB
    std::string_view ahead(std::size_t count);
    void skip(std::uint64_t count);  ///< up to the end
    /// Exactly so many bytes, gone past. @pre they are there; ask left()
    const char* take(std::size_t count);

    // Texts.
    /// The next word of the file, or of this line; empty at the end of it. Good until the next call.
    std::string_view word();
    std::string_view wordOnLine();
    /// The next word, which must be a number a scan can hold.
    double coordinate(std::string_view word) const;
    void skipLine();
    std::size_t line() const { return line_; }

    [[noreturn]] void trouble(std::string what, std::string remedy = "") const;  ///< at the last word
    [[noreturn]] void troubleAtLine(std::size_t line, std::string what, std::string remedy = "") const;
    [[noreturn]] void troubleAtByte(std::uint64_t byte, const std::string& what,
                                    std::string remedy = "") const;

private:
    bool fill();
    template <bool across_lines>
    std::string_view nextWord();

    std::string name_;
    std::ifstream* file_ = nullptr;
    std::uint64_t size_ = 0;
    const Progress* progress_ = nullptr;
    std::vector<char> block_;
    const char *at_ = nullptr, *end_ = nullptr;
    std::uint64_t end_offset_ = 0;  ///< of `end_` in the file
    std::size_t line_ = 1;
    std::uint64_t line_start_ = 0;  ///< offset of the first byte of the line
    std::uint64_t word_start_ = 0;
};

/// As it may stand in a sentence: cut short, strange bytes as '?', in quotes.
std::string inQuotes(std::string_view text);

}  // namespace hoopwright::reading
