#include "app/commands/text_table.h"

#include <algorithm>
#include <sstream>

namespace hoopwright {
namespace {

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string spaces(std::size_t count) {
    return std::string(count, ' ');
}

}  // namespace

std::string TextTable::text(int indent) const {
    std::vector<std::size_t> width(columns_.size(), 0);
    for (const auto& row : rows_) {
        for (std::size_t i = 0; i < width.size(); ++i) width[i] = std::max(width[i], characters(row[i]));
    }
    std::string out;
    for (const auto& row : rows_) {
        std::string line = spaces(static_cast<std::size_t>(indent));
        for (std::size_t i = 0; i < width.size(); ++i) {
            const std::string gap = spaces(width[i] - characters(row[i]));
            line += (i > 0 ? "  " : "") + (columns_[i] == Align::right ? gap + row[i] : row[i] + gap);
        }
        out += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
    }
    return out;
}

std::string wrapped(const std::string& text, int indent, int width, int hanging) {
    std::string out, line;
    int margin = indent;
    std::istringstream words(text);
    for (std::string word; words >> word;) {
        if (!line.empty() && margin + static_cast<int>(characters(line) + 1 + characters(word)) > width) {
            out += spaces(static_cast<std::size_t>(margin)) + line + "\n";
            line.clear();
            margin = indent + hanging;
        }
        line += (line.empty() ? "" : " ") + word;
    }
    return line.empty() ? out : out + spaces(static_cast<std::size_t>(margin)) + line + "\n";
}

std::string wrappedBehind(const std::string& label, const std::string& text, int width) {
    const std::size_t room = characters(label);
    const std::string lines = wrapped(text, static_cast<int>(room), width);
    return label + (lines.empty() ? "\n" : lines.substr(room));
}

}  // namespace hoopwright
