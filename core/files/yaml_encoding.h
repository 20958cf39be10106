// Is this the text of a file a person wrote: UTF-8, and no control characters?
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/problem.h"

namespace hoopwright {

/// Says what is wrong, with line and column: too large, UTF-16, not UTF-8, or bytes no text file holds.
std::optional<Problem> encodingProblem(std::string_view text, const std::string& file);

/// The text with every byte that is not part of a UTF-8 character replaced by U+FFFD, so that it can be read
/// back.
std::string wellFormed(std::string_view text);

/// Columns as an editor counts them, in characters, from a parser's columns in bytes.
class CharacterColumns {
public:
    explicit CharacterColumns(std::string_view text);
    /// @param offset of the place in the text; @param byte_column from 0. Result from 1.
    int column(std::size_t offset, int byte_column) const;

private:
    std::vector<std::size_t> trailing_;  ///< offsets of the second and later bytes of characters, ascending
};

}  // namespace hoopwright
