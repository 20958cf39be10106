#include "core/files/scan_files.h"

#include "core/mesh/scan_mesh.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// The file itself, links followed; or why it is not read.
Expected<fs::path> inFolder(const fs::path& car_file, const std::string& written) {
    const fs::path folder = car_file.has_parent_path() ? car_file.parent_path() : fs::path(".");
    const fs::path named = (folder / written).lexically_normal();
    std::error_code failed;
    if (!fs::is_regular_file(named, failed)) return Reason{"there is no file '" + named.string() + "'"};
    const fs::path home = fs::weakly_canonical(folder, failed);
    const fs::path file = fs::weakly_canonical(named, failed);
    const fs::path way = file.lexically_relative(home);
    if (failed || way.empty() || *way.begin() == "..")
        return Reason{"'" + written + "' leads out of the car file's folder"};
    return named;
}

/// Of the whole work, when so many of so many files are done.
Progress share(const Progress& whole, std::size_t done, std::size_t all) {
    if (!whole) return {};
    return [&whole, done, all](double part) {
        return whole((static_cast<double>(done) + part) / static_cast<double>(all));
    };
}

}  // namespace

ScanLoad loadScans(const Car& car, const fs::path& car_file, const ScanMeshes& have,
                   const Progress& progress) {
    ScanLoad load;
    for (std::size_t i = 0; i < car.scans.size(); ++i) {
        const std::string& written = car.scans[i].file;
        if (load.meshes.contains(written)) continue;
        if (const auto known = have.find(written); known != have.end() && known->second) {
            load.meshes.insert(*known);
            continue;
        }
        const Expected<fs::path> file = inFolder(car_file, written);
        if (!file) {
            load.problems.push_back({{car_file.string(), 0, 0},
                                     "scans, item " + std::to_string(i + 1) + ": " + file.reason(),
                                     "put the scan beside the car file, or in a folder there"});
            continue;
        }
        MeshResult read = readMesh(*file, share(progress, i, car.scans.size()));
        if (read.problem) load.problems.push_back(*std::move(read.problem));
        if (read.stopped) {
            load.stopped = true;
            return load;
        }
        if (read.value)
            load.meshes.emplace(written, std::make_shared<const ScanMesh>(*std::move(read.value)));
    }
    return load;
}

}  // namespace hoopwright
