#include "core/files/yaml_encoding.h"

#include <algorithm>

#include "core/files/yaml_tree.h"

namespace hoopwright {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

unsigned byteAt(std::string_view text, std::size_t at) {
    return static_cast<unsigned char>(text[at]);
}

/// Bytes of the well-formed UTF-8 character at `at`, or 0. Source: Unicode 15, table 3-7 (from memory).
std::size_t characterLength(std::string_view text, std::size_t at) {
    const unsigned lead = byteAt(text, at);
    if (lead < 0x80) return 1;
    const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || at + length > text.size()) return 0;
    const unsigned second = byteAt(text, at + 1);
    if ((lead == 0xE0 && second < 0xA0) || (lead == 0xED && second > 0x9F) ||
        (lead == 0xF0 && second < 0x90) || (lead == 0xF4 && second > 0x8F)) {
        return 0;
    }
    for (std::size_t i = 1; i < length; ++i) {
        if ((byteAt(text, at + i) & 0xC0) != 0x80) return 0;
    }
    return length;
}

bool isNoText(unsigned c) {
    return (c < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0x7F;
}

FileMark markAt(std::string_view text, std::size_t at, const std::string& file) {
    const std::string_view before = text.substr(0, at);
    const std::size_t line_start = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
    const auto isLead = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; };
    const std::string_view line = before.substr(line_start);
    return {file, static_cast<int>(std::count(before.begin(), before.end(), '\n')) + 1,
            static_cast<int>(std::count_if(line.begin(), line.end(), isLead)) + 1};
}

}  // namespace

std::string_view withoutByteOrderMark(std::string_view text) {
    return text.starts_with(kByteOrderMark) ? text.substr(kByteOrderMark.size()) : text;
}

std::optional<Problem> encodingProblem(std::string_view text, const std::string& file) {
    const auto wrong = [](FileMark at, std::string what, std::string remedy) {
        return std::optional<Problem>(Problem{std::move(at), std::move(what), std::move(remedy)});
    };
    if (text.size() > kYamlGreatestSize) {
        return wrong(markAt(text, kYamlGreatestSize, file), "the file is larger than 4 MB",
                     "a job file is never that large");
    }
    // Even without a byte order mark, a file that starts "h\0" or "\0h" was saved as UTF-16.
    const auto isPrinted = [&](std::size_t at) { return text[at] >= ' ' && text[at] < '\x7F'; };
    const bool wide =
        text.size() >= 2 && (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF") ||
                             (text[0] == '\0' && isPrinted(1)) || (text[1] == '\0' && isPrinted(0)));
    if (wide) return wrong({file, 1, 1}, "the file is in UTF-16", "save it as UTF-8");
    const std::string_view body = withoutByteOrderMark(text);
    for (std::size_t at = 0; at < body.size();) {
        const std::size_t length = characterLength(body, at);
        if (length == 0)
            return wrong(markAt(body, at, file), "the file is not UTF-8 text from here", "save it as UTF-8");
        if (isNoText(byteAt(body, at))) {
            return wrong(markAt(body, at, file), "a control character stands here; this is not a text file",
                         "take it out, or name the right file");
        }
        at += length;
    }
    return std::nullopt;
}

std::string wellFormed(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = characterLength(text, at);
        out += length == 0 ? std::string_view("\xEF\xBF\xBD") : text.substr(at, length);
        at += std::max<std::size_t>(length, 1);
    }
    return out;
}

CharacterColumns::CharacterColumns(std::string_view text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        if ((byteAt(text, i) & 0xC0) == 0x80) trailing_.push_back(i);
    }
}

int CharacterColumns::column(std::size_t offset, int byte_column) const {
    const std::size_t line_start =
        offset - std::min(offset, static_cast<std::size_t>(std::max(byte_column, 0)));
    const auto first = std::lower_bound(trailing_.begin(), trailing_.end(), line_start);
    const auto last = std::lower_bound(first, trailing_.end(), offset);
    return byte_column + 1 - static_cast<int>(last - first);
}

}  // namespace hoopwright
