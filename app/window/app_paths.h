// Where the program's own data lies.
#pragma once

#include <filesystem>
#include <vector>

namespace hoopwright {

/// The data folder: beside the program, where it was installed (PREFIX/share/hoopwright), or in the source
/// tree a build lies in. Empty if there is none.
std::filesystem::path dataFolder();
/// The job of the first start; empty if it is not there.
std::filesystem::path demoJob();
/// Files of a kind in the data folder ("cars", "stock", "rules", "drivers", "cages"), by name.
std::vector<std::filesystem::path> dataFiles(const char* kind);

}  // namespace hoopwright
