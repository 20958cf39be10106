// hoopwright show, and the pictures it and hoopwright picture make.
#include <gmock/gmock.h>

#include <QFile>
#include <QImage>
#include <QtEndian>
#include <filesystem>

#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;

namespace {

namespace fs = std::filesystem;

TEST(ShowCommand, WritesAPdfWholeAndSaysItsPages) {
    const SpoiledFolder folder;
    const std::string out = folder.path("customer.pdf");
    const Ran ran = run({"show", kSaloon, "--out", out, "--date", "2026-03-09"});
    EXPECT_EQ(ran.code, 0) << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("pages; "));
    EXPECT_THAT(textOf(out).substr(0, 5), "%PDF-");
    EXPECT_GT(fs::file_size(out), 100'000u) << "with its pictures";
    EXPECT_LT(fs::file_size(out), 12'000'000u);
    int files = 0;
    for (const auto& each : fs::directory_iterator(fs::path(out).parent_path())) files += each.exists();
    EXPECT_EQ(files, 1) << "nothing is left beside it";
}

TEST(ShowCommand, CountsTheAnswersThatTheCheckCounts) {
    for (const std::string& cage : {kSaloon, kPickup}) {
        const QJsonObject shown = run({"show", cage, "--json"}).json();
        const QJsonObject counts = run({"check", cage, "--json"}).json()["counts"].toObject();
        for (const char* key : {"fails", "cannot_tell", "ask_person", "meets", "does_not_apply"})
            EXPECT_EQ(shown["counts"].toObject()[key], counts[key]) << key;
        EXPECT_EQ(shown["revision"].toString(),
                  run({"sheets", cage, "--json"}).json()["revision"].toString());
        EXPECT_EQ(shown["date"].toString().size(), 10);
    }
}

TEST(ShowCommand, RefusesInASentence) {
    EXPECT_THAT(run({"show", kSaloon}).err, HasSubstr("--out FILE.pdf is missing"));
    EXPECT_THAT(run({"show", kSaloon, "--out", "a.png"}).err, HasSubstr("does not end in .pdf"));
    EXPECT_THAT(run({"show", kSaloon, "--out", "a.pdf", "--date", "9.3.2026"}).err,
                HasSubstr("write it as 2026-03-09"));
    EXPECT_THAT(run({"show", kSaloon, "--out", "/nowhere/at/all/a.pdf"}).err, HasSubstr("does not exist"));
    const SpoiledFolder folder;
    folder.write("mark.png", "no picture");
    const std::string shop = folder.write("shop.yaml",
                                          "hoopwright: shop\nversion: 1\nunits: mm\nname: S\nhole_saws: []\n"
                                          "mark: mark.png\n");
    const std::string cage = folder.cage(dataFile("stock/shop_metric.yaml"), shop);
    const Ran ran = run({"show", cage, "--out", folder.path("a.pdf")});
    EXPECT_EQ(ran.code, 2);
    EXPECT_THAT(ran.err, HasSubstr("mark: 'mark.png' can't be read as a picture"));
    EXPECT_FALSE(fs::exists(folder.path("a.pdf")));
}

TEST(PictureCommand, WritesAFileThatMovesAndItsFrames) {
    const SpoiledFolder folder;
    const std::string out = folder.path("turn.png"), frames = folder.path("frames");
    const Ran ran = run({"picture", kSaloon, "--turntable", "3", "--frames", frames, "--size", "160x100",
                         "--no-labels", "--out", out});
    ASSERT_EQ(ran.code, 0) << ran.err;
    const QByteArray file = QByteArray::fromStdString(textOf(out));
    EXPECT_TRUE(file.mid(37, 4) == "acTL") << "straight behind the header";
    EXPECT_EQ(qFromBigEndian<quint32>(file.constData() + 41), 3u);
    for (const char* name : {"frame_001.png", "frame_002.png", "frame_003.png"}) {
        const QImage frame(QString::fromStdString((fs::path(frames) / name).string()));
        EXPECT_EQ(frame.size(), QSize(160, 100)) << name;
    }
    EXPECT_EQ(QImage(QString::fromStdString(out)),
              QImage(QString::fromStdString((fs::path(frames) / "frame_001.png").string())));
}

TEST(PictureCommand, TakesKeptViewsFindingsNumbersAndWhatIsLeftOut) {
    const SpoiledFolder folder;
    const std::string kept = folder.write(
        "kept.yaml", SpoiledFolder::cageText() +
                         "views:\n  - {name: From the kerb, eye: [4000, 3000, 900], target: [0, 0, 400]}\n");
    const auto picture = [&](std::vector<std::string> more) {
        const std::string out = folder.path("p.png");
        std::vector<std::string> words = {"picture", kept, "--size", "320x200", "--out", out};
        words.insert(words.end(), more.begin(), more.end());
        const Ran ran = run(words);
        EXPECT_EQ(ran.code, 0) << ran.err;
        return QImage(QString::fromStdString(out));
    };
    const QImage usual = picture({});
    EXPECT_NE(picture({"--view", "From the kerb"}), usual);
    EXPECT_NE(picture({"--numbers"}), usual);
    EXPECT_NE(picture({"--without", "front_return"}), usual);
    const QString rule =
        run({"check", kSaloon, "--json"}).json()["findings"].toArray()[0].toObject()["rule"].toString();
    EXPECT_NE(picture({"--finding", rule.toStdString()}), usual);
    EXPECT_THAT(run({"picture", kept, "--view", "From the curb", "--out", "a.png"}).err,
                HasSubstr("did you mean From the kerb?"));
    EXPECT_THAT(run({"picture", kept, "--finding", "none_such_rule_at_all", "--out", "a.png"}).err,
                HasSubstr("no rule answered"));
    EXPECT_THAT(run({"picture", kept, "--without", "front_retur", "--out", "a.png"}).err,
                HasSubstr("did you mean front_return?"));
    EXPECT_THAT(run({"picture", kept, "--frames", "d", "--out", "a.png"}).err, HasSubstr("goes with"));
    EXPECT_THAT(run({"picture", kept, "--turntable", "1", "--out", "a.png"}).err,
                HasSubstr("whole number from 2"));
}

}  // namespace
