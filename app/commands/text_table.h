// Columns of text, lined up.
#pragma once

#include <string>
#include <vector>

namespace hoopwright {

enum class Align { left, right };

/// Lines of cells; each column as wide as its widest cell, counted in characters. No trailing spaces.
class TextTable {
public:
    explicit TextTable(std::vector<Align> columns) : columns_(std::move(columns)) {}
    /// @pre as many cells as columns
    void add(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    bool empty() const { return rows_.empty(); }
    /// One line a row, each behind `indent` spaces, columns two spaces apart.
    std::string text(int indent) const;

private:
    std::vector<Align> columns_;
    std::vector<std::vector<std::string>> rows_;
};

/// What a page is wide, in characters: two windows side by side on a laptop, or a sheet of paper.
inline constexpr int kPageWidth = 100;

/// Broken into lines of at most `width` characters at spaces, each behind `indent` spaces, those after the
/// first behind `hanging` more.
std::string wrapped(const std::string& text, int indent, int width = kPageWidth, int hanging = 0);
/// The same behind a label that stands at the left of the first line, with text under text.
std::string wrappedBehind(const std::string& label, const std::string& text, int width = kPageWidth);

}  // namespace hoopwright
