// hoopwright pack, and readings, papers and inspections from the command line.
#include <gmock/gmock.h>

#include <filesystem>

#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::Not;

namespace {

namespace fs = std::filesystem;

TEST(PackCommand, WritesEveryFileOnceAndSaysWhich) {
    const SpoiledFolder folder;
    const std::string out = folder.path("papers");
    const Ran ran = run({"pack", kPickup, "--out", out, "--when", "2026-03-02", "--json"});
    EXPECT_NE(ran.code, 2) << ran.err;
    const QJsonArray files = ran.json()["files"].toArray();
    EXPECT_EQ(files.size(), 11);
    int there = 0;
    for (const auto& each : fs::directory_iterator(out)) there += each.is_regular_file();
    EXPECT_EQ(there, 11);  // and nothing half done beside them
    EXPECT_THAT(textOf(fs::path(out) / "inspector.pdf").substr(0, 5), "%PDF-");
    EXPECT_THAT(textOf(fs::path(out) / "inspector.pdf"), HasSubstr("/MediaBox [0 0 612"));  // Letter: inches
    EXPECT_EQ(ran.json()["made"].toString(), QStringLiteral("2026-03-02"));
    EXPECT_THAT(ran.json()["caution"].toString().toStdString(), HasSubstr("certifies"));
}

TEST(PackCommand, EndsAsCheckDoes) {
    for (const std::string& cage : {kSaloon, kFaultySaloon})
        EXPECT_EQ(run({"pack", cage, "--json"}).code, run({"check", cage}).code);
}

TEST(PackCommand, RefusesWhatItDoesNotKnowInASentence) {
    EXPECT_EQ(run({"pack", kSaloon}).code, 2);
    EXPECT_THAT(run({"pack", kSaloon}).err, HasSubstr("--out DIR is missing"));
    EXPECT_THAT(run({"pack", kSaloon, "--out", "x", "--paper", "A5"}).err, HasSubstr("A4 or Letter"));
    EXPECT_THAT(run({"pack", kSaloon, "--out", "x", "--when", "March"}).err,
                HasSubstr("write it as 2026-03-02"));
    const SpoiledFolder folder;
    folder.write("file", "");
    EXPECT_THAT(run({"pack", kSaloon, "--out", folder.path("file/in")}).err,
                HasSubstr("no folder can be made"));
}

TEST(AsBuiltCommands, AReadingIsJudgedByCheckAndItsDriftIsSaid) {
    const SpoiledFolder folder;
    const std::string read = folder.path("read.yaml");
    const Ran ran =
        run({"edit", kSaloon, "--reading", "rear_brace.left", "--quantity", "angle_to_vertical", "--value",
             "20 deg", "--spot", "side view", "--who", "A. Fitter", "--when", "2026-03-02", "--out", read});
    EXPECT_NE(ran.code, 2) << ran.err;
    const Ran checked = run({"check", read});
    EXPECT_EQ(checked.code, 1);
    EXPECT_THAT(checked.out, HasSubstr("Measured on the built cage."));
    EXPECT_THAT(checked.out, HasSubstr("AS BUILT (1)"));
    EXPECT_THAT(checked.out, HasSubstr("-27.6"));
    const QJsonArray built = run({"check", read, "--json"}).json()["as_built"].toArray();
    ASSERT_EQ(built.size(), 1);
    EXPECT_NEAR(built[0].toObject()["measured_deg"].toDouble(), 20, 1e-9);
    EXPECT_NEAR(built[0].toObject()["drift_deg"].toDouble(),
                20 - built[0].toObject()["planned_deg"].toDouble(), 1e-9);
    EXPECT_THAT(run({"check", kSaloon}).out, Not(HasSubstr("AS BUILT")));
}

TEST(AsBuiltCommands, PapersAndInspectionsAreKept) {
    const SpoiledFolder folder;
    const std::string first = folder.path("first.yaml"), second = folder.path("second.yaml");
    folder.write("then.json", run({"check", kFaultySaloon, "--json"}).out);
    EXPECT_NE(
        run({"edit", kSaloon, "--paper", "Belts", "--number", "B-104", "--due", "2026-02-28", "--out", first})
            .code,
        2);
    EXPECT_NE(run({"edit", first, "--inspection", "passed", "--who", "An inspector", "--when", "2025-06-01",
                   "--report", "then.json", "--out", second})
                  .code,
              2);
    const QJsonObject pack = run({"pack", second, "--when", "2026-03-02", "--json"}).json();
    EXPECT_EQ(pack["dates"].toArray()[0].toObject()["days_left"].toInt(), -2);
    const QJsonObject last = pack["inspections"].toArray()[0].toObject();
    EXPECT_EQ(last["trouble"].toString(), QString());
    EXPECT_GT(last["changes"].toArray().size(), 3);  // the planted faults are mended since
    EXPECT_THAT(run({"edit", kSaloon, "--paper", "Belts", "--due", "May"}).err, HasSubstr("YYYY-MM-DD"));
    EXPECT_THAT(run({"edit", kSaloon, "--inspection", "passed"}).err, HasSubstr("--when DAY is missing"));
}

}  // namespace
