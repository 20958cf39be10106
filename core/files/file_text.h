// What was read, kept for the next save; and how every kind of file is read and written.
#pragma once

#include <string>
#include <type_traits>
#include <utility>

#include "core/files/fields.h"
#include "core/files/job_file.h"
#include "core/files/merge_yaml.h"

namespace hoopwright {

struct FileText {
    std::string text;
    std::string name;
};

/// The latest version of a kind; files of an earlier one are read and stay what they are.
template <class T>
inline constexpr int kLatestVersion = std::is_same_v<T, Car> ? 2 : 1;

/// Puts the car's points where its tapes say; what is wrong with them goes to `file`.
void settleCar(YamlFile& file, Car& car);

/// Reads the whole of an open file; its problems are then in `file`.
template <class T>
T readTop(YamlFile& file, std::string_view kind) {
    T value;
    {
        YamlMap top = file.top(kind, kLatestVersion<T>);
        FieldReader reader(top, file.version());
        fields(reader, value);
    }
    if constexpr (std::is_same_v<T, CageLayout>) value.unit = file.unit();
    if constexpr (std::is_same_v<T, Car>) settleCar(file, value);
    return value;
}

template <class T>
ReadResult<T> readAs(std::string_view kind, std::string text, const std::string& name) {
    YamlFile file(std::move(text), name);
    ReadResult<T> result;
    T value = readTop<T>(file, kind);
    result.problems = file.problems();
    if (result.problems.empty()) result.value = std::move(value);
    result.text = std::make_shared<FileText>(FileText{file.text(), name});
    return result;
}

template <class T>
ReadResult<T> readFileAs(std::string_view kind, const std::filesystem::path& file) {
    WholeText whole = readWholeFile(file.string());
    if (!whole.text) return {std::nullopt, nullptr, std::move(whole.problems)};
    return readAs<T>(kind, *std::move(whole.text), file.string());
}

template <class T>
OutNode outFile(std::string_view kind, const T& value, LengthUnit unit, int version = kLatestVersion<T>) {
    OutNode top = OutNode::map(false);
    top.add("hoopwright", outText(std::string(kind)));
    top.add("version", outNumber(version));
    top.add("units", outText(unit == LengthUnit::in ? "in" : "mm"));
    FieldWriter writer(top, unit, version);
    T copy = value;
    fields(writer, copy);
    return top;
}

/// @param unit of a new file; a file there was keeps its own, a cage has its own.
template <class T>
std::string writeAs(std::string_view kind, const T& value, const FileTextRef& was, LengthUnit unit) {
    if constexpr (std::is_same_v<T, CageLayout>) unit = value.unit;
    if (!was) return writtenFile(outFile(kind, value, unit));
    YamlFile old(was->text, was->name);
    const T before = readTop<T>(old, kind);
    if (!old.problems().empty()) return writtenFile(outFile(kind, value, unit));
    if (before == value) return was->text;
    if constexpr (!std::is_same_v<T, CageLayout>) unit = old.unit();
    const OutNode now = outFile(kind, value, unit, old.version());
    std::string text =
        mergeYaml(was->text, *old.root(), outFile(kind, before, old.unit(), old.version()), now);
    // A layout of the text we do not follow must never cost a value: then the file is written anew.
    YamlFile check(text, was->name);
    const bool good = readTop<T>(check, kind) == value && check.problems().empty();
    return good ? text : writtenFile(now);
}

}  // namespace hoopwright
