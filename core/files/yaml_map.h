// The strict reader of every file a person writes. Reading goes on after a problem, so one pass shows them
// all; what a value reads as after a problem (0, "", nothing) does not matter, because a file with any
// problem is not used.
//
//   YamlFile file(std::move(text), "rack.yaml");
//   {
//       YamlMap top = file.top("stock");
//       stock.name = top.need("name").text();
//       if (YamlValue kerf = top.find("kerf")) stock.kerf_mm = kerf.measure(Dimension::length,
//       Range::not_negative); for (const YamlValue& item : top.find("tubes").list()) {
//           YamlMap tube = item.map();
//           ...
//       }
//   }   // each YamlMap reports the keys nobody asked for when it goes
//   return {file.problems().empty() ? std::optional(stock) : std::nullopt, file.problems()};
#pragma once

#include <initializer_list>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/files/yaml_tree.h"
#include "core/geometry/vec.h"
#include "core/units/measure.h"

namespace hoopwright {

class YamlMap;
class YamlValue;

/// What numbers are allowed where a number stands.
enum class Range { any, not_negative, positive };

/// The unit of a bare number in a file of that unit: mm or in, mm2 or in2, kg or lb, MPa or ksi, km/h or mph,
/// mm4 or in4, mm3 or in3; degrees and seconds in both.
const Unit& bareUnit(Dimension dimension, LengthUnit file);
/// Which dimension a measure that names its unit has ("1080 kg" -> mass, `1-5/8"` -> length), or none.
Dimension dimensionOf(std::string_view measure);

/// "2026-03-02": year, month and day there are.
bool isDate(std::string_view text);
/// "a, b, c"
std::string listed(const std::vector<std::string>& words);

/// One file being read: its tree, its unit, and the problems found so far. Outlives the values and maps taken
/// from it.
class YamlFile {
public:
    YamlFile(std::string text, std::string name);
    YamlFile(const YamlFile&) = delete;
    YamlFile& operator=(const YamlFile&) = delete;

    /// The top mapping with its head read: `hoopwright: KIND`, `version: 1` up to the latest, `units: mm` or
    /// `in`. If the file is no such thing, that is a problem and everything read from the map is quietly
    /// absent.
    YamlMap top(std::string_view kind, int latest_version = 1);

    const std::string& name() const { return name_; }
    const std::string& text() const { return text_; }
    const YamlNode* root() const { return tree_ ? &*tree_ : nullptr; }
    LengthUnit unit() const { return unit_; }
    int version() const { return version_; }
    /// In the order of the file. At most 200; the last then says how many more there are.
    Problems problems() const;
    void add(Problem problem);
    /// "did you mean 'x'?", or the words there are; empty where that would cost more than it helps.
    std::string meant(const std::string& word, const std::vector<std::string>& known) const;

private:
    std::string text_, name_;
    std::optional<YamlNode> tree_;
    Problems problems_;
    int left_out_ = 0;
    int version_ = 1;
    LengthUnit unit_ = LengthUnit::mm;
};

/// A value and how to call it in a sentence. Absent when its key was not given: then every read is quiet.
class YamlValue {
public:
    YamlValue(YamlFile& file, const YamlNode* node, std::string label);
    /// Was it given?
    explicit operator bool() const { return node_ != nullptr; }
    bool isNothing() const { return is(YamlNode::Kind::nothing); }  ///< given, but empty or null
    bool isScalar() const { return is(YamlNode::Kind::scalar); }
    bool isList() const { return is(YamlNode::Kind::list); }
    bool isMap() const { return is(YamlNode::Kind::map); }
    /// In quotes, so meant as text.
    bool isQuoted() const { return isScalar() && node_->quoted; }

    /// A scalar as text; numbers and yes/no are text too. Empty only if it says "".
    std::string text() const;
    /// A lower-case name that can be referred to: a letter, then letters, digits, underscores.
    std::string identifier() const;
    /// A plain number without a unit; `010`, `1,5`, `.nan`, `0x1F`, "5" in quotes are problems.
    double number(Range range = Range::any) const;
    int whole(int least, int greatest) const;
    bool yesNo() const;  ///< true, false, yes, no
    /// A measure in base units; a bare number is in the file's unit for that dimension.
    double measure(Dimension dimension, Range range = Range::any) const;
    double measure(const Unit& bare, Range range = Range::any) const;
    /// `[x, y, z]` and `[u, v]` [mm]; directions are bare numbers, not all 0.
    Vec3 point() const;
    Vec2 pair() const;
    Vec3 direction() const;
    std::string date() const;  ///< "YYYY-MM-DD"
    /// The thing one of these words stands for.
    template <class T>
    T oneOf(std::initializer_list<std::pair<std::string_view, T>> words) const {
        std::vector<std::string> known;
        for (const auto& [word, meaning] : words) known.emplace_back(word);
        const std::size_t at = wordIndex(known);
        return at < words.size() ? (words.begin() + at)->second : words.begin()->second;
    }
    /// Index into `known`, or known.size() after a problem.
    std::size_t wordIndex(const std::vector<std::string>& known) const;

    /// The items of a list; none if absent. Labels count from 1: "points, item 3".
    std::vector<YamlValue> list() const;
    /// A list of texts.
    std::vector<std::string> texts() const;
    YamlMap map() const;
    /// What a mapping holds under a key, without asking for it; absent if it is no mapping or has no such
    /// key.
    YamlValue peek(std::string_view key) const;

    /// What was written, on one line and without comments: `{role: rear_brace, side: left}`; of a mapping all
    /// but these keys. Empty if absent.
    std::string written(const std::set<std::string>& but = {}) const;
    FileMark at() const;
    const std::string& label() const { return label_; }
    /// A problem with this value: "LABEL: WHAT (REMEDY)".
    void problem(const std::string& what, const std::string& remedy = "") const;

private:
    friend class YamlMap;
    bool is(YamlNode::Kind kind) const { return node_ && node_->kind == kind; }
    bool wantScalar(std::string_view what) const;
    bool inRange(double value, Range range) const;
    Eigen::VectorXd lengths(int count) const;

    YamlFile* file_;
    const YamlNode* node_;
    std::string label_;
};

/// A mapping. Reports keys given twice when made and keys never asked for when it goes.
class YamlMap {
public:
    YamlMap(YamlFile& file, const YamlNode* node, std::string label, std::set<std::string> asked = {});
    ~YamlMap();
    YamlMap(const YamlMap&) = delete;
    YamlMap& operator=(const YamlMap&) = delete;

    /// Is there anything to read from? False for an absent or wrong mapping.
    explicit operator bool() const { return node_ != nullptr; }
    /// The value of a key that must be there; a problem at the mapping's place if it is not.
    YamlValue need(std::string_view key);
    /// The value of a key that may be left out.
    YamlValue find(std::string_view key);
    bool has(std::string_view key);
    /// Which of these keys is given: exactly one, else a problem; empty if none.
    std::string oneKeyOf(const std::vector<std::string>& keys);
    /// Every key with its value, in the file's order, for mappings whose keys are free; all count as asked
    /// for.
    std::vector<std::pair<std::string, YamlValue>> entries();

    FileMark at() const;
    void problem(const std::string& what, const std::string& remedy = "") const;

private:
    YamlFile* file_;
    const YamlNode* node_;
    std::string label_;
    std::set<std::string> asked_;
};

}  // namespace hoopwright
