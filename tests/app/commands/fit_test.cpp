// The fit command end to end.
#include <gmock/gmock.h>

#include <filesystem>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

Vec3 point(const QJsonValue& value) {
    const QJsonArray list = value.toArray();
    return {list[0].toDouble(), list[1].toDouble(), list[2].toDouble()};
}

TEST(FitCommand, SaysWhereTheHoopGoesHowGoodThatIsAndWhatHoldsIt) {
    const Ran ran = run({"fit", kSaloon, "--member", "main_hoop", "--gap", "20"});
    EXPECT_EQ(ran.code, kExitGood) << ran.err << ran.out;
    for (const char* words :
         {"main_hoop of Hillclimb saloon: 4 bends of 135.0 mm", "20.0 mm or more off the skin", "as it was",
          "fitted", "Its ends and corners", "what holds it", "roof gap at the left roof corner",
          "for 1 less of it, mean less by", "it certifies nothing"})
        EXPECT_THAT(ran.out, HasSubstr(words));
    EXPECT_THAT(run({"fit", kPickup, "--member", "main_hoop"}).out, HasSubstr("Lengths in in."));
}

TEST(FitCommand, JsonSaysTheSame) {
    const QJsonObject json = run({"fit", kSaloon, "--member", "main_hoop", "--gap", "20", "--json"}).json();
    EXPECT_EQ(json["hoopwright"].toString(), "fit");
    EXPECT_EQ(json["gap_mm"].toDouble(), 20);
    EXPECT_EQ(json["bends"].toInt(), 4);
    ASSERT_EQ(json["path_mm"].toArray().size(), 6);
    EXPECT_LT(json["after"].toObject()["mean_mm"].toDouble(),
              json["before"].toObject()["mean_mm"].toDouble());
    EXPECT_GE(json["limits"].toArray().size(), 2);
    EXPECT_TRUE(json["bought_bent"].isNull());
    EXPECT_FALSE(json["caution"].toString().isEmpty());
}

TEST(FitCommand, WritesTheCageWithTheFittedBarAndNothingElseChanged) {
    const SpoiledFolder folder;
    const std::string cage = folder.cage("name: Hillclimb saloon", "name: Copied  # kept");
    const std::string out = folder.path("fitted.yaml");
    const Ran ran = run({"fit", cage, "--member", "main_hoop", "--json", "--out", out});
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    EXPECT_EQ(ran.json()["written"].toString().toStdString(), out);
    EXPECT_THAT(textOf(out), HasSubstr("# kept"));
    const JobResult before = readJob(cage), after = readJob(out);
    ASSERT_TRUE(before.job && after.job);
    CageLayout expected = before.job->cage, is = after.job->cage;
    const QJsonArray path = ran.json()["path_mm"].toArray();
    const CageGeometry geometry = resolve(*after.job);
    const Centreline& line = geometry.members[static_cast<std::size_t>(geometry.member("main_hoop"))].line;
    EXPECT_NEAR((line.start() - point(path.first())).norm(), 0, 1e-6);
    ASSERT_EQ(is.members[0].path.size(), 6u);
    for (int i = 1; i < 5; ++i)
        EXPECT_NEAR(
            (std::get<FixedPoint>(is.members[0].path[static_cast<std::size_t>(i)].place).at - point(path[i]))
                .norm(),
            0, 1e-6);
    is.members[0].path = expected.members[0].path;
    EXPECT_EQ(is, expected);
    // Never over a file that is there.
    EXPECT_THAT(run({"fit", cage, "--member", "main_hoop", "--out", out}).err, HasSubstr("already a file"));
}

TEST(FitCommand, AFileInAnotherFolderStillFindsItsFiles) {
    const SpoiledFolder folder;
    const std::string out = folder.path("elsewhere.yaml");
    const Ran ran = run({"fit", kSaloon, "--member", "side_bar", "--out", out});
    EXPECT_EQ(ran.err, "");
    EXPECT_TRUE(readJob(out).job);
}

TEST(FitCommand, TakesTheFewestBendsThatAreNearEnough) {
    const Ran two = run({"fit", kSaloon, "--member", "main_hoop", "--bends", "2", "--json"});
    const double mean = two.json()["after"].toObject()["mean_mm"].toDouble();
    const Ran enough = run({"fit", kSaloon, "--member", "main_hoop", "--bends", "fewest", "--mean-gap",
                            std::to_string(mean + 1), "--json"});
    EXPECT_EQ(enough.json()["bends"].toInt(), 2);
    const Ran more = run({"fit", kSaloon, "--member", "main_hoop", "--bends", "fewest", "--mean-gap", "1"});
    EXPECT_EQ(more.code, kExitFallsShort);
    EXPECT_THAT(more.out, HasSubstr("No hoop of up to 8 bends"));
}

TEST(FitCommand, LaysATubeBoughtBent) {
    const Ran ran = run({"fit", kSaloon, "--member", "main_hoop", "--bent", "1000, 80, 700, 80, 1000"});
    EXPECT_TRUE(ran.code == kExitGood || ran.code == kExitFallsShort) << ran.err;
    for (const char* words : {"Bought bent, it", "straight 1", "bend 2", "more than the fitted bar's",
                              "Its cut ends and corners", "Its feet stand ", "reach of its"})
        EXPECT_THAT(ran.out, HasSubstr(words));
}

TEST(FitCommand, RefusesWithOneSentence) {
    const auto refusal = [](std::vector<std::string> more) {
        std::vector<std::string> words = {"fit", kSaloon};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        EXPECT_EQ(ran.out, "");
        return ran.err;
    };
    EXPECT_THAT(refusal({}), HasSubstr("--member ID is missing"));
    EXPECT_THAT(refusal({"--member", "main_hop"}), HasSubstr("did you mean 'main_hoop'?"));
    EXPECT_THAT(refusal({"--member", "main_hoop", "--gap", "-3"}), HasSubstr("--gap: '-3' is below"));
    EXPECT_THAT(refusal({"--member", "main_hoop", "--gap", "x"}), HasSubstr("--gap: "));
    EXPECT_THAT(refusal({"--member", "main_hoop", "--bends", "fewest"}), HasSubstr("say with --mean-gap"));
    EXPECT_THAT(refusal({"--member", "main_hoop", "--bends", "9"}), HasSubstr("--bends"));
    EXPECT_THAT(refusal({"--member", "main_hoop", "--lean", "x"}), HasSubstr("--lean: "));
    EXPECT_THAT(refusal({"--member", "main_hoop", "--bent", "3, 4"}),
                HasSubstr("begin and end with a straight"));
    EXPECT_THAT(refusal({"--member", "side_bar", "--follow", "roof_rai"}), HasSubstr("the car has no line"));
}

}  // namespace
