// hoopwright sheets and hoopwright shop, from the command line.
#include <gmock/gmock.h>

#include <filesystem>

#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::IsEmpty;

namespace {

namespace fs = std::filesystem;

TEST(SheetsCommand, WritesEveryPaperAndSaysWhatItWrote) {
    const SpoiledFolder folder;
    const std::string out = folder.path("papers");
    const Ran ran = run({"sheets", kSaloon, "--out", out, "--json"});
    EXPECT_NE(ran.code, 2) << ran.err;
    const QJsonArray files = ran.json()["files"].toArray();
    EXPECT_GT(files.size(), 60);
    for (const QJsonValue& file : files) {
        const fs::path name = file.toString().toStdString();
        ASSERT_TRUE(fs::exists(name)) << name;
        EXPECT_GT(fs::file_size(name), 20u) << name;
    }
    for (const char* name : {"bends.pdf", "bends.csv", "copes.pdf", "copes.csv", "order.pdf", "order.csv"})
        EXPECT_TRUE(fs::exists(fs::path(out) / name)) << name;
    EXPECT_THAT(textOf(fs::path(out) / "bends.pdf").substr(0, 5), "%PDF-");
}

TEST(SheetsCommand, WritesOnlyWhatIsAskedForOnThePaperAskedFor) {
    const SpoiledFolder folder;
    const std::string out = folder.path("papers");
    const Ran ran = run({"sheets", kPickup, "--out", out, "--only", "order", "--paper", "A4"});
    EXPECT_NE(ran.code, 2) << ran.err;
    int count = 0;
    for (const auto& each : fs::directory_iterator(out)) count += each.is_regular_file();
    EXPECT_EQ(count, 2);
    EXPECT_THAT(textOf(fs::path(out) / "order.pdf"), HasSubstr("/MediaBox [0 0 595"));
}

TEST(SheetsCommand, RefusesWhatItDoesNotKnowInASentence) {
    EXPECT_EQ(run({"sheets", kSaloon}).code, 2);
    EXPECT_THAT(run({"sheets", kSaloon}).err, HasSubstr("--out DIR is missing"));
    EXPECT_THAT(run({"sheets", kSaloon, "--out", "x", "--only", "bend"}).err,
                HasSubstr("did you mean bends?"));
    EXPECT_THAT(run({"sheets", kSaloon, "--out", "x", "--paper", "A5"}).err, HasSubstr("A4 or Letter"));
    const SpoiledFolder folder;
    folder.write("file", "");
    EXPECT_THAT(run({"sheets", kSaloon, "--out", folder.path("file/in")}).err,
                HasSubstr("no folder can be made"));
}

TEST(SheetsCommand, NamesTheBarsWithoutASheetAndPrintsNoGuess) {
    const SpoiledFolder folder;
    const std::string dies = folder.write("dies.yaml",
                                          "hoopwright: dies\nversion: 1\nunits: mm\nname: None\ndies:\n"
                                          "  - {id: d38, od: 38, radius: 115}\n");
    std::string text = with(SpoiledFolder::cageText(), dataFile("stock/dies_metric.yaml"), dies);
    for (std::size_t at = text.find("stock: 45x2.5\n"); at != std::string::npos;
         at = text.find("stock: 45x2.5\n", at + 1))
        text.insert(at + 14, "    bend_radius: 135\n");
    const Ran ran = run({"sheets", folder.write("cage.yaml", text), "--json"});
    EXPECT_EQ(ran.code, 1) << ran.err;
    const QJsonObject json = ran.json();
    EXPECT_THAT(json["bend_sheets"].toArray(), IsEmpty());
    ASSERT_GE(json["left_out"].toArray().size(), 3);
    EXPECT_THAT(json["left_out"].toArray()[0].toString().toStdString(),
                HasSubstr("there is no die for a tube of 45.0 mm bent at a radius of 135.0 mm"));
}

TEST(SheetsCommand, TellsTwoStatesOfAJobApart) {
    const SpoiledFolder folder;
    const QString one = run({"sheets", kSaloon, "--json"}).json()["revision"].toString();
    EXPECT_EQ(one.size(), 8);
    const std::string moved = folder.cage("height: 515", "height: 516");
    EXPECT_NE(run({"sheets", moved, "--json"}).json()["revision"].toString(), one);
}

TEST(ShopCommand, SaysWhatTheTrialBendsComeTo) {
    const Ran ran = run({"shop", dataFile("stock/shop_metric.yaml")});
    EXPECT_EQ(ran.code, 0) << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("Floor bender"));
    EXPECT_THAT(ran.out, HasSubstr("4 trial bends: dial 92."));
    EXPECT_THAT(ran.out, HasSubstr("1 trial bend; 3 are needed before it says what to dial"));
    const Ran wrong = run({"shop", dataFile("stock/metric.yaml")});
    EXPECT_EQ(wrong.code, 2);
    EXPECT_THAT(wrong.err, HasSubstr("metric.yaml:1:"));
}

}  // namespace
