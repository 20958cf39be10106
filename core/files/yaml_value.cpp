#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>

#include "core/base/text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

/// `010` would be 8 to some readers and 10 to others.
bool startsWithIdleZero(std::string_view text) {
    if (text.starts_with('-')) text.remove_prefix(1);
    return text.size() > 1 && text[0] == '0' && isDigit(text[1]);
}

/// `.nan` and `.inf`, which YAML itself would take for numbers.
bool isNoNumberOfYaml(std::string_view text) {
    if (text.starts_with('-')) text.remove_prefix(1);
    return text.size() > 1 && text[0] == '.' && !isDigit(text[1]);
}

/// "1,5" -> "write 1.5"; "5 mm" -> "write the number alone"; else nothing.
std::string numberRemedy(const std::string& text) {
    std::string with_point = text;
    if (std::count(text.begin(), text.end(), ',') == 1) {
        with_point[with_point.find(',')] = '.';
        if (plainNumber(with_point)) return "write " + with_point;
    }
    if (dimensionOf(text) != Dimension::none) return "write the number without a unit";
    return "write a plain number, such as 12 or 0.5";
}

std::string kindWords(YamlNode::Kind kind) {
    switch (kind) {
        case YamlNode::Kind::nothing:
            return "nothing";
        case YamlNode::Kind::scalar:
            return "a single value";
        case YamlNode::Kind::list:
            return "a list";
        case YamlNode::Kind::map:
            return "a mapping of keys";
    }
    return "";
}

}  // namespace

bool isDate(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    const auto number = [&](std::size_t from, std::size_t count) {
        int value = 0;
        const char* stop = text.data() + from + count;
        const auto read = std::from_chars(text.data() + from, stop, value);
        return read.ec == std::errc() && read.ptr == stop && value > 0 ? value : 0;
    };
    const auto unsignedNumber = [&](std::size_t from) { return static_cast<unsigned>(number(from, 2)); };
    return number(0, 4) > 0 &&
           std::chrono::year_month_day(std::chrono::year(number(0, 4)), std::chrono::month(unsignedNumber(5)),
                                       std::chrono::day(unsignedNumber(8)))
               .ok();
}

std::string listed(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

YamlValue::YamlValue(YamlFile& file, const YamlNode* node, std::string label)
    : file_(&file), node_(node), label_(std::move(label)) {}

namespace {

std::string onOneLine(const YamlNode& node, const std::set<std::string>& but) {
    std::string out;
    switch (node.kind) {
        case YamlNode::Kind::nothing:
            return "";
        case YamlNode::Kind::scalar:
            return node.text;
        case YamlNode::Kind::list:
            for (const YamlNode& item : node.items) out += (out.empty() ? "" : ", ") + onOneLine(item, {});
            return "[" + out + "]";
        case YamlNode::Kind::map:
            for (std::size_t i = 0; i < node.items.size(); ++i)
                if (!but.contains(node.keys[i].text))
                    out +=
                        (out.empty() ? "" : ", ") + node.keys[i].text + ": " + onOneLine(node.items[i], {});
            return "{" + out + "}";
    }
    return out;
}

}  // namespace

std::string YamlValue::written(const std::set<std::string>& but) const {
    return node_ ? onOneLine(*node_, but) : std::string();
}

FileMark YamlValue::at() const {
    return node_ ? FileMark{file_->name(), node_->line, node_->column} : FileMark{file_->name(), 0, 0};
}

void YamlValue::problem(const std::string& what, const std::string& remedy) const {
    if (node_) file_->add({at(), label_ + ": " + what, remedy});
}

bool YamlValue::wantScalar(std::string_view what) const {
    if (!node_) return false;
    if (isScalar()) return true;
    if (isNothing()) {
        problem("is empty", "write " + std::string(what) + ", or leave the key out");
    } else {
        problem("is " + kindWords(node_->kind) + " where " + std::string(what) + " is wanted");
    }
    return false;
}

std::string YamlValue::text() const {
    return wantScalar("a text") ? node_->text : std::string();
}

std::string YamlValue::identifier() const {
    if (!wantScalar("a name")) return "";
    const std::string& name = node_->text;
    const auto isLetter = [](char c) { return c >= 'a' && c <= 'z'; };
    const bool good =
        !name.empty() && isLetter(name[0]) &&
        std::all_of(name.begin(), name.end(), [&](char c) { return isLetter(c) || isDigit(c) || c == '_'; });
    if (!good)
        problem("'" + name + "' is not a name",
                "start with a small letter; then small letters, digits and _");
    return name;
}

bool YamlValue::inRange(double value, Range range) const {
    if (range == Range::positive && value <= 0) {
        problem("'" + node_->text + "' is not greater than 0", "write a positive value");
        return false;
    }
    if (range == Range::not_negative && value < 0) {
        problem("'" + node_->text + "' is negative", "write 0 or more");
        return false;
    }
    return true;
}

double YamlValue::number(Range range) const {
    if (!wantScalar("a number")) return 0;
    const std::string& text = node_->text;
    if (isQuoted()) {
        problem("\"" + text + "\" is a text, not a number", "take the quotes off");
        return 0;
    }
    if (startsWithIdleZero(text)) {
        problem("'" + text + "' starts with an idle 0", "write the number without it");
        return 0;
    }
    const std::optional<double> value = plainNumber(text);
    if (!value) {
        problem("'" + text + "' is not a number", numberRemedy(text));
        return 0;
    }
    return inRange(*value, range) ? *value : 0;
}

int YamlValue::whole(int least, int greatest) const {
    if (!wantScalar("a whole number")) return least;
    const std::string& text = node_->text;
    int value = 0;
    const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (isQuoted() || startsWithIdleZero(text) || error != std::errc() || stop != text.data() + text.size()) {
        problem("'" + text + "' is not a whole number", "write digits alone, such as 3");
        return least;
    }
    if (value < least || value > greatest) {
        problem("'" + text + "' is not from " + std::to_string(least) + " to " + std::to_string(greatest));
        return least;
    }
    return value;
}

bool YamlValue::yesNo() const {
    if (!wantScalar("true or false")) return false;
    const std::string& text = node_->text;
    if (!isQuoted() && (text == "true" || text == "yes")) return true;
    if (!isQuoted() && (text == "false" || text == "no")) return false;
    problem("'" + text + "' is neither true nor false", "write true or false, without quotes");
    return false;
}

double YamlValue::measure(Dimension dimension, Range range) const {
    return measure(bareUnit(dimension, file_->unit()), range);
}

double YamlValue::measure(const Unit& bare, Range range) const {
    if (bare.dimension == Dimension::none) return number(range) * bare.to_base;
    if (!wantScalar(dimensionPhrase(bare.dimension))) return 0;
    const std::string& text = node_->text;
    if (isQuoted() && plainNumber(text)) {
        problem("\"" + text + "\" is a text, not a number", "take the quotes off");
        return 0;
    }
    if (isNoNumberOfYaml(text)) {
        problem("'" + text + "' is not " + std::string(dimensionPhrase(bare.dimension)),
                "write a number and a unit");
        return 0;
    }
    const Expected<double> value = readMeasure(text, bare);
    if (!value) {
        problem(value.reason());
        return 0;
    }
    return inRange(*value, range) ? *value : 0;
}

std::vector<YamlValue> YamlValue::list() const {
    std::vector<YamlValue> out;
    if (!node_) return out;
    if (!isList()) {
        problem(isNothing() ? "is empty" : "is " + kindWords(node_->kind) + " where a list is wanted",
                isNothing() ? "write a list, or leave the key out"
                            : "write [a, b], or one item a line, each after a dash");
        return out;
    }
    out.reserve(node_->items.size());
    for (std::size_t i = 0; i < node_->items.size(); ++i) {
        out.emplace_back(*file_, &node_->items[i], label_ + ", item " + std::to_string(i + 1));
    }
    return out;
}

std::vector<std::string> YamlValue::texts() const {
    std::vector<std::string> out;
    for (const YamlValue& item : list()) out.push_back(item.text());
    return out;
}

YamlMap YamlValue::map() const {
    if (node_ && !isMap()) {
        problem(
            isNothing() ? "is empty" : "is " + kindWords(node_->kind) + " where a mapping of keys is wanted",
            "write {key: value}, or one key a line, indented");
    }
    return YamlMap(*file_, isMap() ? node_ : nullptr, label_);
}

Eigen::VectorXd YamlValue::lengths(int count) const {
    Eigen::VectorXd out = Eigen::VectorXd::Zero(count);
    if (!node_) return out;
    const std::string wanted = count == 3 ? "[x, y, z]" : "[u, v]";
    if (!isList() || node_->items.size() != static_cast<std::size_t>(count)) {
        const std::string what =
            isList() ? "a list of " + std::to_string(node_->items.size()) : kindWords(node_->kind);
        problem("is " + what + " where " + wanted + " is wanted",
                "write " + std::to_string(count) + " lengths in []");
        return out;
    }
    const std::vector<YamlValue> items = list();
    for (int i = 0; i < count; ++i) out[i] = items[static_cast<std::size_t>(i)].measure(Dimension::length);
    return out;
}

Vec3 YamlValue::point() const {
    return lengths(3);
}
Vec2 YamlValue::pair() const {
    return lengths(2);
}

Vec3 YamlValue::direction() const {
    Vec3 out = Vec3::UnitZ();
    if (!node_) return out;
    if (!isList() || node_->items.size() != 3) {
        problem("is not a direction [x, y, z]", "write three numbers in []");
        return out;
    }
    const std::vector<YamlValue> items = list();
    for (int i = 0; i < 3; ++i) out[i] = items[static_cast<std::size_t>(i)].number();
    if (out.norm() < 1e-9) problem("has no direction", "at least one of the three must differ from 0");
    return out;
}

std::string YamlValue::date() const {
    if (!wantScalar("a date")) return "";
    if (!isDate(node_->text))
        problem("'" + node_->text + "' is not a date", "write year-month-day, such as 2026-03-02");
    return node_->text;
}

YamlValue YamlValue::peek(std::string_view key) const {
    const std::string name(key);
    if (isMap()) {
        for (std::size_t i = 0; i < node_->keys.size(); ++i) {
            if (node_->keys[i].text == key) return {*file_, &node_->items[i], name};
        }
    }
    return {*file_, nullptr, name};
}

std::size_t YamlValue::wordIndex(const std::vector<std::string>& known) const {
    if (!wantScalar("a word")) return known.size();
    const auto found = std::find(known.begin(), known.end(), node_->text);
    if (found != known.end()) return static_cast<std::size_t>(found - known.begin());
    problem("'" + node_->text + "' is not a known word here", file_->meant(node_->text, known));
    return known.size();
}

}  // namespace hoopwright
