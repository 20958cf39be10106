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
    const Ran ran = run({"edit", cage, "--make-cross", "hoop_diagonal", "--json", "--out", out});
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

TEST(EditCommand, AddsABarBetweenPlacesThatAreNamed) {
    const SpoiledFolder folder;
    const std::string out = folder.path("added.yaml");
    const Ran ran = run({"edit", kSaloon, "--add", "sill_bar", "--at", "main_hoop@40%", "--at", "100,300,600",
                         "--at", "b_pillar_top.left", "--of", "40x2", "--json", "--out", out});
    EXPECT_EQ(ran.err, "");
    EXPECT_THAT(texts(ran.json()["made"]), testing::ElementsAre("sill_bar_2"));
    const JobResult after = readJob(out);
    ASSERT_TRUE(after.job);
    const Member* bar = after.job->cage.member("sill_bar_2");
    ASSERT_TRUE(bar);
    EXPECT_EQ(bar->stock, "40x2");
    ASSERT_EQ(bar->path.size(), 3u);
    EXPECT_EQ(std::get<FixedPoint>(bar->path[1].place).at, Vec3(100, 300, 600));
    EXPECT_EQ(std::get<AtCarPoint>(bar->path[2].place).point, "b_pillar_top.left");
    // It lands two fifths along the hoop's centreline.
    const CageGeometry now = resolve(*after.job);
    const ResolvedMember& hoop = now.members[std::size_t(now.member("main_hoop"))];
    const int made = std::max(now.member("sill_bar_2"), now.member("sill_bar_2.left"));
    ASSERT_GE(made, 0);
    EXPECT_NEAR(
        (now.members[std::size_t(made)].line.start() - hoop.line.point(0.4 * hoop.line.length_mm())).norm(),
        0, 0.2)
        << "places picked are said to a tenth";
}

TEST(EditCommand, AddsPlatesGussetsTiesAndRisers) {
    const SpoiledFolder folder;
    const auto made = [&](const std::string& name, std::vector<std::string> words) {
        const std::string out = folder.path(name);
        words.insert(words.end(), {"--out", out});
        const Ran ran = run(words);
        EXPECT_NE(ran.code, kExitBadInput) << ran.err;
        const JobResult after = readJob(out);
        return after.job ? *after.job : Job{};
    };
    const Job plated = made("plate.yaml", {"edit", kSaloon, "--plate", "-300,500,10", "--size", "150x90x4"});
    const Plate& plate = plated.cage.plates.back();
    EXPECT_EQ(Vec3(plate.length_mm, plate.width_mm, plate.thickness_mm), Vec3(150, 90, 4));
    EXPECT_TRUE(plate.mirrored);
    const Job cornered =
        made("gusset.yaml", {"edit", kSaloon, "--gusset", "main_hoop", "--with", "belt_bar", "--leg", "65"});
    EXPECT_EQ(cornered.cage.gussets.back().leg_mm, 65);
    EXPECT_EQ(cornered.cage.gussets.back().member_b, "belt_bar");
    const Job before = *readJob(kPickup).job;
    const Job tied =
        made("tie.yaml", {"edit", kPickup, "--tie", before.cage.plates.front().id + ".left", "--bolted"});
    EXPECT_THAT(tied.cage.plates, testing::Contains(testing::Field(&Plate::fixing, Fixing::bolted)));
    const std::string foot = before.cage.plates.front().id;
    const Job raised = made("riser.yaml", {"edit", kPickup, "--riser", foot, "--height", "2"});
    ASSERT_TRUE(raised.cage.plate(foot)->riser);
    EXPECT_NEAR(raised.cage.plate(foot)->riser->height_mm, 50.8, 1e-9);
    EXPECT_NEAR(raised.cage.plate(foot)->riser->wall_mm, 0.083 * 25.4, 1e-9)
        << "a round figure of an inch job";
}

TEST(EditCommand, KeepsReadingsAndCertificates) {
    const SpoiledFolder folder;
    const std::string read = folder.path("read.yaml"), proved = folder.path("proved.yaml");
    const Ran ran =
        run({"edit", kSaloon, "--reading", "main_hoop", "--quantity", "measured_wall", "--value", "0.097 in",
             "--spot", "left leg", "--who", "A. Fitter", "--when", "2026-05-04", "--out", read});
    EXPECT_NE(ran.code, kExitBadInput) << ran.err;
    EXPECT_NE(run({"edit", read, "--certificate", "main_hoop", "--heat", "H1", "--out", proved}).code,
              kExitBadInput);
    const JobResult after = readJob(proved);
    ASSERT_TRUE(after.job);
    ASSERT_EQ(after.job->cage.readings.size(), 1u);
    EXPECT_NEAR(after.job->cage.readings[0].value, 0.097 * 25.4, 1e-12);
    EXPECT_EQ(after.job->cage.readings[0].dimension, Dimension::length);
    EXPECT_EQ(after.job->cage.certificates, (std::vector<Certificate>{{"main_hoop", "H1", ""}}));
    const auto why = [](std::vector<std::string> more) {
        std::vector<std::string> words = {"edit", kSaloon};
        words.insert(words.end(), more.begin(), more.end());
        return run(words).err;
    };
    EXPECT_THAT(why({"--reading", "main_hoop", "--quantity", "mesured_wall", "--value", "2"}),
                HasSubstr("did you mean 'measured_wall'?"));
    EXPECT_THAT(why({"--reading", "main_hoop", "--quantity", "measured_wall", "--value", "30 deg"}),
                HasSubstr("--value"));
    EXPECT_THAT(why({"--certificate", "main_hoop"}), HasSubstr("--heat or --number is missing"));
}

TEST(EditCommand, SaysWhichPlaceItDoesNotKnow) {
    const auto refused = [](std::vector<std::string> more) {
        std::vector<std::string> words = {"edit", kSaloon};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        return ran.err;
    };
    EXPECT_THAT(refused({"--add", "door_bra", "--at", "0,0,0"}),
                HasSubstr("no role 'door_bra'; did you mean 'door_bar'?"));
    EXPECT_THAT(refused({"--add", "door_bar", "--at", "0,0,0"}), HasSubstr("--at PLACE is missing"));
    EXPECT_THAT(refused({"--add", "door_bar", "--at", "main_hop@3", "--at", "0,0,0"}),
                HasSubstr("did you mean 'main_hoop'?"));
    EXPECT_THAT(refused({"--add", "door_bar", "--at", "main_hoop@90000", "--at", "0,0,0"}),
                HasSubstr("is not on 'main_hoop'"));
    EXPECT_THAT(refused({"--add", "door_bar", "--at", "1,2", "--at", "0,0,0"}), HasSubstr("write X,Y,Z"));
    EXPECT_THAT(refused({"--add", "door_bar", "--at", "nowhere", "--at", "0,0,0"}), HasSubstr("is no place"));
    EXPECT_THAT(refused({"--plate", "0,400,0", "--size", "10x0x2"}),
                HasSubstr("'0': it must be more than 0"));
    EXPECT_THAT(refused({"--plate", "0,-400,0"}), HasSubstr("y above 0"));
    EXPECT_THAT(refused({"--gusset", "main_hoop"}), HasSubstr("--with ID is missing"));
    EXPECT_THAT(refused({"--riser", "nothing"}), HasSubstr("no plate 'nothing'"));
    EXPECT_THAT(refused({"--tie", "belt_bar"}), HasSubstr("Choose a foot plate"));
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
    EXPECT_THAT(err({"--make-cross", "belt_bar", "--break", "sill_bar"}), HasSubstr("one at a time"));
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
