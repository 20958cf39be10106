// A changed cage written to a file of its own.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "core/files/job_file.h"

namespace hoopwright {

/// Why --out cannot be this file: it has no name, or is there already. Empty: it can.
std::string wrongOut(const std::string& file);
/// Writes the cage with the lines of the file it came from, and the files it names called from where it is
/// now. What went wrong, if anything.
std::optional<Problem> writeCageAs(const std::filesystem::path& file, const JobResult& opened,
                                   CageLayout cage);

}  // namespace hoopwright
