// The nodes command, pinned dimensions in geometry, and the ways a picture can be drawn.
#include <gmock/gmock.h>

#include <QImage>
#include <cmath>

#include "core/files/job_file.h"
#include "core/model/node_report.h"
#include "core/model/resolve.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

constexpr const char* kPinned =
    "dimensions:\n"
    "  - {id: belt_height, name: Belt height, kind: height, from: {on: belt_bar, fraction: 0.5}, over: "
    "sill}\n"
    "  - {id: hoop_gap, kind: gap, bars: [main_hoop, door_bar.left]}\n"
    "  - {id: lost, kind: centres, bars: [main_hoop, no_such_bar]}\n"
    "  - {id: lean, kind: angle, from: {on: main_hoop, distance: 300}, to: {on: belt_bar, fraction: 0.4}}\n"
    "members:";

TEST(NodesCommand, SaysTheSameAsTheReport) {
    for (const std::string& file : {kSaloon, kPickup}) {
        const Ran ran = run({"nodes", file, "--json"});
        ASSERT_EQ(ran.code, kExitGood) << ran.err;
        const JobResult opened = readJob(file);
        ASSERT_TRUE(opened.job);
        const CageGeometry now = resolve(*opened.job);
        const NodeReport report = nodeReport(now);
        const QJsonObject json = ran.json();
        EXPECT_EQ(json["hoopwright"].toString(), "nodes");
        EXPECT_EQ(json["near_mm"].toDouble(), kNearNode_mm);
        ASSERT_EQ(std::size_t(json["nodes"].toArray().size()), now.nodes.size());
        ASSERT_EQ(std::size_t(json["open_bays"].toArray().size()), report.bays.size());
        ASSERT_EQ(std::size_t(json["free_bends"].toArray().size()), report.free_bends.size());
        ASSERT_EQ(std::size_t(json["near_ends"].toArray().size()), report.near_ends.size());
        for (std::size_t i = 0; i < report.nodes.size(); ++i) {
            const QJsonObject node = json["nodes"].toArray()[int(i)].toObject();
            EXPECT_EQ(node["greatest_offset_mm"].toDouble(), report.nodes[i].greatest_offset_mm);
            EXPECT_EQ(node["key"].toString().toStdString(), report.nodes[i].key);
        }
        EXPECT_GT(report.bays.size(), 0u);
        EXPECT_THAT(run({"nodes", file}).out, HasSubstr("Bays with nothing across"));
    }
}

TEST(NodesCommand, NearIsInTheCagesUnitAndMustBeSomething) {
    EXPECT_EQ(run({"nodes", kSaloon, "--near", "80", "--json"}).json()["near_mm"].toDouble(), 80);
    EXPECT_NEAR(run({"nodes", kPickup, "--near", "4", "--json"}).json()["near_mm"].toDouble(), 101.6, 1e-9);
    EXPECT_THAT(run({"nodes", kSaloon, "--near", "0"}).err, HasSubstr("more than nothing"));
    EXPECT_THAT(run({"nodes", kSaloon, "--near", "x"}).err, HasSubstr("--near: "));
}

TEST(GeometryCommand, PinnedDimensionsInFullAndWhatIsGoneSaysSo) {
    const SpoiledFolder folder;
    const std::string cage = folder.cage("members:", kPinned);
    const Ran ran = run({"geometry", cage, "--json"});
    ASSERT_EQ(ran.code, kExitGood) << ran.err;
    const QJsonArray list = ran.json()["dimensions"].toArray();
    ASSERT_EQ(list.size(), 4);
    const CageGeometry now = resolve(*readJob(cage).job);
    const Centreline& belt = now.members[std::size_t(now.member("belt_bar"))].line;
    EXPECT_NEAR(list[0].toObject()["value_mm"].toDouble(), belt.point(belt.length_mm() / 2).z(), 1e-9);
    EXPECT_EQ(list[0].toObject()["name"].toString(), "Belt height");
    EXPECT_EQ(list[0].toObject()["over"].toString(), "sill");
    EXPECT_TRUE(list[2].toObject()["value_mm"].isNull());
    EXPECT_THAT(list[2].toObject()["trouble"].toString().toStdString(),
                HasSubstr("no_such_bar is not there"));
    EXPECT_GT(list[3].toObject()["value_deg"].toDouble(), 1);
    EXPECT_EQ(list[3].toObject()["apex_mm"].toArray().size(), 3);
    const Ran text = run({"geometry", cage});
    EXPECT_THAT(text.out, HasSubstr("Belt height"));
    EXPECT_THAT(text.out, HasSubstr("lost: The bar no_such_bar"));
    for (const QJsonValue& member : ran.json()["members"].toArray()) {
        EXPECT_NE(member.toObject()["place"].toString(), "");
        EXPECT_NE(member.toObject()["state"].toString(), "");
    }
}

QImage drawn(const SpoiledFolder& folder, const std::string& cage, std::vector<std::string> more) {
    const std::string out = folder.path("picture.png");
    std::vector<std::string> words = {"picture", cage, "--out", out, "--size", "480x300"};
    words.insert(words.end(), more.begin(), more.end());
    const Ran ran = run(words);
    EXPECT_EQ(ran.code, kExitGood) << ran.err;
    return QImage(QString::fromStdString(out)).convertToFormat(QImage::Format_RGB32);
}

TEST(PictureCommand, EachWayOfSeeingChangesThePicture) {
    const SpoiledFolder folder;
    const std::string cage = folder.cage("members:", kPinned);
    const QImage plain = drawn(folder, cage, {});
    ASSERT_FALSE(plain.isNull());
    for (const std::vector<std::string>& more :
         std::vector<std::vector<std::string>>{{"--section", "y=0"},
                                               {"--section", "x=300,other"},
                                               {"--only", "main_hoop", "--only", "belt_bar"},
                                               {"--x-ray", "main_hoop"},
                                               {"--upright"},
                                               {"--no-dimensions"},
                                               {"--legend"},
                                               {"--paint", "role"},
                                               {"--paint", "state"},
                                               {"--paint", "result"}})
        EXPECT_NE(drawn(folder, cage, more), plain) << more[0];
}

TEST(PictureCommand, SaysWhatIsWrongWithASection) {
    const SpoiledFolder folder;
    const auto err = [&](std::vector<std::string> more) {
        std::vector<std::string> words = {"picture", kSaloon, "--out", folder.path("p.png")};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, kExitBadInput);
        return ran.err;
    };
    for (const char* bad : {"w=3", "x", "x:3", "x=3,this"})
        EXPECT_THAT(err({"--section", bad}), HasSubstr("is no section: write the axis and the place")) << bad;
    EXPECT_THAT(err({"--section", "x=far"}), HasSubstr("--section: "));
    EXPECT_THAT(err({"--only", "main_hop"}), HasSubstr("did you mean main_hoop?"));
    EXPECT_THAT(err({"--x-ray", "door_bar"}), HasSubstr("no bar or plate 'door_bar'"));
}

}  // namespace
