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

/// Broken into lines of at most `width` characters at spaces, each behind `indent` spaces.
std::string wrapped(const std::string& text, int indent, int width = 100);

}  // namespace hoopwright
