// One description of a kind of file serves reading and writing: `fields(io, thing)` names each key once, and
// `io` is either a FieldReader or a FieldWriter with the same members.
//   name        must be there
//   nameIf      may be left out; written only where it differs from what leaving it out means
#pragma once

#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/files/out_node.h"
#include "core/model/car.h"

namespace hoopwright {

/// The words a value of an enumeration is written with; the first is the one left out where `If` allows it.
template <class T>
using Words = std::vector<std::pair<std::string_view, T>>;

/// How the items of a list are laid out when new.
enum class Layout { one_a_line, block };

Facts readFacts(const YamlValue& value);
OutNode outFacts(const Facts& facts, LengthUnit unit);
OutNode outPoint(const Vec3& at, LengthUnit unit);
OutNode outPair(const Vec2& at, LengthUnit unit);
/// Reports each text that `key` holds twice among the items.
void reportRepeated(const YamlValue& list, std::string_view key);

class FieldReader {
public:
    explicit FieldReader(YamlMap& map, int version = 1) : map_(map), version_(version) {}
    YamlMap& map() { return map_; }
    /// Of the file; 1 below its top.
    int version() const { return version_; }

    void text(std::string_view key, std::string& out) { out = map_.need(key).text(); }
    void textIf(std::string_view key, std::string& out) { out = map_.find(key).text(); }
    void identifier(std::string_view key, std::string& out) { out = map_.need(key).identifier(); }
    void textsIf(std::string_view key, std::vector<std::string>& out) { out = map_.find(key).texts(); }
    void measure(std::string_view key, double& out, Dimension dimension, Range range) {
        out = map_.need(key).measure(dimension, range);
    }
    void measureIf(std::string_view key, double& out, Dimension dimension, double otherwise, Range range) {
        const YamlValue value = map_.find(key);
        out = value ? value.measure(dimension, range) : otherwise;
    }
    void measureIf(std::string_view key, std::optional<double>& out, Dimension dimension, Range range) {
        const YamlValue value = map_.find(key);
        out = value ? std::optional(value.measure(dimension, range)) : std::nullopt;
    }
    void whole(std::string_view key, int& out, int least, int greatest) {
        out = map_.need(key).whole(least, greatest);
    }
    void flag(std::string_view key, bool& out) { out = map_.need(key).yesNo(); }
    void flagIf(std::string_view key, bool& out) { out = map_.find(key).yesNo(); }
    void flagOr(std::string_view key, bool& out, bool otherwise) {
        const YamlValue value = map_.find(key);
        out = value ? value.yesNo() : otherwise;
    }
    void dateIf(std::string_view key, std::string& out) { out = map_.find(key).date(); }
    void point(std::string_view key, Vec3& out) { out = map_.need(key).point(); }
    void pointIf(std::string_view key, Vec3& out) { out = map_.find(key).point(); }
    void pairIf(std::string_view key, Vec2& out) { out = map_.find(key).pair(); }
    void directionIf(std::string_view key, Vec3& out, const Vec3& otherwise) {
        const YamlValue value = map_.find(key);
        out = value ? value.direction() : otherwise;
    }
    void points(std::string_view key, std::vector<Vec3>& out) { pointsOf(map_.need(key), out); }
    void pointsIf(std::string_view key, std::vector<Vec3>& out) { pointsOf(map_.find(key), out); }
    void pairs(std::string_view key, std::vector<Vec2>& out) { pairsOf(map_.need(key), out); }
    void pairsIf(std::string_view key, std::vector<Vec2>& out) { pairsOf(map_.find(key), out); }
    template <class T>
    void word(std::string_view key, T& out, const Words<T>& words) {
        wordOf(map_.need(key), out, words);
    }
    template <class T>
    void wordIf(std::string_view key, T& out, const Words<T>& words) {
        out = words.front().second;
        if (const YamlValue value = map_.find(key)) wordOf(value, out, words);
    }
    void factsIf(std::string_view key, Facts& out) { out = readFacts(map_.find(key)); }
    template <class T>
    void part(std::string_view key, T& out) {
        partOf(map_.need(key), out);
    }
    template <class T>
    void partIf(std::string_view key, T& out) {
        out = T();
        if (const YamlValue value = map_.find(key)) partOf(value, out);
    }
    template <class T>
    void partIf(std::string_view key, std::optional<T>& out) {
        out.reset();
        if (const YamlValue value = map_.find(key)) partOf(value, out.emplace());
    }
    /// Items that are mappings; where `identity` names a key, no two items may say the same under it.
    template <class T>
    void listIf(std::string_view key, std::vector<T>& out, Layout, std::string_view identity = "") {
        out.clear();
        const YamlValue value = map_.find(key);
        for (const YamlValue& item : value.list()) partOf(item, out.emplace_back());
        if (!identity.empty()) reportRepeated(value, identity);
    }
    /// A value with spellings of its own.
    template <class T, class Read, class Write>
    void special(std::string_view key, T& out, Read read, Write) {
        out = read(map_.need(key));
    }
    template <class T, class Read, class Write>
    void specialIf(std::string_view key, std::optional<T>& out, Read read, Write) {
        const YamlValue value = map_.find(key);
        out = value ? std::optional<T>(read(value)) : std::nullopt;
    }
    template <class T, class Read, class Write>
    void specials(std::string_view key, std::vector<T>& out, Layout, Read read, Write) {
        out.clear();
        for (const YamlValue& item : map_.need(key).list()) out.push_back(read(item));
    }

private:
    static void pointsOf(const YamlValue& value, std::vector<Vec3>& out) {
        out.clear();
        for (const YamlValue& item : value.list()) out.push_back(item.point());
    }
    static void pairsOf(const YamlValue& value, std::vector<Vec2>& out) {
        out.clear();
        for (const YamlValue& item : value.list()) out.push_back(item.pair());
    }
    template <class T>
    static void wordOf(const YamlValue& value, T& out, const Words<T>& words) {
        std::vector<std::string> known;
        for (const auto& [text, meaning] : words) known.emplace_back(text);
        const std::size_t at = value.wordIndex(known);
        if (at < words.size()) out = words[at].second;
    }
    template <class T>
    static void partOf(const YamlValue& value, T& out) {
        YamlMap map = value.map();
        FieldReader reader(map);
        fields(reader, out);
    }

    YamlMap& map_;
    int version_ = 1;
};

class FieldWriter {
public:
    FieldWriter(OutNode& map, LengthUnit unit, int version = 1) : map_(map), unit_(unit), version_(version) {}
    LengthUnit unit() const { return unit_; }
    int version() const { return version_; }

    void text(std::string_view key, const std::string& value) { add(key, outText(value)); }
    void textIf(std::string_view key, const std::string& value) {
        if (!value.empty()) text(key, value);
    }
    void identifier(std::string_view key, const std::string& value) { text(key, value); }
    void textsIf(std::string_view key, const std::vector<std::string>& values) {
        if (values.empty()) return;
        OutNode list = OutNode::list(true);
        for (const std::string& value : values) list.add(outText(value));
        add(key, std::move(list));
    }
    void measure(std::string_view key, double value, Dimension dimension, Range) {
        add(key, outMeasure(value, dimension, unit_));
    }
    void measureIf(std::string_view key, double value, Dimension dimension, double otherwise, Range range) {
        if (value != otherwise) measure(key, value, dimension, range);
    }
    void measureIf(std::string_view key, const std::optional<double>& value, Dimension dimension,
                   Range range) {
        if (value) measure(key, *value, dimension, range);
    }
    void whole(std::string_view key, int value, int, int) { add(key, outNumber(value)); }
    void flag(std::string_view key, bool value) { add(key, outYesNo(value)); }
    void flagIf(std::string_view key, bool value) {
        if (value) flag(key, value);
    }
    void flagOr(std::string_view key, bool value, bool otherwise) {
        if (value != otherwise) flag(key, value);
    }
    void dateIf(std::string_view key, const std::string& value) { textIf(key, value); }
    void point(std::string_view key, const Vec3& value) { add(key, outPoint(value, unit_)); }
    void pointIf(std::string_view key, const Vec3& value) {
        if (value != Vec3::Zero()) point(key, value);
    }
    void pairIf(std::string_view key, const Vec2& value) {
        if (value != Vec2::Zero()) add(key, outPair(value, unit_));
    }
    void directionIf(std::string_view key, const Vec3& value, const Vec3& otherwise) {
        if (value == otherwise) return;
        OutNode list = OutNode::list(true);
        for (const double part : value) list.add(outNumber(part));
        add(key, std::move(list));
    }
    void points(std::string_view key, const std::vector<Vec3>& values) {
        OutNode list = OutNode::list(true);
        for (const Vec3& value : values) list.add(outPoint(value, unit_));
        add(key, std::move(list));
    }
    void pointsIf(std::string_view key, const std::vector<Vec3>& values) {
        if (!values.empty()) points(key, values);
    }
    void pairs(std::string_view key, const std::vector<Vec2>& values) {
        OutNode list = OutNode::list(true);
        for (const Vec2& value : values) list.add(outPair(value, unit_));
        add(key, std::move(list));
    }
    void pairsIf(std::string_view key, const std::vector<Vec2>& values) {
        if (!values.empty()) pairs(key, values);
    }
    template <class T>
    void word(std::string_view key, T value, const Words<T>& words) {
        for (const auto& [text, meaning] : words) {
            if (meaning == value) return add(key, outText(std::string(text)));
        }
    }
    template <class T>
    void wordIf(std::string_view key, T value, const Words<T>& words) {
        if (value != words.front().second) word(key, value, words);
    }
    void factsIf(std::string_view key, const Facts& facts) {
        if (!facts.empty()) add(key, outFacts(facts, unit_));
    }
    template <class T>
    void part(std::string_view key, const T& value) {
        add(key, partOf(value, true));
    }
    template <class T>
    void partIf(std::string_view key, const T& value) {
        if (value != T()) part(key, value);
    }
    template <class T>
    void partIf(std::string_view key, const std::optional<T>& value) {
        if (value) part(key, *value);
    }
    template <class T>
    void listIf(std::string_view key, const std::vector<T>& values, Layout layout, std::string_view = "") {
        if (values.empty()) return;
        OutNode list = OutNode::list(false);
        for (const T& value : values) list.add(partOf(value, layout == Layout::one_a_line));
        add(key, std::move(list));
    }
    template <class T, class Read, class Write>
    void special(std::string_view key, const T& value, Read, Write write) {
        add(key, write(value, unit_));
    }
    template <class T, class Read, class Write>
    void specialIf(std::string_view key, const std::optional<T>& value, Read, Write write) {
        if (value) add(key, write(*value, unit_));
    }
    template <class T, class Read, class Write>
    void specials(std::string_view key, const std::vector<T>& values, Layout layout, Read, Write write) {
        OutNode list = OutNode::list(layout == Layout::one_a_line);
        for (const T& value : values) list.add(write(value, unit_));
        add(key, std::move(list));
    }

    void add(std::string_view key, OutNode value) { map_.add(std::string(key), std::move(value)); }

private:
    template <class T>
    OutNode partOf(const T& value, bool in_brackets) {
        OutNode map = OutNode::map(in_brackets);
        FieldWriter writer(map, unit_);
        T copy = value;
        fields(writer, copy);
        return map;
    }

    OutNode& map_;
    LengthUnit unit_;
    int version_;
};

}  // namespace hoopwright
