#include "app/window/own_demo.h"

#include <unistd.h>

#include <fstream>
#include <sstream>

#include "app/window/app_paths.h"
#include "core/files/car_library.h"
#include "core/files/job_file.h"

namespace fs = std::filesystem;

namespace hoopwright {
namespace {

std::string wholeText(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

void replaceAll(std::string& text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
}

/// One file; a cage names the tables where they stay.
bool copyOne(const fs::path& from, const fs::path& to, const fs::path& tables) {
    std::error_code none;
    if (fs::exists(to, none)) return true;
    fs::create_directories(to.parent_path(), none);
    std::string text = wholeText(from);
    const std::string stay = tables.generic_string() + "/";
    for (const char* way : {"../../rules/", "../rules/"}) replaceAll(text, way, stay);
    return !saveText(to, text);
}

}  // namespace

fs::path copyOfDemo(const fs::path& demo, const fs::path& to) {
    std::error_code none;
    const fs::path data = dataFolder();
    const fs::path name = demo.lexically_relative(data);
    if (data.empty() || name.empty() || *name.begin() == "..") return demo;
    for (const char* kind : {"cages", "cars", "drivers", "stock"}) {
        for (const auto& entry : fs::recursive_directory_iterator(data / kind, none)) {
            if (entry.path().extension() != ".yaml") continue;
            if (!copyOne(entry.path(), to / entry.path().lexically_relative(data), data / "rules"))
                return demo;
        }
    }
    return to / name;
}

fs::path demoToOpen(const fs::path& demo) {
    if (demo.empty() || ::access(demo.parent_path().c_str(), W_OK) == 0) return demo;
    const fs::path library = carLibraryFolder();
    if (library.empty()) return demo;
    return copyOfDemo(demo, library.parent_path() / ("demo " HOOPWRIGHT_VERSION));
}

}  // namespace hoopwright
