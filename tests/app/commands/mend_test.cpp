// Ways out, what a person says of a job, and reports of another day, by the command line.
#include <gmock/gmock.h>

#include <filesystem>

#include "core/files/job_file.h"
#include "tests/app/commands/spoiled.h"

using namespace hoopwright;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

namespace {

std::string table(const std::string& rules, const std::string& edition = "1") {
    return "hoopwright: rules\nversion: 1\nid: club\ntitle: Club\nedition: '" + edition +
           "'\nwritten_by: W\npublished: no\nunits: mm\nadvice: A.\nrules:\n" + rules;
}
const std::string kThin =
    "  - {id: thin, title: Thin foot, sentence: S., measure: plate_thickness, of: {under: {role: "
    "main_hoop}}, more_than: 3}\n";
const std::string kWall =
    "  - {id: wall, title: Wall, sentence: S., known: memory, measure: wall, of: {role: main_hoop}, "
    "at_least: 2}\n";
const std::string kAsk = "  - {id: welds, title: Welds, sentence: S., ask: 'Is it welded?'}\n";

TEST(MendCommand, TakesOneAndWritesACageThatMeets) {
    const SpoiledFolder folder;
    const std::string rules = folder.write("club.yaml", table(kThin)), out = folder.path("mended.yaml");
    ASSERT_EQ(run({"check", kSaloon, "--rules", rules}).code, kExitFallsShort);
    const Ran list = run({"mend", kSaloon, "thin", "--rules", rules});
    EXPECT_EQ(list.code, kExitGood) << list.err;
    EXPECT_THAT(list.out, HasSubstr("1. Least size"));
    const Ran taken = run({"mend", kSaloon, "thin", "--rules", rules, "--take", "1", "--out", out});
    ASSERT_EQ(taken.code, kExitGood) << taken.err;
    EXPECT_THAT(taken.out, HasSubstr("Wrote " + out));
    EXPECT_EQ(run({"check", out, "--rules", rules}).code, kExitGood)
        << run({"check", out, "--rules", rules}).out;
}

TEST(MendCommand, SaysWhatIsWrongWithTheWish) {
    const SpoiledFolder folder;
    const std::string rules = folder.write("club.yaml", table(kThin));
    EXPECT_THAT(run({"mend", kSaloon, "nothing", "--rules", rules}).err,
                HasSubstr("no table in use has a rule"));
    EXPECT_THAT(run({"mend", kSaloon, "--rules", rules, "--take", "99"}).err, HasSubstr("--take"));
    EXPECT_THAT(run({"mend", kSaloon, "--rules", rules, "--out", folder.path("x.yaml")}).err,
                HasSubstr("--take N is missing"));
    const std::string good = folder.write("good.yaml", table(kAsk));
    EXPECT_THAT(run({"mend", kSaloon, "--rules", good}).out, HasSubstr("nothing to mend"));
}

TEST(CheckAs, ListsWhatAnotherClassWantsChanged) {
    const SpoiledFolder folder;
    const std::string rules = folder.write(
        "club.yaml",
        table(kThin +
              "  - {id: tube, title: Tube, sentence: S., measure: od, of: {role: rear_brace}, at_least: 42}\n"
              "  - {id: never, title: Never, sentence: S., measure: od, of: {role: belt_bar}, at_least: "
              "99}\n"));
    const Ran ran = run({"check", kSaloon, "--as", rules});
    EXPECT_EQ(ran.code, kExitFallsShort);
    EXPECT_THAT(ran.out, HasSubstr("WHAT WOULD HAVE TO CHANGE (2)"));
    EXPECT_THAT(ran.out, HasSubstr("EUR"));
    EXPECT_THAT(ran.out, HasSubstr("No way out was found for:"));
    const QJsonObject move = run({"check", kSaloon, "--as", rules, "--json"}).json()["move"].toObject();
    EXPECT_EQ(move["steps"].toArray().size(), 2);
    EXPECT_EQ(move["left"].toArray().size(), 2) << "the belt bar is in two halves";
    double sum = 0;
    for (const QJsonValue& step : move["steps"].toArray()) sum += step.toObject()["adds_kg"].toDouble();
    EXPECT_NEAR(sum, move["adds_kg"].toDouble(), 1e-9);
    EXPECT_EQ(run({"check", kSaloon, "--as", rules, "--rules", rules}).code, kExitBadInput);
}

TEST(Tick, TurnsWhatMeetsIntoAPass) {
    const SpoiledFolder folder;
    const std::string rules = folder.write("club.yaml", table(kWall)), out = folder.path("ticked.yaml");
    const Ran before = run({"check", kSaloon, "--rules", rules});
    EXPECT_EQ(before.code, kExitFallsShort);
    EXPECT_THAT(before.out, HasSubstr("MEETS, NOT CONFIRMED (1)"));
    ASSERT_EQ(run({"tick", kSaloon, "wall", "--rules", rules, "--who", "A. Fitter", "--when", "2026-03-02",
                   "--out", out})
                  .code,
              kExitGood);
    EXPECT_EQ(run({"check", out, "--rules", rules}).code, kExitGood);
    const std::string next = folder.write("next.yaml", table(kWall, "2"));
    EXPECT_EQ(run({"check", out, "--rules", next}).code, kExitFallsShort) << "a tick is for one edition";
    EXPECT_THAT(run({"tick", kSaloon, "wall", "--rules", rules}).err, HasSubstr("--who NAME is missing"));
    EXPECT_THAT(run({"tick", kSaloon, "wall", "--rules", rules, "--who", "A", "--when", "soon"}).err,
                HasSubstr("no date"));
    const std::string read = folder.write("read.yaml", table(kThin));
    EXPECT_THAT(run({"tick", kSaloon, "thin", "--rules", read, "--who", "A"}).err,
                HasSubstr("nothing to tick off"));
}

TEST(Answer, KeepsWhoWhenNoteAndPhotoAndSaysIfThePhotoIsGone) {
    const SpoiledFolder folder;
    const std::string cage = folder.write("cage.yaml", SpoiledFolder::cageText());
    const std::string rules = folder.write("club.yaml", table(kAsk)), out = folder.path("said.yaml");
    const std::vector<std::string> asks{"answer",    cage,       "welds",      "--rules", rules,    "--who",
                                        "A. Fitter", "--when",   "2026-03-02", "--good",  "--note", "seen",
                                        "--photo",   "weld.jpg", "--out",      out};
    EXPECT_THAT(run(asks).err, HasSubstr("there is no file"));
    const std::string photo = folder.write("weld.jpg", "a picture");
    ASSERT_EQ(run(asks).code, kExitGood) << run(asks).err;
    const auto answered = [&] {
        const QJsonArray all = run({"check", out, "--rules", rules, "--json"}).json()["findings"].toArray();
        return all[0].toObject()["answered"].toObject();
    };
    EXPECT_EQ(answered()["photo"].toString(), "weld.jpg");
    EXPECT_TRUE(answered()["photo_is_there"].toBool());
    std::filesystem::remove(photo);
    EXPECT_FALSE(answered()["photo_is_there"].toBool());
    EXPECT_THAT(run({"check", out, "--rules", rules}).out, HasSubstr("photo weld.jpg, which is not there"));
    EXPECT_THAT(run({"answer", cage, "welds", "--rules", rules, "--who", "A"}).err,
                HasSubstr("--good or --not-good"));
}

TEST(EditionsCommand, SaysRuleByRuleWhatANewerTableSaysOtherwise) {
    const SpoiledFolder folder;
    const std::string first = folder.write("club.yaml", table(kThin + kWall)),
                      next = folder.write("next.yaml",
                                          table(with(kThin, "more_than: 3", "more_than: 4") + kAsk, "2")),
                      kept = folder.path("kept.yaml");
    EXPECT_THAT(run({"editions", kSaloon, "--rules", first}).out,
                HasSubstr("the job keeps no edition of it yet"));
    ASSERT_EQ(
        run({"editions", kSaloon, "--rules", first, "--keep", "--when", "2026-03-02", "--out", kept}).code,
        kExitGood);
    const Ran same = run({"editions", kept, "--rules", first});
    EXPECT_EQ(same.code, kExitGood);
    EXPECT_THAT(same.out, HasSubstr("as kept on 2026-03-02"));
    const Ran news = run({"editions", kept, "--rules", next});
    EXPECT_EQ(news.code, kExitFallsShort);
    for (const char* words : {"edition 2 in place of 1", "changed: thin, Thin foot", "more_than: 3",
                              "more_than: 4", "added: welds, Welds", "gone: wall"})
        EXPECT_THAT(news.out, HasSubstr(words));
    EXPECT_THAT(run({"check", kept, "--rules", next}).out, HasSubstr("edition 2 in place of 1"));
}

TEST(CheckSince, SaysWhatHasChanged) {
    const SpoiledFolder folder;
    const std::string rules = folder.write("club.yaml", table(kThin + kAsk)),
                      out = folder.path("mended.yaml");
    const std::string old = folder.write("old.json", run({"check", kSaloon, "--rules", rules, "--json"}).out);
    EXPECT_THAT(run({"check", kSaloon, "--rules", rules, "--since", old}).out,
                HasSubstr("Nothing has changed since"));
    run({"mend", kSaloon, "thin", "--rules", rules, "--take", "1", "--out", out});
    const Ran ran = run({"check", out, "--rules", rules, "--since", old});
    EXPECT_THAT(ran.out, HasSubstr("2 findings changed since"));
    EXPECT_THAT(ran.out, HasSubstr("fails before, now meets"));
    const std::string wrong = folder.write("wrong.json", "{\"hoopwright\": \"order\"}");
    EXPECT_EQ(run({"check", out, "--rules", rules, "--since", wrong}).code, kExitBadInput);
    EXPECT_THAT(run({"check", out, "--rules", rules, "--since", folder.path("none.json")}).err,
                HasSubstr("cannot be read"));
    EXPECT_THAT(run({"check", out, "--rules", rules, "--since", folder.write("bad.json", "{")}).err,
                HasSubstr("it is not JSON"));
}

}  // namespace
