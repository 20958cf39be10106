// Measured cars kept for the next job.
#include "core/files/car_library.h"

#include <gmock/gmock.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

using namespace hoopwright;
using testing::HasSubstr;
namespace fs = std::filesystem;

namespace {

class Library : public testing::Test {
protected:
    void SetUp() override { fs::create_directories(here_); }
    void TearDown() override { fs::remove_all(here_); }
    static std::string textOf(const fs::path& file) {
        std::ostringstream text;
        text << std::ifstream(file, std::ios::binary).rdbuf();
        return text.str();
    }
    fs::path write(const std::string& name, const std::string& text) const {
        std::ofstream(here_ / name, std::ios::binary) << text;
        return here_ / name;
    }
    const fs::path here_ = fs::path(testing::TempDir()) / ("car_library_" + std::to_string(::getpid()));
    const fs::path folder_ = here_ / "kept" / "cars";
    const std::string text_ =
        "# ours\nhoopwright: car\nversion: 2\nname: C\nunits: mm\nbody: van\nframe: ladder\nground: -330\n"
        "lessons: [{note: level it first}]   # often\n";
};

TEST_F(Library, KeepsAndGivesBackEveryByte) {
    const fs::path car = write("My Van.yaml", text_);
    EXPECT_EQ(libraryName(car), "my_van");
    ASSERT_TRUE(addToLibrary(folder_, car, "my_van", Existing::keep).empty());
    const std::vector<LibraryCar> cars = libraryCars(folder_);
    ASSERT_EQ(cars.size(), 1u);
    EXPECT_EQ(cars[0].name, "my_van");
    EXPECT_EQ(cars[0].car->lessons.size(), 1u);
    ASSERT_TRUE(useFromLibrary(folder_, "my_van", here_ / "job.yaml", Existing::keep).empty());
    EXPECT_EQ(textOf(here_ / "job.yaml"), text_);
}

TEST_F(Library, OverwritesNothingUnasked) {
    const fs::path car = write("van.yaml", text_);
    ASSERT_TRUE(addToLibrary(folder_, car, "van", Existing::keep).empty());
    write("van.yaml", text_ + "# later\n");
    Problems problems = addToLibrary(folder_, car, "van", Existing::keep);
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_THAT(problems[0].text(),
                HasSubstr("not written: there is a file of that name already (give it another name"));
    EXPECT_EQ(textOf(folder_ / "van.yaml"), text_);
    EXPECT_TRUE(addToLibrary(folder_, car, "van", Existing::replace).empty());
    EXPECT_EQ(textOf(folder_ / "van.yaml"), text_ + "# later\n");
    problems = useFromLibrary(folder_, "van", car, Existing::keep);
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_THAT(problems[0].what, HasSubstr("there is a file of that name already"));
}

TEST_F(Library, TakesNoBadCarAndNoBadName) {
    const fs::path wrong = write("wrong.yaml", "hoopwright: car\nversion: 2\n");
    EXPECT_FALSE(addToLibrary(folder_, wrong, "wrong", Existing::keep).empty());
    EXPECT_FALSE(fs::exists(folder_ / "wrong.yaml"));
    const fs::path car = write("van.yaml", text_);
    for (const std::string name : {"../van", "", "Van", "a b", "/etc/passwd"})
        EXPECT_THAT(addToLibrary(folder_, car, name, Existing::keep).at(0).what,
                    HasSubstr("will not do as a name"));
    EXPECT_FALSE(addToLibrary(folder_, here_ / "gone.yaml", "gone", Existing::keep).empty());
}

TEST_F(Library, SaysWhatItHasInstead) {
    EXPECT_THAT(useFromLibrary(folder_, "van", here_ / "job.yaml", Existing::keep).at(0).text(),
                HasSubstr("there is no car 'van' in the library (it is empty: add a measured car first)"));
    ASSERT_TRUE(addToLibrary(folder_, write("van.yaml", text_), "van", Existing::keep).empty());
    EXPECT_THAT(useFromLibrary(folder_, "vam", here_ / "job.yaml", Existing::keep).at(0).remedy,
                "did you mean 'van'?");
    EXPECT_THAT(useFromLibrary(folder_, "../van", here_ / "job.yaml", Existing::keep).at(0).what,
                HasSubstr("there is no car"));
}

}  // namespace
