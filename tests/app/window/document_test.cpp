#include "app/window/document.h"

#include <gmock/gmock.h>

#include <QSignalSpy>
#include <fstream>
#include <random>
#include <sstream>

#include "app/window/new_job.h"
#include "core/edit/cage_edits.h"
#include "core/edit/new_bar.h"
#include "core/model/shop_book.h"
#include "demo_copy.h"
#include "same_job.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
namespace fs = std::filesystem;

/// One of the things a person does, drawn by chance.
void doSomething(Document& document, std::mt19937& rng) {
    const Job& now = document.job();
    const auto upTo = [&](std::size_t n) {
        return std::uniform_int_distribution<std::size_t>(0, n - 1)(rng);
    };
    const std::size_t bar = now.cage.members.empty() ? 0 : upTo(now.cage.members.size());
    const std::string id = now.cage.members.empty() ? std::string() : now.cage.members[bar].id;
    document.edit(
        QStringLiteral("something"),
        [&](Job& job) {
            switch (upTo(9)) {
                case 0:
                    job.cage.members.push_back(newBar(job, document.geometry(), "door_bar", {}));
                    break;
                case 1:
                    duplicateMember(job, id);
                    break;
                case 2:
                    deleteParts(job, document.geometry(), {id},
                                upTo(2) ? Orphans::keep_in_place : Orphans::remove_too);
                    break;
                case 3:
                    moveInOrder(job, id, int(upTo(5)) - 2);
                    break;
                case 4:
                    if (Member* member = findMember(job.cage, id)) member->padding_mm = double(upTo(30));
                    break;
                case 5:
                    if (!job.car.points.empty()) job.car.points[upTo(job.car.points.size())].at.z() += 1.5;
                    break;
                case 6:
                    if (!job.drivers.empty()) job.drivers[upTo(job.drivers.size())].helmet.centre.x() -= 2.25;
                    break;
                case 7:
                    if (!id.empty()) renamePart(job, id, freeId(job.cage, "renamed"));
                    break;
                case 8:
                    job.cage.plates.push_back(newPlate(job, {double(upTo(900)), 500, 0}));
                    break;
            }
        },
        upTo(3) == 0 ? QByteArray("one drag") : QByteArray());
}

TEST(Document, UndoneToTheStartAndRedoneToTheEndItIsTheSame) {
    DemoCopy demo;
    for (const unsigned seed : {1u, 2u, 3u}) {
        Document document;
        ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
        const Job start = document.job();
        std::mt19937 rng(seed);
        for (int n = 0; n < 150; ++n) doSomething(document, rng);
        const Job end = document.job();
        const std::size_t problems = document.geometry().problems.size();
        ASSERT_FALSE(end == start);
        while (document.undoStack().canUndo()) document.undoStack().undo();
        EXPECT_TRUE(document.job() == start) << "seed " << seed;
        EXPECT_FALSE(document.dirty());
        while (document.undoStack().canRedo()) document.undoStack().redo();
        EXPECT_TRUE(document.job() == end) << "seed " << seed;
        EXPECT_EQ(document.geometry().problems.size(), problems);
    }
}

TEST(Document, SavedAndReadAgainItIsEqual) {
    for (const unsigned seed : {11u, 12u}) {
        DemoCopy demo;
        Document document;
        ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
        std::mt19937 rng(seed);
        for (int n = 0; n < 40; ++n) doSomething(document, rng);
        ASSERT_THAT(document.save(), IsEmpty());
        EXPECT_FALSE(document.dirty());
        Document again;
        const Problems problems = again.open(demo.saloon());
        ASSERT_THAT(problems, IsEmpty()) << problems.front().text();
        EXPECT_TRUE(again.job().cage == document.job().cage) << "seed " << seed;
        EXPECT_TRUE(sameJob(again.job(), document.job())) << "seed " << seed;
    }
}

TEST(Document, SavingWhatWasNotChangedChangesNoByte) {
    DemoCopy demo;
    const std::string before = contents(demo.saloon());
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    ASSERT_THAT(document.save(), IsEmpty());
    EXPECT_EQ(contents(demo.saloon()), before);
}

TEST(Document, OnlyFilesThatChangedAreWritten) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    const fs::path driver = document.job().cage.driver_files.front();
    const std::string car = contents(document.files().car), person = contents(driver);
    document.edit(QStringLiteral("helmet"), [](Job& job) { job.drivers[0].helmet.centre.z() += 5; });
    ASSERT_THAT(document.save(), IsEmpty());
    EXPECT_EQ(contents(document.files().car), car);
    EXPECT_NE(contents(driver), person);
}

TEST(Document, OneDragIsOneUndo) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    const Job start = document.job();
    const QByteArray key = document.newKey();
    for (int n = 1; n <= 30; ++n) {
        document.edit(
            QStringLiteral("drag"), [&](Job& job) { job.cage.node_reach_mm = 50 + n; }, key);
    }
    EXPECT_EQ(document.undoStack().count(), 1);
    document.undoStack().undo();
    EXPECT_TRUE(document.job() == start);
    const QByteArray other = document.newKey();
    EXPECT_NE(key, other);
}

TEST(Document, ADragBackToWhereItWasLeavesNoStep) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    const QByteArray key = document.newKey();
    document.edit(
        QStringLiteral("drag"), [](Job& job) { job.cage.node_reach_mm = 60; }, key);
    document.edit(
        QStringLiteral("drag"), [](Job& job) { job.cage.node_reach_mm = 50; }, key);
    EXPECT_EQ(document.undoStack().count(), 0);
    EXPECT_FALSE(document.dirty());
}

TEST(Document, AnEditThatChangesNothingIsNoStep) {
    Document document;
    document.edit(QStringLiteral("nothing"), [](Job&) {});
    EXPECT_EQ(document.undoStack().count(), 0);
}

TEST(Document, AWrongFileLeavesTheOpenJobUntouched) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 60; });
    const Job before = document.job();
    const fs::path broken = demo.root() / "cages" / "broken.yaml";
    std::ofstream(broken) << contents(demo.pickup()) << "\nno_such_key: 1\n";
    const Problems problems = document.open(broken);
    ASSERT_FALSE(problems.empty());
    EXPECT_THAT(problems.front().at.file, HasSubstr("broken.yaml"));
    EXPECT_GT(problems.front().at.line, 0);
    EXPECT_GT(problems.front().at.column, 0);
    EXPECT_TRUE(document.job() == before);
    EXPECT_TRUE(document.undoStack().canUndo());
    EXPECT_EQ(document.files().cage, demo.saloon());
}

TEST(Document, AWrongClassTableIsNoGoodEither) {
    DemoCopy demo;
    std::ofstream(demo.root() / "rules" / "club_hillclimb.yaml", std::ios::app) << "\nno_such_key: 1\n";
    Document document;
    const Problems problems = document.open(demo.saloon());
    ASSERT_FALSE(problems.empty());
    EXPECT_THAT(problems.front().at.file, HasSubstr("club_hillclimb.yaml"));
    EXPECT_TRUE(document.job() == Job{});
}

TEST(Document, SavedAsInAnotherFolderItStillFindsItsCar) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    const fs::path elsewhere = demo.root() / "away" / "deep";
    fs::create_directories(elsewhere);
    ASSERT_THAT(document.saveAs(elsewhere / "mine.yaml"), IsEmpty());
    EXPECT_FALSE(document.dirty());
    Document again;
    const Problems problems = again.open(elsewhere / "mine.yaml");
    ASSERT_THAT(problems, IsEmpty()) << problems.front().text();
    EXPECT_TRUE(sameJob(again.job(), document.job()));
    EXPECT_THAT(contents(elsewhere / "mine.yaml"), HasSubstr("../../cars/saloon.yaml"));
    document.undoStack().undo();
}

TEST(Document, WhereItCannotSaveItSaysSoAndStaysDirty) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 60; });
    const Problems problems = document.saveAs(demo.root() / "no" / "such" / "folder" / "cage.yaml");
    ASSERT_FALSE(problems.empty());
    EXPECT_THAT(problems.front().text(), HasSubstr("cage.yaml"));
    EXPECT_TRUE(document.dirty());
    EXPECT_EQ(document.files().cage, demo.saloon());
}

TEST(Document, ClassTablesGoInAndOutWithUndo) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    ASSERT_EQ(document.tables().size(), 1u);
    const std::size_t findings = document.report().findings.size();
    ASSERT_THAT(document.useTable(demo.root() / "rules" / "standing_mile.yaml", true), IsEmpty());
    EXPECT_EQ(document.tables().size(), 2u);
    EXPECT_GT(document.report().findings.size(), findings);
    ASSERT_THAT(document.useTable(demo.root() / "rules" / "club_hillclimb.yaml", false), IsEmpty());
    EXPECT_EQ(document.tables().size(), 1u);
    document.undoStack().undo();
    document.undoStack().undo();
    EXPECT_EQ(document.report().findings.size(), findings);
    EXPECT_FALSE(document.useTable(demo.root() / "rules" / "not_there.yaml", true).empty());
    EXPECT_EQ(document.tables().size(), 1u);
}

TEST(Document, SaysWhatChanged) {
    qRegisterMetaType<Document::Change>();
    DemoCopy demo;
    Document document;
    std::vector<Document::Change> heard;
    QObject::connect(&document, &Document::changed,
                     [&](Document::Change change) { heard.push_back(change); });
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    document.edit(QStringLiteral("reach"), [](Job& job) { job.cage.node_reach_mm = 60; });
    ASSERT_THAT(document.save(), IsEmpty());
    EXPECT_THAT(heard, testing::Contains(Document::Change::replaced));
    EXPECT_THAT(heard, testing::Contains(Document::Change::edited));
    EXPECT_EQ(heard.back(), Document::Change::saved);
}

TEST(NewJob, BeginsEmptyOverTheChosenCarAndSavesWhole) {
    DemoCopy demo;
    Document document;
    NewJobChoice choice;
    choice.name = QStringLiteral("Bare saloon");
    choice.car = demo.root() / "cars" / "saloon.yaml";
    choice.stock = demo.root() / "stock" / "metric.yaml";
    choice.dies = demo.root() / "stock" / "dies_metric.yaml";
    choice.drivers = {demo.root() / "drivers" / "saloon_tall.yaml"};
    choice.rules = {demo.root() / "rules" / "club_hillclimb.yaml"};
    ASSERT_THAT(startNewJob(document, choice), IsEmpty());
    EXPECT_TRUE(document.job().cage.members.empty());
    EXPECT_FALSE(document.dirty());
    EXPECT_TRUE(document.files().cage.empty());
    EXPECT_FALSE(document.report().findings.empty());
    document.edit(QStringLiteral("bar"), [&](Job& job) {
        job.cage.members.push_back(newBar(job, document.geometry(), "main_hoop", {}));
    });
    ASSERT_THAT(document.saveAs(demo.root() / "cages" / "bare.yaml"), IsEmpty());
    Document again;
    const Problems problems = again.open(demo.root() / "cages" / "bare.yaml");
    ASSERT_THAT(problems, IsEmpty()) << problems.front().text();
    EXPECT_TRUE(sameJob(again.job(), document.job()));
}

TEST(NewJob, IsWrittenInTheUnitTheCarWasTapedInAndKnowsTheShop) {
    DemoCopy demo;
    Document document;
    NewJobChoice choice;
    choice.car = demo.root() / "cars" / "pickup.yaml";
    choice.stock = demo.root() / "stock" / "inch.yaml";
    choice.dies = demo.root() / "stock" / "dies_inch.yaml";
    choice.shop = demo.root() / "stock" / "shop_inch.yaml";
    ASSERT_THAT(startNewJob(document, choice), IsEmpty());
    EXPECT_EQ(document.job().cage.unit, LengthUnit::in);
    ASSERT_TRUE(document.job().shop);
    EXPECT_EQ(document.job().shop->name, "Demo shop, inch");
    ASSERT_THAT(document.saveAs(demo.root() / "cages" / "truck.yaml"), IsEmpty());
    const JobResult back = readJob(demo.root() / "cages" / "truck.yaml");
    ASSERT_TRUE(back.job);
    EXPECT_EQ(back.job->cage.unit, LengthUnit::in);
    ASSERT_TRUE(back.job->shop);
    EXPECT_TRUE(*back.job->shop == *document.job().shop);

    choice.shop = demo.root() / "stock" / "metric.yaml";  // a rack, no book
    EXPECT_FALSE(startNewJob(document, choice).empty());
    choice.shop.clear();
    choice.car = demo.root() / "cars" / "saloon.yaml";
    ASSERT_THAT(startNewJob(document, choice), IsEmpty());
    EXPECT_EQ(document.job().cage.unit, LengthUnit::mm);
    EXPECT_FALSE(document.job().shop);
}

TEST(NewJob, WhoHearsOfAChangeNeverSeesTheCageOfTheJobBefore) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    document.edit(QStringLiteral("name"), [](Job& job) { job.cage.name = "Changed and thrown away"; });
    int heard = 0;
    QObject::connect(&document, &Document::changed, &document, [&] {
        ++heard;
        const CageLayout& cage = document.job().cage;
        for (const ResolvedMember& bar : document.geometry().members)
            EXPECT_LT(std::size_t(bar.layout), cage.members.size());
        for (const ResolvedPlate& plate : document.geometry().plates)
            EXPECT_LT(std::size_t(plate.layout), cage.plates.size());
        EXPECT_EQ(document.tables().size(), cage.rule_files.size());
    });
    NewJobChoice choice;
    choice.car = demo.root() / "cars" / "saloon.yaml";
    choice.stock = demo.root() / "stock" / "metric.yaml";
    choice.dies = demo.root() / "stock" / "dies_metric.yaml";
    ASSERT_THAT(startNewJob(document, choice), IsEmpty());
    EXPECT_GE(heard, 1);
    EXPECT_TRUE(document.geometry().members.empty());
}

TEST(NewJob, AMissingCarIsSaidAndTheOpenJobStays) {
    DemoCopy demo;
    Document document;
    ASSERT_THAT(document.open(demo.saloon()), IsEmpty());
    NewJobChoice choice;
    choice.car = demo.root() / "cars" / "gone.yaml";
    choice.stock = demo.root() / "stock" / "metric.yaml";
    choice.dies = demo.root() / "stock" / "dies_metric.yaml";
    const Problems problems = startNewJob(document, choice);
    ASSERT_FALSE(problems.empty());
    EXPECT_THAT(problems.front().text(), HasSubstr("gone.yaml"));
    EXPECT_FALSE(document.job().cage.members.empty());
}

}  // namespace
}  // namespace hoopwright
