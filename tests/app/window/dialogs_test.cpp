// The dialogs: a new job, a new bar, what is wrong with a file, cautions, the guide.
#include <gmock/gmock.h>

#include <QClipboard>
#include <QComboBox>
#include <QGuiApplication>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTest>
#include <QTextBlock>
#include <QTextBrowser>
#include <QUrl>

#include "app/window/add_bar.h"
#include "app/window/app_paths.h"
#include "app/window/guide.h"
#include "app/window/keep_car.h"
#include "app/window/new_job.h"
#include "app/window/problems_page.h"
#include "demo_copy.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

template <class Control>
Control* called(QWidget& in, const QString& name) {
    for (auto* one : in.findChildren<Control*>()) {
        if (one->accessibleName() == name) return one;
    }
    ADD_FAILURE() << "nothing is called " << name.toStdString();
    return nullptr;
}

QPushButton* saying(QWidget& in, const QString& words) {
    for (auto* one : in.findChildren<QPushButton*>()) {
        if (one->text() == words) return one;
    }
    ADD_FAILURE() << "no button " << words.toStdString();
    return nullptr;
}

TEST(NewJobDialog, OffersEveryCarRackDieDriverAndTableThatIsThere) {
    NewJob dialog({});
    EXPECT_EQ(called<QComboBox>(dialog, QStringLiteral("Car"))->count(), 2 + 2)
        << "and another file, and one still to be measured";
    EXPECT_EQ(called<QComboBox>(dialog, QStringLiteral("Tube stock"))->count(), 2 + 1);
    EXPECT_EQ(called<QComboBox>(dialog, QStringLiteral("Bending dies"))->count(), 2 + 1);
    EXPECT_EQ(called<QListWidget>(dialog, QStringLiteral("Drivers"))->count(), 6);
    EXPECT_EQ(called<QListWidget>(dialog, QStringLiteral("Class tables"))->count(),
              int(dataFiles("rules").size()));
    EXPECT_GE(dataFiles("rules").size(), 3u);
    EXPECT_TRUE(saying(dialog, QStringLiteral("Begin"))->isDefault());
}

TEST(NewJobDialog, WhatIsChosenIsWhatTheJobIsMadeOf) {
    NewJob dialog({});
    auto* name = called<QLineEdit>(dialog, QStringLiteral("Name of the job"));
    name->selectAll();
    QTest::keyClicks(name, QStringLiteral(" Ours "));
    auto* cars = called<QComboBox>(dialog, QStringLiteral("Car"));
    cars->setCurrentIndex(cars->findText(QStringLiteral("Full-frame pickup")));
    auto* racks = called<QComboBox>(dialog, QStringLiteral("Tube stock"));
    racks->setCurrentIndex(racks->findText(QStringLiteral("Rack, inch tube")));
    auto* dies = called<QComboBox>(dialog, QStringLiteral("Bending dies"));
    dies->setCurrentIndex(dies->findText(QStringLiteral("Rotary draw bender, inch dies")));
    auto* drivers = called<QListWidget>(dialog, QStringLiteral("Drivers"));
    drivers->findItems(QStringLiteral("Tall driver (pickup tall)"), Qt::MatchExactly)
        .front()
        ->setCheckState(Qt::Checked);
    auto* tables = called<QListWidget>(dialog, QStringLiteral("Class tables"));
    tables->findItems(QStringLiteral("Standing mile"), Qt::MatchStartsWith)
        .front()
        ->setCheckState(Qt::Checked);
    const NewJobChoice choice = dialog.choice();
    EXPECT_EQ(choice.name, QStringLiteral("Ours"));
    EXPECT_EQ(choice.car.filename(), "pickup.yaml");
    EXPECT_EQ(choice.stock.filename(), "inch.yaml");
    EXPECT_EQ(choice.dies.filename(), "dies_inch.yaml");
    ASSERT_THAT(choice.drivers, SizeIs(1));
    EXPECT_EQ(choice.drivers[0].filename(), "pickup_tall.yaml");
    ASSERT_THAT(choice.rules, SizeIs(1));
    Document document;
    EXPECT_THAT(startNewJob(document, choice), IsEmpty());
    EXPECT_EQ(document.title(), QStringLiteral("Ours"));
    EXPECT_EQ(document.job().drivers.size(), 1u);
    EXPECT_THAT(document.tables(), SizeIs(1));
    EXPECT_TRUE(document.files().cage.empty()) << "it has no file until it is saved";
}

TEST(NewJobDialog, TubeDiesAndBookGoWithTheCarUntilAPersonChooses) {
    NewJob dialog({});
    auto* cars = called<QComboBox>(dialog, QStringLiteral("Car"));
    auto* racks = called<QComboBox>(dialog, QStringLiteral("Tube stock"));
    cars->setCurrentIndex(cars->findText(QStringLiteral("Full-frame pickup")));
    EXPECT_EQ(dialog.choice().stock.filename(), "inch.yaml");
    EXPECT_EQ(dialog.choice().dies.filename(), "dies_inch.yaml");
    EXPECT_EQ(dialog.choice().shop.filename(), "shop_inch.yaml");
    cars->setCurrentIndex(cars->findText(QStringLiteral("Two-door saloon")));
    EXPECT_EQ(dialog.choice().stock.filename(), "metric.yaml");
    EXPECT_EQ(dialog.choice().dies.filename(), "dies_metric.yaml");
    EXPECT_EQ(dialog.choice().shop.filename(), "shop_metric.yaml");
    racks->setCurrentIndex(racks->findText(QStringLiteral("Rack, inch tube")));
    emit racks->activated(racks->currentIndex());  // as a click does
    cars->setCurrentIndex(cars->findText(QStringLiteral("Full-frame pickup")));
    cars->setCurrentIndex(cars->findText(QStringLiteral("Two-door saloon")));
    EXPECT_EQ(dialog.choice().stock.filename(), "inch.yaml") << "chosen by hand: it stays";
    auto* books = called<QComboBox>(dialog, QStringLiteral("Shop's book"));
    books->setCurrentIndex(books->findText(QStringLiteral("None yet")));
    EXPECT_TRUE(dialog.choice().shop.empty());
}

TEST(NewJobDialog, AClickOnTheWordsOfARowTicksItAndOnItsBoxToo) {
    NewJob dialog({});
    dialog.show();
    auto* drivers = called<QListWidget>(dialog, QStringLiteral("Drivers"));
    QListWidgetItem* first = drivers->item(0);
    const QRect row = drivers->visualItemRect(first);
    const auto click = [&](const QPoint& at) {
        QTest::mouseClick(drivers->viewport(), Qt::LeftButton, {}, at);
    };
    click({row.left() + 80, row.center().y()});
    EXPECT_EQ(first->checkState(), Qt::Checked);
    click({row.left() + 80, row.center().y()});
    EXPECT_EQ(first->checkState(), Qt::Unchecked);
    click({row.left() + 12, row.center().y()});
    EXPECT_EQ(first->checkState(), Qt::Checked) << "one click on the box, one turn";
}

TEST(NewJobDialog, EscapeBeginsNothing) {
    NewJob dialog({});
    dialog.show();
    QTest::keyClick(&dialog, Qt::Key_Escape);
    EXPECT_EQ(dialog.result(), int(QDialog::Rejected));
    EXPECT_FALSE(dialog.isVisible());
}

TEST(NewJobDialog, OffersKeptCarsWithTheirLessonsAndGivesTheJobACopy) {
    const DemoCopy demo;
    const std::filesystem::path kept = demo.root() / "kept";
    ASSERT_THAT(addToLibrary(kept, demo.root() / "cars" / "saloon.yaml", "two_door", Existing::keep),
                IsEmpty());
    NewJob dialog(kept);
    auto* cars = called<QComboBox>(dialog, QStringLiteral("Car"));
    cars->setCurrentIndex(cars->findText(QStringLiteral("kept: Two-door saloon")));
    const Car car = *libraryCars(kept).front().car;
    ASSERT_THAT(car.lessons, testing::Not(IsEmpty()));
    bool shown = false;
    for (const auto* label : dialog.findChildren<QLabel*>())
        shown |=
            !label->isHidden() && label->text().contains(QString::fromStdString(car.lessons.front().note));
    EXPECT_TRUE(shown);
    NewJobChoice choice = dialog.choice();
    EXPECT_TRUE(choice.own_car);
    Document document;
    ASSERT_THAT(startNewJob(document, choice), IsEmpty());
    document.edit(QStringLiteral("learned"), [](Job& job) {
        job.car.lessons.push_back({"", "", "the tunnel is bent"});
    });
    ASSERT_THAT(document.saveAs(demo.root() / "ours.yaml"), IsEmpty());
    const JobResult back = readJob(demo.root() / "ours.yaml");
    ASSERT_TRUE(back.job) << back.problems.front().text();
    EXPECT_EQ(back.job->car.lessons.back().note, "the tunnel is bent");
    EXPECT_EQ(libraryCars(kept).front().car->lessons, car.lessons) << "the kept one is as it was";
    EXPECT_THAT(contents(demo.root() / "ours_car.yaml"), HasSubstr("# A car of nobody's making"))
        << "its comments came along";
}

TEST(NewJobDialog, BeginsWithACarStillToBeMeasured) {
    const DemoCopy demo;
    NewJob dialog({});
    auto* cars = called<QComboBox>(dialog, QStringLiteral("Car"));
    cars->setCurrentIndex(cars->findText(QStringLiteral("A car still to be measured")));
    called<QComboBox>(dialog, QStringLiteral("Body"))->setCurrentIndex(int(Car::Body::van));
    called<QComboBox>(dialog, QStringLiteral("Frame"))->setCurrentIndex(int(Car::Frame::ladder));
    Document document;
    ASSERT_THAT(startNewJob(document, dialog.choice()), IsEmpty());
    EXPECT_EQ(document.job().car.body, Car::Body::van);
    EXPECT_EQ(document.job().car.frame, Car::Frame::ladder);
    EXPECT_THAT(document.job().car.points, IsEmpty());
    std::ofstream(demo.root() / "ours_car.yaml") << "not ours";
    ASSERT_THAT(document.saveAs(demo.root() / "ours.yaml"), IsEmpty());
    EXPECT_EQ(contents(demo.root() / "ours_car.yaml"), "not ours");
    EXPECT_EQ(document.files().car.filename(), "ours_car_2.yaml");
    EXPECT_TRUE(readJob(demo.root() / "ours.yaml").job);
}

class KeepCarDialog : public testing::Test {
protected:
    KeepCarDialog() { EXPECT_THAT(desk_.document.open(demo_.saloon()), IsEmpty()); }
    DemoCopy demo_;
    Desk desk_;
    std::filesystem::path folder_ = demo_.root() / "kept";
};

TEST_F(KeepCarDialog, KeepsTheCarAsItIsNowAndAsksBeforeItReplacesOne) {
    desk_.document.edit(QStringLiteral("learned"), [](Job& job) {
        job.car.lessons.push_back({"sill_b.left", "", "seam stands proud"});
    });
    KeepCar dialog(desk_, folder_);
    EXPECT_EQ(called<QLineEdit>(dialog, QStringLiteral("Name in the library"))->text(),
              QStringLiteral("saloon"));
    EXPECT_TRUE(dialog.keep());
    ASSERT_THAT(libraryCars(folder_), SizeIs(1));
    EXPECT_EQ(*libraryCars(folder_).front().car, desk_.document.job().car);
    KeepCar again(desk_, folder_);
    desk_.document.edit(QStringLiteral("name"), [](Job& job) { job.car.name = "Another"; });
    EXPECT_FALSE(again.keep());
    EXPECT_NE(saying(again, QStringLiteral("Replace")), nullptr);
    EXPECT_NE(libraryCars(folder_).front().car->name, "Another");
    EXPECT_TRUE(again.keep());
    EXPECT_EQ(libraryCars(folder_).front().car->name, "Another");
}

TEST_F(KeepCarDialog, ANameThatWillNotDoIsSaid) {
    KeepCar dialog(desk_, folder_);
    auto* name = called<QLineEdit>(dialog, QStringLiteral("Name in the library"));
    name->selectAll();
    QTest::keyClicks(name, QStringLiteral("../out"));
    EXPECT_FALSE(dialog.keep());
    bool said = false;
    for (const auto* label : dialog.findChildren<QLabel*>())
        said |= !label->isHidden() && label->text().contains(QStringLiteral("will not do as a name"));
    EXPECT_TRUE(said);
    EXPECT_FALSE(std::filesystem::exists(demo_.root() / "out.yaml"));
}

TEST_F(KeepCarDialog, TheSheetIsOfTheJobsOwnCarUnlessSaidOtherwise) {
    SheetChoice dialog(desk_);
    EXPECT_EQ(dialog.choice().body, Car::Body::saloon);
    EXPECT_EQ(dialog.choice().car, &desk_.document.job().car);
    EXPECT_EQ(dialog.choice().paper, Paper::a4);
    called<QComboBox>(dialog, QStringLiteral("Body"))->setCurrentIndex(int(Car::Body::hatchback));
    called<QComboBox>(dialog, QStringLiteral("Paper"))->setCurrentIndex(1);
    called<QComboBox>(dialog, QStringLiteral("Boxes"))->setCurrentIndex(1);
    const MeasuringSheetOptions choice = dialog.choice();
    EXPECT_EQ(choice.body, Car::Body::hatchback);
    EXPECT_EQ(choice.paper, Paper::letter);
    EXPECT_EQ(choice.car, nullptr);
    EXPECT_TRUE(measuringSheet(choice).pdf.startsWith("%PDF"));
}

class AddBarDialog : public testing::Test {
protected:
    AddBarDialog() { EXPECT_THAT(desk_.document.open(demo_.saloon()), IsEmpty()); }
    DemoCopy demo_;
    Desk desk_;
};

TEST_F(AddBarDialog, AFewLettersLeaveTheRolesThatHaveThem) {
    AddBar dialog(desk_);
    auto* roles = called<QListWidget>(dialog, QStringLiteral("Roles"));
    EXPECT_EQ(roles->count(), int(knownRoles().size()));
    QTest::keyClicks(called<QLineEdit>(dialog, QStringLiteral("Find a role")), QStringLiteral("door"));
    EXPECT_LT(roles->count(), 5);
    EXPECT_EQ(dialog.role(), "door_bar");
}

TEST_F(AddBarDialog, ARoleNobodyKnowsMayBeAWordOfATable) {
    AddBar dialog(desk_);
    QTest::keyClicks(called<QLineEdit>(dialog, QStringLiteral("Find a role")), QStringLiteral("Knee strut"));
    EXPECT_EQ(dialog.role(), "knee_strut");
}

TEST_F(AddBarDialog, WhereItGoesFollowsWhatIsChosen) {
    EXPECT_NE(saying(*std::make_unique<AddBar>(desk_), QStringLiteral("In the middle of the cage")), nullptr);
    desk_.selection.set({Thing::Kind::member, "main_hoop"});
    EXPECT_NE(saying(*std::make_unique<AddBar>(desk_), QStringLiteral("From the chosen bar")), nullptr);
    desk_.selection.set({{Thing::Kind::member, "side_bar.left"}, {Thing::Kind::member, "side_bar.right"}});
    AddBar dialog(desk_);
    auto* here = saying(dialog, QStringLiteral("Between the two chosen bars"));
    ASSERT_NE(here, nullptr);
    EXPECT_TRUE(here->isDefault());
    here->click();
    EXPECT_EQ(dialog.where(), AddBar::Where::here);
    EXPECT_EQ(dialog.result(), int(QDialog::Accepted));
}

TEST_F(AddBarDialog, TheBarGoesInBetweenTheTwoChosenAndIsChosen) {
    desk_.selection.set({{Thing::Kind::member, "side_bar.left"}, {Thing::Kind::member, "side_bar.right"}});
    insertBar(desk_, "dash_bar", picksFromSelection(desk_));
    const Member& made = desk_.document.job().cage.members.back();
    EXPECT_EQ(made.role, "dash_bar");
    EXPECT_FALSE(made.mirrored);
    EXPECT_THAT(desk_.document.geometry().problems, IsEmpty());
    EXPECT_EQ(desk_.selection.last()->id, made.id);
    EXPECT_EQ(desk_.document.undoStack().count(), 1);
}

TEST_F(AddBarDialog, TwoPicksAreAskedForOneAfterTheOther) {
    pickTwoAndInsert(desk_, "seat_bar");
    EXPECT_THAT(desk_.pickAsks().toStdString(), HasSubstr("begins"));
    const auto middleOf = [&](const char* id) {
        const CageGeometry& now = desk_.document.geometry();
        const Centreline& line = now.members[std::size_t(now.member(id))].line;
        return line.point(line.length_mm() / 2);
    };
    desk_.takePick("sill_bar.left", middleOf("sill_bar.left"));
    EXPECT_THAT(desk_.pickAsks().toStdString(), HasSubstr("ends"));
    desk_.takePick("sill_bar.right", middleOf("sill_bar.right"));
    EXPECT_FALSE(desk_.picking());
    EXPECT_EQ(desk_.document.job().cage.members.back().role, "seat_bar");
}

TEST_F(AddBarDialog, LettingGoBetweenTwoPicksAddsNothing) {
    const std::size_t bars = desk_.document.job().cage.members.size();
    pickTwoAndInsert(desk_, "seat_bar");
    desk_.takePick("main_hoop", Vec3(-130, 0, 972));
    desk_.dropPick();
    EXPECT_FALSE(desk_.takePick("side_bar.left", Vec3(420, 520, 918)));
    EXPECT_EQ(desk_.document.job().cage.members.size(), bars);
}

Problems twoProblems() {
    Problem first, second;
    first.at = {"cage.yaml", 12, 5};
    first.what = "unknown key 'stok'";
    first.remedy = "did you mean 'stock'?";
    second.at = {"cage.yaml", 0, 0};
    second.what = "a <wall> is missing";
    second.remedy = "add it";
    return {first, second};
}

TEST(ProblemsPage, ShowsEveryProblemWithItsPlaceAndWhatToDo) {
    ProblemsPage page(paletteOf(Tone::light), QStringLiteral("Not opened."), twoProblems());
    const QString words = page.findChild<QTextBrowser*>()->toPlainText();
    EXPECT_THAT(words.toStdString(), HasSubstr("cage.yaml, line 12, column 5"));
    EXPECT_THAT(words.toStdString(), HasSubstr("unknown key 'stok'"));
    EXPECT_THAT(words.toStdString(), HasSubstr("did you mean 'stock'?"));
    EXPECT_THAT(words.toStdString(), HasSubstr("a <wall> is missing")) << "a file's words are no markup";
    bool counted = false;
    for (const auto* label : page.findChildren<QLabel*>())
        counted = counted || label->text() == QStringLiteral("2 things to mend:");
    EXPECT_TRUE(counted);
}

TEST(ProblemsPage, TheListIsCopiedAsText) {
    ProblemsPage page(paletteOf(Tone::dark), QStringLiteral("Not opened."), twoProblems());
    saying(page, QStringLiteral("Copy the list"))->click();
    const QString copied = QGuiApplication::clipboard()->text();
    EXPECT_EQ(copied.split(QLatin1Char('\n')).size(), 2);
    EXPECT_THAT(copied.toStdString(), HasSubstr("12"));
}

TEST(ProblemsPage, EnterClosesIt) {
    ProblemsPage page(paletteOf(Tone::light), QStringLiteral("Not opened."), twoProblems());
    page.show();
    QTest::keyClick(&page, Qt::Key_Return);
    EXPECT_FALSE(page.isVisible());
}

TEST(Guide, EveryPageHasWordsAndEveryLinkInItLeadsToAPage) {
    Guide guide;
    auto* pages = called<QListWidget>(guide, QStringLiteral("Pages of the guide"));
    auto* page = called<QTextBrowser>(guide, QStringLiteral("Page"));
    ASSERT_GE(pages->count(), 10);
    QStringList known;
    for (int i = 0; i < pages->count(); ++i) known << pages->item(i)->data(Qt::UserRole).toString();
    int links = 0;
    for (int i = 0; i < pages->count(); ++i) {
        pages->setCurrentRow(i);
        EXPECT_GT(page->toPlainText().size(), 200) << known[i].toStdString();
        for (QTextBlock block = page->document()->begin(); block.isValid(); block = block.next()) {
            for (auto part = block.begin(); !part.atEnd(); ++part) {
                const QString link = part.fragment().charFormat().anchorHref();
                if (link.isEmpty()) continue;
                ++links;
                EXPECT_TRUE(known.contains(QUrl(link).fileName().section(QLatin1Char('.'), 0, 0)))
                    << known[i].toStdString() << " links to " << link.toStdString();
            }
        }
    }
    SUCCEED() << links << " links";
}

TEST(Guide, OpensAtTheAskedPage) {
    Guide guide;
    guide.turnTo(QStringLiteral("keys"));
    EXPECT_TRUE(guide.isVisible());
    EXPECT_THAT(guide.findChild<QTextBrowser*>()->toPlainText().toStdString(), HasSubstr("Ctrl+Shift+Z"));
}

TEST(Caution, SaysItCertifiesNothingAndWhoDecides) {
    Caution caution;
    EXPECT_THAT(cautionText().toStdString(), HasSubstr("certifies nothing"));
    EXPECT_THAT(cautionText().toStdString(), HasSubstr("rule book in force and the inspector decide"));
    caution.show();
    QTest::keyClick(&caution, Qt::Key_Escape);
    EXPECT_EQ(caution.result(), int(QDialog::Rejected)) << "closed unread is not agreed to";
    caution.show();
    saying(caution, QStringLiteral("I will check it with the inspector"))->click();
    EXPECT_EQ(caution.result(), int(QDialog::Accepted));
}

}  // namespace
}  // namespace hoopwright
