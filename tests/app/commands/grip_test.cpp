// The grip command end to end.
#include <gmock/gmock.h>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

TEST(GripCommand, ListsWhatCanBeTakenHoldOfAndHowFarItMayGo) {
    const Ran ran = run({"grip", kSaloon, "--part", "belt_bar"});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    for (const char* words :
         {"belt_bar of Hillclimb saloon", "where it lands", "on main_hoop", "height 515.0 mm",
          "the whole bar", "may go, and no rule gets worse", "it certifies nothing"})
        EXPECT_THAT(ran.out, HasSubstr(words));
    EXPECT_THAT(run({"grip", kSaloon, "--part", "main_hoop"}).out, HasSubstr("its lean"));
    EXPECT_THAT(run({"grip", kPickup, "--part", "main_hoop"}).out, HasSubstr(" in"));
}

TEST(GripCommand, APullIsWrittenAndTheRestOfTheFileKept) {
    const SpoiledFolder folder;
    const std::string cage = folder.cage("name: Hillclimb saloon", "name: Copied  # kept");
    const std::string out = folder.path("pulled.yaml");
    const Ran ran =
        run({"grip", cage, "--part", "belt_bar", "--take", "1", "--to", "521.5", "--json", "--out", out});
    EXPECT_EQ(ran.err, "");
    const QJsonObject pulled = ran.json()["pulled"].toObject();
    EXPECT_NEAR(pulled["numbers"].toArray()[0].toObject()["value_mm"].toDouble(), 521.5, 1e-9);
    EXPECT_NEAR(pulled["at_mm"].toArray()[2].toDouble(), 521.5, 1e-9);
    EXPECT_THAT(textOf(out), HasSubstr("# kept"));
    const JobResult before = readJob(cage), after = readJob(out);
    ASSERT_TRUE(before.job && after.job);
    CageLayout is = after.job->cage;
    const auto belt = std::ranges::find(is.members, "belt_bar", &Member::id);
    EXPECT_EQ(std::get<Landing>(belt->path.front().place).value, 521.5);
    std::get<Landing>(belt->path.front().place).value = 515;
    EXPECT_EQ(is, before.job->cage);
    EXPECT_THAT(run({"grip", cage, "--part", "belt_bar", "--take", "1", "--to", "520", "--out", out}).err,
                HasSubstr("already a file"));
}

TEST(GripCommand, EndsWithOneWhereARuleFailsThatDidNot) {
    const Ran ran = run({"grip", kSaloon, "--part", "belt_bar", "--take", "1", "--to", "300"});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_THAT(ran.out, HasSubstr("Now falls short: "));
}

TEST(GripCommand, SaysWhatItWasNotTold) {
    const auto err = [](std::vector<std::string> more) {
        std::vector<std::string> words = {"grip", kSaloon};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        EXPECT_EQ(ran.out, "");
        return ran.err;
    };
    EXPECT_THAT(err({}), HasSubstr("--part ID is missing"));
    EXPECT_THAT(err({"--part", "door_bar"}), HasSubstr("of a pair say .left or .right"));
    EXPECT_THAT(err({"--part", "belt_bar", "--to", "500"}), HasSubstr("--take N is missing"));
    EXPECT_THAT(err({"--part", "belt_bar", "--take", "1"}), HasSubstr("--to VALUE is missing"));
    EXPECT_THAT(err({"--part", "belt_bar", "--take", "40", "--to", "1"}), HasSubstr("--take"));
    EXPECT_THAT(err({"--part", "main_hoop", "--take", "1", "--to", "1"}),
                HasSubstr("--number NAME is missing"));
    EXPECT_THAT(err({"--part", "main_hoop", "--take", "1", "--number", "q", "--to", "1"}),
                HasSubstr("it has x, y, z"));
    EXPECT_THAT(err({"--part", "belt_bar", "--take", "1", "--to", "high"}), HasSubstr("--to"));
    EXPECT_THAT(err({"--part", "belt_bar", "--take", "1", "--to", "9000"}), HasSubstr("never reaches"));
}

}  // namespace
