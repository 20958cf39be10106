// One name, one type. Two types of one name in two files of a program are one type to the linker, which then
// takes the inline functions of either for both.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

/// "name: file:line" of the types a file defines for all to see: at the left margin, in no unnamed namespace.
std::vector<std::pair<std::string, std::string>> typesIn(const std::string& path, std::istream& source) {
    static const std::regex kType(
        R"re(^(?:struct|class|union|enum(?: class)?)\s+(?:\[\[\w+\]\]\s*)?(\w+(?:::\w+)*)[^;]*$)re");
    std::vector<std::pair<std::string, std::string>> found;
    bool unnamed = false;
    int number = 0;
    std::smatch match;
    for (std::string line; std::getline(source, line);) {
        ++number;
        if (line.starts_with("namespace {")) unnamed = true;
        if (line == "}  // namespace") unnamed = false;
        if (!unnamed && std::regex_match(line, match, kType))
            found.emplace_back(match[1], path + ":" + std::to_string(number));
    }
    return found;
}

std::vector<std::string> definedTwice(const std::vector<std::pair<std::string, std::string>>& types) {
    std::map<std::string, std::string> first;
    std::vector<std::string> twice;
    for (const auto& [name, place] : types) {
        const auto [at, fresh] = first.try_emplace(name, place);
        if (!fresh) twice.push_back(name + ": " + at->second + " and " + place);
    }
    return twice;
}

TEST(Names, OneNameIsOneType) {
    const fs::path top = HOOPWRIGHT_SOURCE_DIR;
    std::vector<std::pair<std::string, std::string>> types;
    for (const char* folder : {"core", "rules", "render", "app"})
        for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
            if (entry.path().extension() != ".h" && entry.path().extension() != ".cpp") continue;
            std::ifstream source(entry.path());
            const auto here = typesIn(fs::relative(entry.path(), top).string(), source);
            types.insert(types.end(), here.begin(), here.end());
        }
    EXPECT_GT(types.size(), 250u);
    EXPECT_THAT(definedTwice(types), testing::IsEmpty());
}

TEST(Names, ASecondTypeOfTheNameIsSeenAndWhatIsPrivateIsNot) {
    std::istringstream one("struct Thing {\n};\nclass Other;\nstruct Thing::Part {\n"),
        two("namespace {\nstruct Other {\n}  // namespace\nenum class Thing : int {\n");
    auto types = typesIn("a.h", one);
    const auto more = typesIn("b.cpp", two);
    types.insert(types.end(), more.begin(), more.end());
    EXPECT_THAT(definedTwice(types), testing::ElementsAre("Thing: a.h:1 and b.cpp:4"));
}

}  // namespace
