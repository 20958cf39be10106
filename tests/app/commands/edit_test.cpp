// The edit command end to end.
#include <gmock/gmock.h>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

std::vector<std::string> texts(const QJsonValue& list) {
    std::vector<std::string> out;
    for (const QJsonValue& one : list.toArray()) out.push_back(one.toString().toStdString());
    return out;
}

TEST(EditCommand, MakesAnXAndWritesTheCageItMakes) {
    const SpoiledFolder folder;
    const std::string cage = folder.cage("name: Hillclimb saloon", "name: Copied  # kept");
    const std::string out = folder.path("crossed.yaml");
    const Ran ran = run({"edit", cage, "--make-x", "hoop_diagonal", "--json", "--out", out});
    EXPECT_EQ(ran.err, "");
    EXPECT_THAT(texts(ran.json()["made"]),
                testing::ElementsAre("hoop_diagonal_cross", "hoop_diagonal_cross_2"));
    EXPECT_THAT(texts(ran.json()["gone"]), testing::IsEmpty());
    EXPECT_THAT(textOf(out), HasSubstr("# kept"));
    const JobResult before = readJob(cage), after = readJob(out);
    ASSERT_TRUE(before.job && after.job);
    const CageGeometry was = resolve(*before.job), is = resolve(*after.job);
    EXPECT_EQ(is.members.size(), was.members.size() + 2);
    const auto mass = [](const CageGeometry& now) {
        double sum = 0;
        for (const ResolvedMember& member : now.members) sum += member.mass_kg;
        return sum;
    };
    EXPECT_NEAR(ran.json()["mass_kg"].toDouble() - ran.json()["mass_before_kg"].toDouble(),
                mass(is) - mass(was), 1e-9);
}

TEST(EditCommand, WhatIsCutCanBeJoinedAgain) {
    const SpoiledFolder folder;
    const std::string cut = folder.path("cut.yaml"), joined = folder.path("joined.yaml");
    ASSERT_NE(run({"edit", kSaloon, "--join", "belt_bar", "--with", "belt_bar_far", "--out", joined}).code,
              kExitBadInput);
    const Ran ran = run({"edit", joined, "--cut", "belt_bar", "--through", "hoop_diagonal", "--out", cut});
    ASSERT_NE(ran.code, kExitBadInput) << ran.err;
    const CageGeometry start = resolve(*readJob(kSaloon).job), whole = resolve(*readJob(joined).job),
                       end = resolve(*readJob(cut).job);
    EXPECT_EQ(whole.members.size() + 1, start.members.size());
    ASSERT_EQ(end.members.size(), start.members.size());
    EXPECT_NEAR(end.totals.tube_mass_kg, start.totals.tube_mass_kg, 1e-3);
    EXPECT_EQ(end.problems.size(), start.problems.size());
}

TEST(EditCommand, DoesEveryOtherThingTheMenusDo) {
    const auto ids = [](const char* key, std::vector<std::string> more) {
        std::vector<std::string> words = {"edit", kSaloon, "--json"};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_NE(ran.code, kExitBadInput) << ran.err;
        return texts(ran.json()[key]);
    };
    using testing::Contains;
    EXPECT_THAT(ids("made", {"--break", "sill_bar"}), Contains("sill_bar_right"));
    EXPECT_THAT(ids("changed", {"--mirror", "dash_bar"}), Contains("dash_bar"));
    EXPECT_THAT(ids("made", {"--duplicate", "dash_bar"}), Contains("dash_bar_2"));
    EXPECT_THAT(ids("gone", {"--delete", "dash_bar", "--delete", "sill_bar"}),
                testing::ElementsAre("dash_bar", "sill_bar"));
    EXPECT_THAT(ids("changed", {"--change", "dash_bar", "--change", "sill_bar", "--tube", "38x2.5"}),
                testing::ElementsAre("dash_bar", "sill_bar"));
    EXPECT_THAT(ids("changed", {"--change", "main_hoop", "--radius", "200"}), Contains("main_hoop"));
    EXPECT_THAT(ids("made", {"--refit", "side_bar"}), Contains("side_bar_right"));
    EXPECT_THAT(ids("changed", {"--extend", "belt_bar", "--end", "last"}), Contains("belt_bar"));
}

TEST(EditCommand, EndsWithOneWhereSomethingIsWorse) {
    const Ran ran = run({"edit", kSaloon, "--delete", "belt_bar"});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_THAT(ran.out, HasSubstr("Now falls short: "));
    EXPECT_THAT(ran.out, HasSubstr("it certifies nothing"));
}

TEST(EditCommand, SaysWhatItWasNotToldAndWhatCannotBeDone) {
    const auto err = [](std::vector<std::string> more) {
        std::vector<std::string> words = {"edit", kSaloon};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        EXPECT_EQ(ran.out, "");
        return ran.err;
    };
    EXPECT_THAT(err({}), HasSubstr("say what is to be done"));
    EXPECT_THAT(err({"--cut", "belt_bar"}), HasSubstr("--through ID is missing"));
    EXPECT_THAT(err({"--join", "belt_bar"}), HasSubstr("--with ID is missing"));
    EXPECT_THAT(err({"--make-x", "belt_bar", "--break", "sill_bar"}), HasSubstr("one at a time"));
    EXPECT_THAT(err({"--break", "belt_bar"}), HasSubstr("is no pair"));
    EXPECT_THAT(err({"--mirror", "sill_bar"}), HasSubstr("a pair already"));
    EXPECT_THAT(err({"--refit", "dash_bar"}), HasSubstr("not a pair"));
    EXPECT_THAT(err({"--delete", "nothing"}), HasSubstr("no bar or plate 'nothing'"));
    EXPECT_THAT(err({"--extend", "nothing"}), HasSubstr("no bar 'nothing'"));
    EXPECT_THAT(err({"--extend", "dash_bar"}), HasSubstr("say --end first or last"));
    EXPECT_THAT(err({"--extend", "dash_bar", "--end", "middle"}), HasSubstr("neither first nor last"));
    EXPECT_THAT(err({"--change", "dash_bar"}), HasSubstr("say what is to change"));
    EXPECT_THAT(err({"--change", "dash_bar", "--tube", "9x9"}), HasSubstr("has no '9x9'"));
    EXPECT_THAT(err({"--change", "dash_bar", "--role", "ladder"}), HasSubstr("no role 'ladder'"));
    EXPECT_THAT(err({"--change", "dash_bar", "--radius", "-5"}), HasSubstr("more than 0"));
}

}  // namespace
