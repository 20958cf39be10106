// Habits the tree keeps: numbers never follow the desktop's language, nothing is left half-done.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

struct Banned {
    std::regex words;
    std::string why;
};

const std::vector<Banned>& banned() {
    static const std::vector<Banned> kBanned = {
        {std::regex(R"(\b(strtod|atof|stod|sscanf|std::stof)\b)"), "follows the locale: use plainNumber()"},
        {std::regex(R"(\bto_string\s*\(\s*\w*(_mm|_rad|_deg|_kg|\.\d))"),
         "follows the locale: use shortest() or fixed()"},
        {std::regex(R"(\b(TO)DO\b|\b(FIX)ME\b)"), "unfinished work"},
        {std::regex(R"(std::locale::global)"), "breaks every reader"},
    };
    return kBanned;
}

/// "line N: why" of each banned word in the text.
std::vector<std::string> complaints(std::istream& text) {
    std::vector<std::string> found;
    int number = 0;
    for (std::string line; std::getline(text, line);) {
        ++number;
        for (const auto& rule : banned())
            if (std::regex_search(line, rule.words))
                found.push_back("line " + std::to_string(number) + ": " + rule.why);
    }
    return found;
}

TEST(Words, NoSourceFileHasABannedWord) {
    for (const char* folder : {"core", "rules", "render", "app"}) {
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(HOOPWRIGHT_SOURCE_DIR) / folder)) {
            const auto extension = entry.path().extension();
            if (extension != ".h" && extension != ".cpp") continue;
            std::ifstream text(entry.path());
            for (const auto& complaint : complaints(text)) ADD_FAILURE() << entry.path() << " " << complaint;
        }
    }
}

TEST(Words, PlantedOnesAreFound) {
    const auto count = [](const std::string& line) {
        std::istringstream text(line);
        return complaints(text).size();
    };
    EXPECT_EQ(count("double x = std::stod(text);"), 1u);
    EXPECT_EQ(count(std::string("// TO") + "DO later"), 1u);
    EXPECT_EQ(count("std::to_string(length_mm)"), 1u);
    EXPECT_EQ(count("std::to_string(count)"), 0u);
}

TEST(Tree, TopLevelHoldsExactlyWhatItShould) {
    const std::vector<std::string> may = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "app",  "core",
                                          "rules",          "render",    "tests",         "data", "cmake"};
    for (const auto& entry : fs::directory_iterator(HOOPWRIGHT_SOURCE_DIR)) {
        const auto name = entry.path().filename().string();
        if (name.starts_with(".") || name.starts_with("build")) continue;
        EXPECT_NE(std::find(may.begin(), may.end(), name), may.end())
            << name << " does not belong at the top";
    }
}

TEST(Tree, EveryTestFolderIsBuilt) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(HOOPWRIGHT_SOURCE_DIR) / "tests")) {
        if (entry.path().extension() != ".cpp") continue;
        EXPECT_TRUE(fs::exists(entry.path().parent_path() / "CMakeLists.txt")) << entry.path();
    }
}

}  // namespace
