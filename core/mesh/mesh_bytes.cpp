#include "core/mesh/mesh_bytes.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>

#include "core/base/text.h"
#include "core/mesh/read_mesh.h"

namespace hoopwright::reading {
namespace {

constexpr std::size_t kBlock = std::size_t{1} << 20;
constexpr std::size_t kLongestWord = 4096;

bool isBlank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\v' || c == '\f';
}

}  // namespace

MeshBytes::MeshBytes(std::string_view memory, std::string name)
    : name_(std::move(name)),
      size_(memory.size()),
      at_(memory.data()),
      end_(memory.data() + memory.size()),
      end_offset_(memory.size()) {}

MeshBytes::MeshBytes(std::ifstream& file, std::uint64_t size, std::string name, const Progress& progress)
    : name_(std::move(name)), file_(&file), size_(size), progress_(&progress), block_(kBlock) {
    at_ = end_ = block_.data();
}

/// Reads on behind what is still to be used; false at the end of the file.
bool MeshBytes::fill() {
    if (!file_ || end_offset_ >= size_) return false;
    if (*progress_ && !(*progress_)(static_cast<double>(end_offset_) / static_cast<double>(size_)))
        throw Stopped{};
    const auto kept = static_cast<std::size_t>(end_ - at_);
    if (kept == block_.size()) return false;
    std::memmove(block_.data(), at_, kept);
    const std::uint64_t wanted = std::min<std::uint64_t>(block_.size() - kept, size_ - end_offset_);
    file_->read(block_.data() + kept, static_cast<std::streamsize>(wanted));
    const auto got = static_cast<std::uint64_t>(file_->gcount());
    at_ = block_.data();
    end_ = at_ + kept + got;
    end_offset_ += got;
    if (got < wanted)
        troubleAtByte(end_offset_, "the file could not be read further",
                      "copy it to this computer's disk, then try again");
    return true;
}

std::string_view MeshBytes::ahead(std::size_t count) {
    if (static_cast<std::size_t>(end_ - at_) < count) fill();
    return {at_, std::min(count, static_cast<std::size_t>(end_ - at_))};
}

void MeshBytes::skip(std::uint64_t count) {
    count = std::min(count, left());
    while (count > 0) {
        const auto now = std::min<std::uint64_t>(count, static_cast<std::uint64_t>(end_ - at_));
        at_ += now;
        count -= now;
        if (count > 0 && !fill()) return;
    }
}

const char* MeshBytes::take(std::size_t count) {
    if (static_cast<std::size_t>(end_ - at_) < count) fill();
    const char* const bytes = at_;
    at_ += count;
    return bytes;
}

template <bool across_lines>
std::string_view MeshBytes::nextWord() {
    for (;; ++at_) {
        if (at_ == end_ && !fill()) break;
        if (!isBlank(*at_)) break;
        if (*at_ != '\n') continue;
        if constexpr (!across_lines) break;
        ++line_;
        line_start_ = offset() + 1;
    }
    word_start_ = offset();
    if (at_ == end_ || *at_ == '\n') return {};
    std::size_t length = 0;
    while (at_ + length < end_ || fill()) {
        if (isBlank(at_[length])) break;
        if (++length > kLongestWord)
            trouble("a word of more than " + std::to_string(kLongestWord) + " letters",
                    "this is not the text of a scan");
    }
    const std::string_view word(at_, length);
    at_ += length;
    return word;
}

std::string_view MeshBytes::word() {
    return nextWord<true>();
}
std::string_view MeshBytes::wordOnLine() {
    return nextWord<false>();
}

void MeshBytes::skipLine() {
    for (;;) {
        if (at_ == end_ && !fill()) return;
        const void* const found = std::memchr(at_, '\n', static_cast<std::size_t>(end_ - at_));
        at_ = found ? static_cast<const char*>(found) + 1 : end_;
        if (!found) continue;
        ++line_;
        line_start_ = offset();
        return;
    }
}

double MeshBytes::coordinate(std::string_view word) const {
    if (word.empty()) trouble("a number is missing", "the file may have been cut short: export it again");
    const std::string_view digits = word.substr(word.front() == '+' ? 1 : 0);
    double value = 0;
    const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (read.ec == std::errc::result_out_of_range && read.ptr == digits.data() + digits.size()) {
        // Too small to hold is as good as nothing; too large is caught below.
        value = digits.find("e-") == std::string_view::npos && digits.find("E-") == std::string_view::npos
                    ? 1e300
                    : 0;
    } else if (read.ec != std::errc{} || read.ptr != digits.data() + digits.size()) {
        const bool comma = word.find(',') != std::string_view::npos;
        trouble(inQuotes(word) + " is not a number",
                comma ? "export with decimal points, not commas" : "export the scan again");
    }
    if (!std::isfinite(value))
        trouble(inQuotes(word) + " is no place in space", "repair the scan, then export it again");
    if (std::abs(value) > kFarthestCoordinate)
        trouble(inQuotes(word) + " is farther out than " + shortest(kFarthestCoordinate),
                "export the scan again");
    return value;
}

void MeshBytes::trouble(std::string what, std::string remedy) const {
    const auto column = static_cast<int>(std::min<std::uint64_t>(word_start_ - line_start_ + 1, 1u << 30));
    throw Trouble{{{name_, static_cast<int>(std::min<std::size_t>(line_, 1u << 30)), column},
                   std::move(what),
                   std::move(remedy)}};
}

void MeshBytes::troubleAtLine(std::size_t line, std::string what, std::string remedy) const {
    throw Trouble{{{name_, static_cast<int>(std::min<std::size_t>(line, 1u << 30)), 1},
                   std::move(what),
                   std::move(remedy)}};
}

void MeshBytes::troubleAtByte(std::uint64_t byte, const std::string& what, std::string remedy) const {
    throw Trouble{{{name_, 0, 0}, "byte " + std::to_string(byte) + ": " + what, std::move(remedy)}};
}

std::string inQuotes(std::string_view text) {
    std::string out = "'";
    for (const char c : text.substr(0, 40)) out += c >= ' ' && c < 127 ? c : '?';
    return out + (text.size() > 40 ? "...'" : "'");
}

}  // namespace hoopwright::reading
