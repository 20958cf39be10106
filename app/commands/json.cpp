#include "app/commands/json.h"

#include <cmath>
#include <ostream>

#include "core/base/text.h"
#include "core/files/yaml_encoding.h"

namespace hoopwright {
namespace {

std::string quoted(std::string_view text) {
    constexpr char kHex[] = "0123456789abcdef";
    std::string out = "\"";
    for (const char c : wellFormed(text)) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (c == '\n') {
            out += "\\n";
        } else if (c == '\t') {
            out += "\\t";
        } else if (byte < 0x20) {
            out += "\\u00";
            out += kHex[byte >> 4];
            out += kHex[byte & 15];
        } else {
            out += c;
        }
    }
    return out + "\"";
}

std::string numberText(double value) {
    return std::isfinite(value) ? shortest(value) : "null";
}

}  // namespace

void JsonWriter::newLine() {
    out_ << '\n';
    for (std::size_t i = 0; i < levels_.size(); ++i) out_ << "  ";
}

void JsonWriter::begin(std::string_view key) {
    if (!levels_.empty()) {
        if (!levels_.back().is_empty) out_ << ',';
        levels_.back().is_empty = false;
        newLine();
    }
    if (!key.empty()) out_ << quoted(key) << ": ";
}

void JsonWriter::open(std::string_view key, bool is_list) {
    begin(key);
    out_ << (is_list ? '[' : '{');
    levels_.push_back({is_list, true});
}

void JsonWriter::close() {
    const Level done = levels_.back();
    levels_.pop_back();
    if (!done.is_empty) newLine();
    out_ << (done.is_list ? ']' : '}');
    if (levels_.empty()) out_ << '\n';
}

JsonWriter::Scope JsonWriter::object(std::string_view key) {
    open(key, false);
    return Scope(*this);
}

JsonWriter::Scope JsonWriter::list(std::string_view key) {
    open(key, true);
    return Scope(*this);
}

void JsonWriter::text(std::string_view key, std::string_view value) {
    begin(key);
    out_ << quoted(value);
}

void JsonWriter::number(std::string_view key, double value) {
    begin(key);
    out_ << numberText(value);
}

void JsonWriter::whole(std::string_view key, long long value) {
    begin(key);
    out_ << std::to_string(value);
}

void JsonWriter::yesNo(std::string_view key, bool value) {
    begin(key);
    out_ << (value ? "true" : "false");
}

void JsonWriter::nothing(std::string_view key) {
    begin(key);
    out_ << "null";
}

void JsonWriter::texts(std::string_view key, const std::vector<std::string>& values) {
    begin(key);
    out_ << '[';
    for (std::size_t i = 0; i < values.size(); ++i) out_ << (i > 0 ? ", " : "") << quoted(values[i]);
    out_ << ']';
}

void JsonWriter::numbers(std::string_view key, const std::vector<double>& values) {
    begin(key);
    out_ << '[';
    for (std::size_t i = 0; i < values.size(); ++i) out_ << (i > 0 ? ", " : "") << numberText(values[i]);
    out_ << ']';
}

void JsonWriter::point(std::string_view key, const Vec3& value) {
    numbers(key, {value.x(), value.y(), value.z()});
}

}  // namespace hoopwright
