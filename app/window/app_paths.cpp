#include "app/window/app_paths.h"

#include <QCoreApplication>
#include <algorithm>

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

/// The folder the program lies in; known before Qt is up where the system says it.
fs::path programFolder() {
    std::error_code none;
    const fs::path program = fs::read_symlink("/proc/self/exe", none);
    if (!none && !program.empty()) return program.parent_path();
    return QCoreApplication::applicationDirPath().toStdString();
}

}  // namespace

fs::path dataFolder() {
    std::error_code none;
    const fs::path program = programFolder();
    std::vector<fs::path> places = {program / "data",
                                    program.parent_path() / "share" / "hoopwright" / "data"};
    for (fs::path up = program; up.has_relative_path(); up = up.parent_path()) places.push_back(up / "data");
#ifdef HOOPWRIGHT_DATA_DIR
    places.push_back(HOOPWRIGHT_DATA_DIR);
#endif
    for (const fs::path& place : places) {
        if (fs::is_directory(place / "cages", none)) return fs::canonical(place, none);
    }
    return {};
}

fs::path demoJob() {
    std::error_code none;
    const fs::path job = dataFolder() / "cages" / "hillclimb_saloon.yaml";
    return fs::is_regular_file(job, none) ? job : fs::path();
}

std::vector<fs::path> dataFiles(const char* kind) {
    std::error_code none;
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(dataFolder() / kind, none)) {
        if (entry.path().extension() == ".yaml") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

}  // namespace hoopwright
