// The layers hold: every #include of every source file is one its folder may have.
#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

/// Prefixes of includes each folder may have, beside the standard library ("x" without a slash or dot).
const std::map<std::string, std::vector<std::string>>& allowed() {
    static const std::map<std::string, std::vector<std::string>> kAllowed = [] {
        std::map<std::string, std::vector<std::string>> may;
        may["core/base"] = {"core/base/"};
        may["core/units"] = {"core/base/", "core/units/"};
        may["core/geometry"] = {"core/base/", "core/geometry/", "Eigen/"};
        may["core/mesh"] = {"core/base/", "core/units/", "core/geometry/", "core/mesh/", "Eigen/"};
        may["core/model"] = {"core/base/", "core/units/", "core/geometry/",
                             "core/mesh/", "core/model/", "Eigen/"};
        may["core/survey"] = {"core/base/",  "core/units/",  "core/geometry/",
                              "core/model/", "core/survey/", "Eigen/"};
        may["core/skin"] = {"core/base/",  "core/units/", "core/geometry/", "core/mesh/",
                            "core/model/", "core/skin/",  "Eigen/"};
        may["core/fit"] = {"core/base/",  "core/units/", "core/geometry/", "core/mesh/",
                           "core/model/", "core/skin/",  "core/fit/",      "Eigen/"};
        may["core/starter"] = {"core/base/", "core/units/", "core/geometry/", "core/mesh/", "core/model/",
                               "core/skin/", "core/fit/",   "core/starter/",  "Eigen/"};
        may["core/driver"] = {"core/base/",  "core/units/",  "core/geometry/",
                              "core/model/", "core/driver/", "Eigen/"};
        may["core/edit"] = {"core/base/",  "core/units/", "core/geometry/", "core/mesh/",
                            "core/model/", "core/fit/",   "core/edit/",     "Eigen/"};
        may["core/shop"] = {"core/base/",  "core/units/", "core/geometry/",
                            "core/model/", "core/shop/",  "Eigen/"};
        may["core/drawing"] = {"core/base/", "core/units/", "core/geometry/", "core/model/",
                               "core/shop/", "core/solid/", "core/drawing/",  "Eigen/"};
        may["core/solid"] = {"core/base/", "core/units/", "core/geometry/", "core/model/",
                             "core/shop/", "core/solid/", "Eigen/"};
        may["core/files"] = {"core/base/",   "core/units/", "core/geometry/", "core/mesh/", "core/model/",
                             "core/survey/", "core/files/", "Eigen/",         "yaml-cpp/"};
        may["rules"] = {"core/", "rules/", "Eigen/", "yaml-cpp/"};
        may["render"] = {
            "core/base/",   "core/units/", "core/geometry/", "core/mesh/", "core/model/", "core/skin/",
            "core/driver/", "core/shop/",  "render/",        "Eigen/",     "osg",         "EGL/",
            "GL/"};
        may["app/view"] = {"core/", "rules/", "render/", "app/view/", "Eigen/", "osg", "GL/", "Q", "zlib.h"};
        may["app/sheets"] = {"core/", "rules/", "app/sheets/", "app/view/", "Q"};
        may["app/pack"] = {"core/", "rules/", "app/sheets/", "app/view/", "app/pack/", "Q"};
        may["app/export"] = {"core/", "rules/", "render/", "app/sheets/", "app/view/", "app/export/", "Q"};
        may["app/window"] = {"core/",     "rules/",      "render/",     "app/view/", "app/sheets/",
                             "app/pack/", "app/export/", "app/window/", "Eigen/",    "Q"};
        may["app/commands"] = {"core/",     "rules/",      "render/",       "app/view/", "app/sheets/",
                               "app/pack/", "app/export/", "app/commands/", "Eigen/",    "Q"};
        may["app"] = {"app/", "core/", "Q"};
        return may;
    }();
    return kAllowed;
}

bool standardHeader(const std::string& header) {
    static const std::vector<std::string> kPosix = {"unistd.h", "fcntl.h", "sys/", "malloc.h", "signal.h"};
    for (const auto& posix : kPosix)
        if (header.starts_with(posix)) return true;
    return header.find('/') == std::string::npos && header.find('.') == std::string::npos && header[0] != 'Q';
}

/// The layer a path (relative to the top) belongs to: the longest known folder it lies in.
std::string layerOf(const std::string& path) {
    std::string best;
    for (const auto& [folder, may] : allowed())
        if (path.starts_with(folder + "/") && folder.size() > best.size()) best = folder;
    return best;
}

/// Each forbidden include, as "file: layer may not have <header>".
std::vector<std::string> forbidden(const std::string& path, std::istream& source) {
    static const std::regex kInclude(R"re(^\s*#\s*include\s*[<"]([^">]+)[">])re");
    std::vector<std::string> found;
    const std::string layer = layerOf(path);
    if (layer.empty()) return {path + ": in no known layer"};
    std::smatch match;
    for (std::string line; std::getline(source, line);) {
        if (!std::regex_search(line, match, kInclude)) continue;
        const std::string header = match[1];
        if (standardHeader(header)) continue;
        const auto& may = allowed().at(layer);
        const bool good =
            std::any_of(may.begin(), may.end(), [&](const auto& p) { return header.starts_with(p); });
        if (!good) found.push_back(path + ": " + layer + " may not have <" + header + ">");
    }
    return found;
}

std::vector<fs::path> sources() {
    std::vector<fs::path> all;
    const fs::path top = HOOPWRIGHT_SOURCE_DIR;
    for (const char* folder : {"core", "rules", "render", "app"})
        for (const auto& entry : fs::recursive_directory_iterator(top / folder))
            if (entry.path().extension() == ".h" || entry.path().extension() == ".cpp")
                all.push_back(entry.path());
    return all;
}

TEST(Layers, EveryIncludeIsOneTheFolderMayHave) {
    const auto files = sources();
    ASSERT_GT(files.size(), 20u);
    for (const auto& file : files) {
        std::ifstream source(file);
        const auto path = fs::relative(file, HOOPWRIGHT_SOURCE_DIR).string();
        for (const auto& complaint : forbidden(path, source)) ADD_FAILURE() << complaint;
    }
}

/// A file that includes its own header before all others proves that the header stands alone; only the rest
/// are compiled by themselves for it.
TEST(Layers, AFileIncludesItsOwnHeaderFirst) {
    int looked = 0;
    for (const auto& file : sources()) {
        fs::path header = file;
        header.replace_extension(".h");
        if (file.extension() != ".cpp" || !fs::exists(header)) continue;
        std::ifstream source(file);
        std::string line;
        while (std::getline(source, line) && !line.starts_with("#include")) continue;
        EXPECT_EQ(line, "#include \"" + fs::relative(header, HOOPWRIGHT_SOURCE_DIR).string() + "\"") << file;
        ++looked;
    }
    EXPECT_GT(looked, 20);
}

TEST(Layers, APlantedIncludeIsFound) {
    const auto complaints = [](const std::string& path, const std::string& text) {
        std::istringstream source(text);
        return forbidden(path, source).size();
    };
    EXPECT_EQ(complaints("core/model/car.cpp", "#include <osg/Node>\n"), 1u);
    EXPECT_EQ(complaints("core/geometry/cope.cpp", "#include \"core/model/car.h\"\n"), 1u);
    EXPECT_EQ(complaints("core/model/car.cpp", "#include \"core/driver/body.h\"\n"), 1u);
    EXPECT_EQ(complaints("core/driver/body.cpp", "#include \"rules/check.h\"\n"), 1u);
    EXPECT_EQ(complaints("rules/check.cpp", "#include <QString>\n"), 1u);
    EXPECT_EQ(complaints("render/scene.cpp", "#include \"rules/check.h\"\n"), 1u);
    EXPECT_EQ(complaints("core/model/car.cpp", "#include <yaml-cpp/yaml.h>\n"), 1u);
    EXPECT_EQ(complaints("app/window/document.cpp", "#include <QString>\n#include <vector>\n"), 0u);
    EXPECT_EQ(complaints("stray/a.cpp", ""), 1u);
}

}  // namespace
