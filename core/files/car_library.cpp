#include "core/files/car_library.h"

#include <algorithm>
#include <cstdlib>

#include "core/base/text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kLetters = "abcdefghijklmnopqrstuvwxyz0123456789_-";

Problem about(const fs::path& file, std::string what, std::string remedy) {
    return {{file.string(), 0, 0}, std::move(what), std::move(remedy)};
}

bool isName(const std::string& name) {
    return !name.empty() && name.size() <= 100 && name.find_first_not_of(kLetters) == std::string::npos;
}

fs::path fileOf(const fs::path& folder, const std::string& name) {
    return folder / (name + ".yaml");
}

std::string setting(const char* name) {
    const char* value = std::getenv(name);
    return value ? value : "";
}

/// Writes a whole file, unless one is there that shall stay.
Problems put(const fs::path& file, const std::string& text, Existing existing, const std::string& remedy) {
    std::error_code none;
    if (existing == Existing::keep && fs::exists(fs::symlink_status(file, none)))
        return {about(file, "not written: there is a file of that name already", remedy)};
    if (const std::optional<Problem> problem = saveText(file, text)) return {*problem};
    return {};
}

/// The text of a car file that reads without a problem.
std::optional<std::string> goodText(const fs::path& file, Problems& problems) {
    WholeText whole = readWholeFile(file.string());
    if (!whole.text) {
        problems = std::move(whole.problems);
        return std::nullopt;
    }
    problems = readCarText(*whole.text, file.string()).problems;
    if (!problems.empty()) return std::nullopt;
    return std::move(whole.text);
}

}  // namespace

fs::path carLibraryFolder() {
    // The specification has relative paths in these left out of account.
    if (const fs::path data = setting("XDG_DATA_HOME"); data.is_absolute())
        return data / "hoopwright" / "cars";
    if (const fs::path home = setting("HOME"); home.is_absolute())
        return home / ".local" / "share" / "hoopwright" / "cars";
    return {};
}

std::vector<LibraryCar> libraryCars(const fs::path& folder) {
    std::vector<LibraryCar> out;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        if (entry.path().extension() != ".yaml" || !entry.is_regular_file(none)) continue;
        ReadResult<Car> read = readCar(entry.path());
        out.push_back(
            {entry.path().stem().string(), entry.path(), std::move(read.value), std::move(read.problems)});
    }
    std::ranges::sort(out, {}, &LibraryCar::name);
    return out;
}

std::string libraryName(const fs::path& car_file) {
    std::string out;
    for (const char c : car_file.stem().string()) {
        const auto lower = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
        out += kLetters.find(lower) != std::string_view::npos ? lower : '_';
    }
    return out;
}

Problems keepInLibrary(const fs::path& folder, const std::string& car_text, const std::string& name,
                       Existing existing) {
    if (folder.empty())
        return {about(name, "there is no home folder to keep cars in", "set HOME or XDG_DATA_HOME")};
    if (!isName(name)) {
        return {about(folder, "'" + name + "' will not do as a name in the library",
                      "use small letters, digits, _ and -")};
    }
    std::error_code failed;
    fs::create_directories(folder, failed);
    if (failed)
        return {about(folder, "the folder could not be made: " + failed.message(), "make it, or allow it")};
    return put(fileOf(folder, name), car_text, existing,
               "give it another name, or say that the old one may go");
}

Problems addToLibrary(const fs::path& folder, const fs::path& car_file, const std::string& name,
                      Existing existing) {
    Problems problems;
    const std::optional<std::string> text = goodText(car_file, problems);
    return text ? keepInLibrary(folder, *text, name, existing) : problems;
}

Problems useFromLibrary(const fs::path& folder, const std::string& name, const fs::path& out,
                        Existing existing) {
    const fs::path file = fileOf(folder, name);
    std::error_code none;
    if (!isName(name) || !fs::is_regular_file(file, none)) {
        std::vector<std::string> known;
        for (const LibraryCar& one : libraryCars(folder)) known.push_back(one.name);
        const std::string near = didYouMean(name, known);
        return {about(folder, "there is no car '" + name + "' in the library",
                      !near.empty()   ? "did you mean '" + near + "'?"
                      : known.empty() ? "it is empty: add a measured car first"
                                      : "there are: " + listed(known))};
    }
    Problems problems;
    const std::optional<std::string> text = goodText(file, problems);
    if (!text) return problems;
    return put(out, *text, existing, "name another file, or say that the old one may go");
}

}  // namespace hoopwright
