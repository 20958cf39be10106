// Files that are there whole or not at all. What is said of a place that is no good:
// tests/core/files/save_test.cpp.
#include "core/base/whole_file.h"

#include <gmock/gmock.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <fstream>
#include <sstream>

using namespace hoopwright;
namespace fs = std::filesystem;

namespace {

class WholeFiles : public testing::Test {
protected:
    void SetUp() override { fs::create_directories(folder_); }
    void TearDown() override { fs::remove_all(folder_); }
    std::size_t filesThere() const {
        return static_cast<std::size_t>(
            std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
    }
    static std::string textOf(const fs::path& file) {
        std::ostringstream out;
        out << std::ifstream(file, std::ios::binary).rdbuf();
        return out.str();
    }
    const fs::path folder_ =
        fs::path(testing::TempDir()) / ("whole_" + std::to_string(::getpid()) + "_" +
                                        testing::UnitTest::GetInstance()->current_test_info()->name());
};

TEST_F(WholeFiles, IsNotThereBeforeItIsCommitted) {
    WholeFile file(folder_ / "a.glb");
    file.write("one ");
    EXPECT_FALSE(fs::exists(folder_ / "a.glb"));
    file.write("two");
    EXPECT_EQ(file.commit(), std::nullopt);
    EXPECT_EQ(textOf(folder_ / "a.glb"), "one two");
    EXPECT_EQ(filesThere(), 1u);
}

TEST_F(WholeFiles, LeavesNothingWhenItIsGivenUp) {
    std::ofstream(folder_ / "a.glb") << "old";
    {
        WholeFile file(folder_ / "a.glb");
        file.write("half");
        EXPECT_EQ(filesThere(), 2u);
        const WholeFile moved = std::move(file);
        EXPECT_EQ(moved.file(), folder_ / "a.glb");
    }
    EXPECT_EQ(filesThere(), 1u);
    EXPECT_EQ(textOf(folder_ / "a.glb"), "old");
}

TEST_F(WholeFiles, TakesWhatALibraryWritesByName) {
    WholeFile file(folder_ / "a.step");
    std::ofstream(file.beside()) << "ISO-10303-21;";
    EXPECT_EQ(file.commit(), std::nullopt);
    EXPECT_EQ(textOf(folder_ / "a.step"), "ISO-10303-21;");
}

TEST_F(WholeFiles, KnowsOfABadPlaceBeforeAnythingIsWritten) {
    const WholeFile file(folder_ / "gone" / "a.glb");
    ASSERT_TRUE(file.problem());
    EXPECT_EQ(file.problem()->what,
              "not written: the folder '" + (folder_ / "gone").string() + "' does not exist");
    const WholeFile device("/dev/null");
    ASSERT_TRUE(device.problem());
    EXPECT_EQ(device.problem()->what, "not written: this is a device or a pipe");
}

TEST_F(WholeFiles, MovesNoneOfSeveralWhenOneCannotBe) {
    std::vector<WholeFile> files;
    files.emplace_back(folder_ / "a.pdf");
    files.emplace_back(folder_ / "gone" / "b.pdf");
    files[0].write("a");
    EXPECT_TRUE(commitAll(files));
    files.clear();
    EXPECT_EQ(filesThere(), 0u);
    files.emplace_back(folder_ / "a.pdf");
    files.emplace_back(folder_ / "b.pdf");
    EXPECT_EQ(commitAll(files), std::nullopt);
    files.clear();
    EXPECT_EQ(filesThere(), 2u);
}

TEST_F(WholeFiles, TakesWhatIsHalfWrittenAwayWhenStopped) {
    for (const int signal : {SIGINT, SIGTERM}) {
        const pid_t child = ::fork();
        if (child == 0) {
            ::close(STDERR_FILENO);
            clearAwayWhenStopped();
            WholeFile whole(folder_ / "whole.pdf"), half(folder_ / "half.pdf"), other(folder_ / "other.pdf");
            if (whole.commit()) ::_exit(1);
            half.write("half");
            ::raise(signal);
            ::_exit(2);
        }
        int status = 0;
        ASSERT_EQ(::waitpid(child, &status, 0), child);
        ASSERT_TRUE(WIFSIGNALED(status));
        EXPECT_EQ(WTERMSIG(status), signal) << "it ends as it would have";
        EXPECT_EQ(filesThere(), 1u);
        EXPECT_TRUE(fs::exists(folder_ / "whole.pdf"));
    }
}

}  // namespace
