// Measured cars kept for the next job: plain car files in one folder, comments and lessons and all.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/files/job_file.h"

namespace hoopwright {

/// Where a person's cars are kept: $XDG_DATA_HOME/hoopwright/cars, else ~/.local/share/hoopwright/cars (XDG
/// Base Directory Specification 0.8). Empty where neither is set.
std::filesystem::path carLibraryFolder();

struct LibraryCar {
    std::string name;  ///< of the file, without its ending: what it is asked for by
    std::filesystem::path file;
    std::optional<Car> car;  ///< nothing if the file has problems
    Problems problems;
};
/// Every car in the folder, by name. A folder that is not there holds none.
std::vector<LibraryCar> libraryCars(const std::filesystem::path& folder);

enum class Existing { keep, replace };

/// Copies a car file, every byte, into the folder under a name of small letters, digits, _ and -; makes the
/// folder. A Problem says why not: the file is no good, or the name is taken and `existing` says keep.
Problems addToLibrary(const std::filesystem::path& folder, const std::filesystem::path& car_file,
                      const std::string& name, Existing existing);
/// The same from the text of a car file that is nowhere on the disk yet.
Problems keepInLibrary(const std::filesystem::path& folder, const std::string& car_text,
                       const std::string& name, Existing existing);
/// Copies a car of the library to a file for a job.
Problems useFromLibrary(const std::filesystem::path& folder, const std::string& name,
                        const std::filesystem::path& out, Existing existing);

/// What a car file would be called in the library: its own name made of the letters allowed.
std::string libraryName(const std::filesystem::path& car_file);

}  // namespace hoopwright
