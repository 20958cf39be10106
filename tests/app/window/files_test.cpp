// Opening what is no good, saving where it cannot be: the open job, what is chosen and undo stay as they
// were, and the sentence says which file and what to do.
#include <unistd.h>

#include <QDir>
#include <QFile>
#include <fstream>
#include <set>
#include <sstream>

#include "desk_fixture.h"
#include "same_job.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
namespace fs = std::filesystem;

void put(const fs::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
}

class Files : public DeskTest {
protected:
    Files() {
        desk_.document.edit(QStringLiteral("reach"), [](Job& next) { next.cage.node_reach_mm = 61; });
        desk_.document.edit(QStringLiteral("reach"), [](Job& next) { next.cage.node_reach_mm = 62; });
        desk_.document.undoStack().undo();
        choose(Kind::member, "belt_bar");
    }
    fs::path cages() const { return demo_.root() / "cages"; }
    /// Opens it and expects to be told why not, with nothing here changed.
    std::string refused(const fs::path& file) {
        const Job before = job();
        const CageGeometry& geometry = desk_.document.geometry();
        const std::size_t bars = geometry.members.size();
        const std::size_t findings = desk_.document.report().findings.size();
        const fs::path was = desk_.document.files().cage;
        const Problems problems = desk_.document.open(file);
        QCoreApplication::processEvents();
        EXPECT_FALSE(problems.empty()) << file;
        EXPECT_TRUE(job() == before);
        EXPECT_EQ(desk_.document.geometry().members.size(), bars);
        EXPECT_EQ(desk_.document.report().findings.size(), findings);
        EXPECT_EQ(desk_.document.files().cage, was);
        EXPECT_TRUE(desk_.document.dirty());
        EXPECT_TRUE(desk_.document.undoStack().canUndo());
        EXPECT_TRUE(desk_.document.undoStack().canRedo());
        EXPECT_EQ(desk_.selection.all(), std::vector<Thing>({{Kind::member, "belt_bar"}}));
        EXPECT_NE(control<ValueField>(QStringLiteral("Belt bar, first end, height")), nullptr);
        std::string said;
        for (const Problem& problem : problems) {
            EXPECT_FALSE(problem.at.file.empty()) << problem.text();
            said += problem.text() + "\n";
        }
        return said;
    }
    std::string refusedText(const std::string& bytes, const char* name = "bad.yaml") {
        put(cages() / name, bytes);
        return refused(cages() / name);
    }
};

TEST_F(Files, OneThatIsNotThere) {
    EXPECT_THAT(refused(cages() / "not_there.yaml"), HasSubstr("not_there.yaml"));
}

TEST_F(Files, AFolder) {
    EXPECT_THAT(refused(cages()), HasSubstr("cages"));
}

TEST_F(Files, AnEmptyOneAndOneOfBlanks) {
    EXPECT_THAT(refusedText(""), HasSubstr("bad.yaml"));
    EXPECT_THAT(refusedText("\n\n   \n"), HasSubstr("bad.yaml"));
}

TEST_F(Files, OneCutShortAnywhere) {
    const std::string whole = contents(demo_.saloon());
    for (const double part : {0.05, 0.3, 0.6, 0.9}) {
        std::string cut = whole.substr(0, std::size_t(double(whole.size()) * part));
        cut += "\n  - {id: torn, path: [";  // in the middle of a line
        EXPECT_THAT(refusedText(cut), HasSubstr("bad.yaml:")) << part;
    }
}

TEST_F(Files, OneThatIsNoText) {
    std::string bytes;
    for (int n = 0; n < 4096; ++n) bytes += char((n * 7919) % 256);
    refusedText(bytes);
    refusedText(std::string("hoopwright: cage\nversion: 1\nname: a") + '\0' + "b\n");
    refusedText("\x89PNG\r\n\x1a\n" + bytes);
}

TEST_F(Files, OneInAnotherEncoding) {
    std::string wide = "\xff\xfe";
    for (const char c : contents(demo_.saloon()).substr(0, 2000)) wide += {c, '\0'};
    refusedText(wide);
    EXPECT_THAT(refusedText("hoopwright: cage\nversion: 1\nname: caf\xe9\n"), HasSubstr("bad.yaml"));
}

TEST_F(Files, OneOfALaterVersionOrAnotherKind) {
    EXPECT_THAT(refusedText("hoopwright: cage\nversion: 999\n"), HasSubstr("later version"));
    EXPECT_THAT(refused(demo_.root() / "cars" / "saloon.yaml"), HasSubstr("car"));
    EXPECT_THAT(refused(demo_.root() / "rules" / "club_hillclimb.yaml"), HasSubstr("rules"));
}

TEST_F(Files, OneWhoseCarDriverStockOrTableIsGoneOrWrong) {
    for (const char* part : {"cars/saloon.yaml", "drivers/saloon_tall.yaml", "stock/metric.yaml",
                             "stock/dies_metric.yaml", "rules/club_hillclimb.yaml"}) {
        SCOPED_TRACE(part);
        const fs::path file = demo_.root() / part;
        const std::string was = contents(file);
        fs::copy_file(demo_.saloon(), cages() / "again.yaml", fs::copy_options::overwrite_existing);
        fs::remove(file);
        EXPECT_THAT(refused(cages() / "again.yaml"), HasSubstr(fs::path(part).filename().string()));
        put(file, was + "\nno_such_key: 1\n");
        const std::string said = refused(cages() / "again.yaml");
        EXPECT_THAT(said, HasSubstr(fs::path(part).filename().string()));
        EXPECT_THAT(said, HasSubstr("no_such_key"));
        put(file, was);
    }
    EXPECT_THAT(desk_.document.open(cages() / "again.yaml"), IsEmpty()) << "all is back: it opens";
}

TEST_F(Files, AllThatIsWrongIsSaidAtOnceWithItsLine) {
    std::string bytes = contents(demo_.saloon());
    bytes += "\nfirst_wrong: 1\nsecond_wrong: 2\n";
    const std::string said = refusedText(bytes);
    EXPECT_THAT(said, HasSubstr("first_wrong"));
    EXPECT_THAT(said, HasSubstr("second_wrong"));
    const auto lines = std::count(bytes.begin(), bytes.end(), '\n');
    EXPECT_THAT(said, HasSubstr("bad.yaml:" + std::to_string(lines) + ":"));
    EXPECT_THAT(said, HasSubstr("bad.yaml:" + std::to_string(lines - 1) + ":"));
}

TEST_F(Files, OneFullOfAliasesOrDeeperThanAnyoneWrites) {
    std::string bomb = "hoopwright: cage\nversion: 1\na: &a [x,x,x,x,x,x,x,x,x]\n";
    for (char c = 'b'; c < 'k'; ++c) {
        bomb += std::string(1, c) + ": &" + c + " [";
        for (int n = 0; n < 9; ++n) bomb += std::string(n ? "," : "") + "*" + char(c - 1);
        bomb += "]\n";
    }
    refusedText(bomb);
    refusedText("hoopwright: cage\nversion: 1\nname: " + std::string(20000, '[') + "\n");
}

TEST_F(Files, PathsWithSpacesAndLettersOfOtherTongues) {
    const fs::path folder = demo_.root() / "cages" / "Käfig für März";
    fs::create_directories(folder);
    ASSERT_THAT(desk_.document.saveAs(folder / "Überroll bügel 1.yaml"), IsEmpty());
    EXPECT_FALSE(desk_.document.dirty());
    const Job saved = job();
    Document again;
    const Problems problems = again.open(folder / "Überroll bügel 1.yaml");
    ASSERT_THAT(problems, IsEmpty()) << problems.front().text();
    EXPECT_TRUE(sameJob(again.job(), saved));
}

TEST_F(Files, WhereNothingCanBeWrittenNothingIsLost) {
    if (::geteuid() == 0) {
        // Root may write anywhere: a folder in the place of the file refuses root too.
        fs::create_directories(cages() / "taken.yaml" / "inside");
    } else {
        fs::create_directories(cages() / "locked");
        fs::permissions(cages() / "locked", fs::perms::owner_read | fs::perms::owner_exec);
    }
    const fs::path target = ::geteuid() == 0 ? cages() / "taken.yaml" : cages() / "locked" / "mine.yaml";
    const Job before = job();
    const Problems problems = desk_.document.saveAs(target);
    ASSERT_FALSE(problems.empty());
    EXPECT_THAT(problems.front().text(), HasSubstr(target.filename().string()));
    EXPECT_TRUE(job() == before);
    EXPECT_TRUE(desk_.document.dirty());
    EXPECT_EQ(desk_.document.files().cage, demo_.saloon());
    EXPECT_THAT(desk_.document.save(), IsEmpty()) << "the old place still takes it";
    EXPECT_FALSE(desk_.document.dirty());
}

TEST_F(Files, ASaveLeavesNoHalfFilesBehind) {
    const auto names = [&] {
        std::set<fs::path> files;
        for (const auto& entry : fs::recursive_directory_iterator(demo_.root())) files.insert(entry.path());
        return files;
    };
    const std::set<fs::path> before = names();
    ASSERT_THAT(desk_.document.save(), IsEmpty());
    EXPECT_EQ(names(), before);
}

TEST_F(Files, ACommentBesideAChangedValueSurvives) {
    const std::string before = contents(demo_.saloon());
    while (desk_.document.undoStack().canUndo()) undo();
    choose(Kind::member, "belt_bar");
    type(QStringLiteral("Belt bar, first end, height"), QStringLiteral("523"));
    ASSERT_THAT(desk_.document.save(), IsEmpty());
    const std::string after = contents(demo_.saloon());
    const auto comments = [](const std::string& text) {
        std::vector<std::string> all;
        std::istringstream in(text);
        for (std::string line; std::getline(in, line);) {
            if (const auto at = line.find('#'); at != std::string::npos) all.push_back(line.substr(at));
        }
        return all;
    };
    EXPECT_EQ(comments(after), comments(before));
    std::istringstream a(before), b(after);
    int different = 0, lines = 0;
    for (std::string one, two; std::getline(a, one) && std::getline(b, two); ++lines) different += one != two;
    EXPECT_GT(lines, 50);
    EXPECT_EQ(different, 1) << "the line with the height";
}

TEST_F(Files, AFileThatWentWhileItWasOpenIsWrittenAnew) {
    const Job mine = job();
    fs::remove(demo_.saloon());
    ASSERT_THAT(desk_.document.save(), IsEmpty());
    Document again;
    const Problems problems = again.open(demo_.saloon());
    ASSERT_THAT(problems, IsEmpty()) << problems.front().text();
    EXPECT_TRUE(sameJob(again.job(), mine));
}

TEST_F(Files, EveryDemoJobOpensAfterEveryOther) {
    const std::vector<fs::path> all = {demo_.saloon(), demo_.pickup(),
                                       cages() / "faults" / "hillclimb_saloon.yaml",
                                       cages() / "faults" / "mile_pickup.yaml"};
    for (const fs::path& first : all) {
        for (const fs::path& second : all) {
            ASSERT_THAT(desk_.document.open(first), IsEmpty());
            desk_.selection.set({Kind::member, "main_hoop"});
            ASSERT_THAT(desk_.document.open(second), IsEmpty());
            QCoreApplication::processEvents();
            EXPECT_FALSE(desk_.document.dirty());
            EXPECT_FALSE(desk_.document.undoStack().canUndo()) << "undo never goes back into another job";
            const JobResult fresh = readJob(second);
            ASSERT_TRUE(fresh.job);
            EXPECT_EQ(desk_.document.job().cage.members.size(), fresh.job->cage.members.size());
        }
    }
}

}  // namespace
}  // namespace hoopwright
