// Saving: the old file stays whole until the new one is.
#include <gmock/gmock.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <csignal>
#include <fstream>
#include <sstream>

#include "core/files/job_file.h"

using namespace hoopwright;
using testing::HasSubstr;
namespace fs = std::filesystem;

namespace {

std::string textOf(const fs::path& file) {
    std::ostringstream out;
    out << std::ifstream(file, std::ios::binary).rdbuf();
    return out.str();
}

class Saving : public testing::Test {
protected:
    void SetUp() override { fs::create_directories(folder_); }
    void TearDown() override {
        fs::permissions(folder_, fs::perms::owner_all);
        fs::remove_all(folder_);
    }
    std::size_t filesThere() const {
        return static_cast<std::size_t>(
            std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
    }
    const fs::path folder_ =
        fs::path(testing::TempDir()) / ("saving_" + std::to_string(::getpid()) + "_" +
                                        testing::UnitTest::GetInstance()->current_test_info()->name());
    const fs::path file_ = folder_ / "cage.yaml";
};

TEST_F(Saving, WritesANewFileAndLeavesNothingBesideIt) {
    EXPECT_EQ(saveText(file_, "one\n"), std::nullopt);
    EXPECT_EQ(textOf(file_), "one\n");
    EXPECT_EQ(filesThere(), 1u);
}

TEST_F(Saving, ReplacesAFileAndKeepsItsRights) {
    std::ofstream(file_) << "old, and longer than the new\n";
    fs::permissions(file_, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    EXPECT_EQ(saveText(file_, "new\n"), std::nullopt);
    EXPECT_EQ(textOf(file_), "new\n");
    EXPECT_EQ(fs::status(file_).permissions(),
              fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    EXPECT_EQ(filesThere(), 1u);
}

TEST_F(Saving, GivesANewFileTheRightsTheUserGivesEveryFile) {
    const mode_t before = ::umask(027);
    EXPECT_EQ(saveText(file_, "x"), std::nullopt);
    ::umask(before);
    EXPECT_EQ(fs::status(file_).permissions(),
              fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
}

TEST_F(Saving, FollowsALinkToTheFileItMeans) {
    std::ofstream(folder_ / "real.yaml") << "old\n";
    fs::create_symlink("real.yaml", file_);
    EXPECT_EQ(saveText(file_, "new\n"), std::nullopt);
    EXPECT_TRUE(fs::is_symlink(file_));
    EXPECT_EQ(textOf(folder_ / "real.yaml"), "new\n");
}

TEST_F(Saving, SaysWhichFolderIsMissing) {
    const std::optional<Problem> problem = saveText(folder_ / "gone" / "cage.yaml", "x");
    ASSERT_TRUE(problem);
    EXPECT_EQ(problem->what, "not written: the folder '" + (folder_ / "gone").string() + "' does not exist");
    EXPECT_EQ(problem->remedy, "make it, or write to another");
    EXPECT_EQ(problem->at.file, (folder_ / "gone" / "cage.yaml").string());
}

TEST_F(Saving, DoesNotReplaceAReadOnlyFileOrAFolder) {
    std::ofstream(file_) << "old\n";
    fs::permissions(file_, fs::perms::owner_read);
    EXPECT_EQ(saveText(file_, "new\n").value_or(Problem()).what, "not written: the file is read-only");
    EXPECT_EQ(textOf(file_), "old\n");
    EXPECT_EQ(saveText(folder_, "new\n").value_or(Problem()).what, "not written: this is a folder");
}

TEST_F(Saving, SaysThatANameIsTooLong) {
    EXPECT_THAT(saveText(folder_ / std::string(300, 'n'), "x").value_or(Problem()).what,
                HasSubstr("the name is too long"));
    EXPECT_EQ(filesThere(), 0u);
}

TEST_F(Saving, KeepsTheOldFileWhenTheDiskIsFull) {
    std::ofstream(file_) << "old\n";
    rlimit before{};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{1000, before.rlim_max};
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const std::optional<Problem> problem = saveText(file_, std::string(5000, 'x'));
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    EXPECT_EQ(problem.value_or(Problem()).what, "not written: there is no room left on the disk");
    EXPECT_EQ(textOf(file_), "old\n");
    EXPECT_EQ(filesThere(), 1u) << "the half-written file is gone";
}

TEST_F(Saving, TakesANameWithoutAFolderFromTheCurrentOne) {
    const fs::path before = fs::current_path();
    fs::current_path(folder_);
    EXPECT_EQ(saveText("here.yaml", "x"), std::nullopt);
    fs::current_path(before);
    EXPECT_EQ(textOf(folder_ / "here.yaml"), "x");
}

}  // namespace
