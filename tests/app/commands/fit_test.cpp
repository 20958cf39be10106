// The fit command end to end.
#include <gmock/gmock.h>

#include <filesystem>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

Vec3 pointIn(const QJsonValue& value) {
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
    EXPECT_NEAR((line.start() - pointIn(path.first())).norm(), 0, 1e-6);
    ASSERT_EQ(is.members[0].path.size(), 6u);
    for (int i = 1; i < 5; ++i)
        EXPECT_NEAR((std::get<FixedPoint>(is.members[0].path[static_cast<std::size_t>(i)].place).at -
                     pointIn(path[i]))
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

TEST(FitCommand, AHoopStandsAsNearThePillarAsItsDoorBarsCanBeWelded) {
    const Ran ran = run({"fit", kSaloon, "--member", "main_hoop", "--x", "doors", "--torch", "45", "--json"});
    const QJsonObject stands = ran.json()["stands"].toObject();
    EXPECT_NE(stands["holds"].toString(), "");
    EXPECT_NEAR(stands["x_mm"].toDouble(), ran.json()["path_mm"].toArray()[0].toArray()[0].toDouble(), 1e-9);
    EXPECT_THAT(run({"fit", kSaloon, "--member", "main_hoop", "--x", "doors"}).out,
                HasSubstr("Its feet stand at x"));
    EXPECT_TRUE(run({"fit", kSaloon, "--member", "main_hoop", "--json"}).json()["stands"].isNull());
    EXPECT_THAT(run({"fit", kSaloon, "--member", "main_hoop", "--x", "doors", "--torch", "-1"}).err,
                HasSubstr("--torch: '-1' is below what it can be"));
    EXPECT_THAT(run({"fit", kSaloon, "--member", "rear_hoop", "--x", "doors"}).err,
                HasSubstr("there is no member"));
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
    for (const char* words :
         {"Bought bent, it", "straight 1", "bend 2", "more than the fitted bar's", "Its cut ends and corners",
          "Its feet stand ", "reach of its", "As taped: 1000.0, 80, 700.0, 80, 1000.0, radius 135.0 mm"})
        EXPECT_THAT(ran.out, HasSubstr(words));
}

TEST(FitCommand, WritesATubeBoughtBentThatEveryCommandThenKnows) {
    const SpoiledFolder folder;
    const std::string out = folder.path("bought.yaml");
    const Ran ran = run({"fit", kSaloon, "--member", "main_hoop", "--bent", "1100, 85, 720, 85, 1100",
                         "--bent-radius", "140", "--json", "--out", out});
    EXPECT_EQ(ran.err, "");
    const QJsonObject fit = ran.json()["bought_bent"].toObject();
    EXPECT_EQ(fit["radius_mm"].toDouble(), 140);
    EXPECT_EQ(fit["straights_mm"].toArray().size(), 3);
    EXPECT_NEAR(fit["angles_deg"].toArray()[1].toDouble(), 85, 1e-9);
    EXPECT_EQ(fit["rotations_deg"].toArray().size(), 1);
    const double saw = fit["saw_first_mm"].toDouble();
    const JobResult read = readJob(out);
    ASSERT_TRUE(read.job);
    ASSERT_TRUE(read.job->cage.member("main_hoop")->bent);

    const QJsonObject geometry = run({"geometry", out, "--json"}).json();
    const QJsonObject bar = geometry["members"].toArray()[0].toObject();
    ASSERT_EQ(bar["id"].toString(), QStringLiteral("main_hoop"));
    EXPECT_NEAR(bar["bought_bent"].toObject()["saw_first_mm"].toDouble(), saw, 1e-3);
    EXPECT_LT(bar["bought_bent"].toObject()["off_mm"].toDouble(), 0.01);
    EXPECT_TRUE(geometry["members"].toArray()[1].toObject()["bought_bent"].isNull());
    EXPECT_THAT(run({"geometry", out}).out, HasSubstr("bought bent: 1100.0, 85, 720.0, 85, 1100.0"));

    const QJsonObject order = run({"order", out, "--json"}).json();
    ASSERT_EQ(order["bought_bent"].toArray().size(), 1);
    EXPECT_NEAR(order["bought_bent"].toArray()[0].toObject()["saw_first_mm"].toDouble(), saw, 1e-3);
    for (const auto& tube : order["tubes"].toArray())
        for (const auto& piece : tube.toObject()["pieces"].toArray())
            EXPECT_NE(piece.toObject()["member"].toString(), QStringLiteral("main_hoop"));
    EXPECT_THAT(run({"order", out}).out, HasSubstr("Bought bent: sawn and coped, not bent here"));
    // And it is fitted again as the file has it.
    EXPECT_FALSE(run({"fit", out, "--member", "main_hoop", "--json"}).json()["bought_bent"].isNull());
}

TEST(CheckCommand, SaysWhichTieHoldsTheBodyOnItsFrame) {
    const Ran ran = run({"check", kPickup});
    EXPECT_THAT(ran.out, HasSubstr("TO KNOW (4)"));
    EXPECT_THAT(ran.out, HasSubstr("Hoop tie on the frame, left and right: are welded"));
    const QJsonObject geometry = run({"geometry", kPickup, "--json"}).json();
    EXPECT_EQ(geometry["notes"].toArray().size(), 4);
    EXPECT_EQ(geometry["problems"].toArray().size(), 0);
    int must = 0;
    for (const auto& plate : geometry["plates"].toArray()) {
        const QJsonObject one = plate.toObject();
        EXPECT_EQ(one["on_frame"].toBool(), one["rail"].toString().startsWith(QStringLiteral("frame")));
        must += one["must_be_bolted"].toBool();
    }
    EXPECT_EQ(must, 8);
    EXPECT_THAT(run({"geometry", kPickup}).out, HasSubstr("must be bolted for the body to come off"));
    EXPECT_EQ(run({"geometry", kSaloon, "--json"}).json()["notes"].toArray().size(), 0);
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
    EXPECT_THAT(refusal({"--member", "main_hoop", "--bent", "3, 4, 3", "--bent-radius", "0"}),
                HasSubstr("--bent-radius: '0' is no radius"));
    EXPECT_THAT(refusal({"--member", "side_bar", "--follow", "roof_rai"}), HasSubstr("the car has no line"));
}

}  // namespace
