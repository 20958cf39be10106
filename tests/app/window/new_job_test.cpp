// What a new job does to the car it is begun over, and what its lists call the files.
#include "app/window/new_job.h"

#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QListWidget>
#include <set>

#include "app/window/app_paths.h"
#include "app/window/table_title.h"
#include "demo_copy.h"
#include "same_job.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

template <class Control>
Control* named(QWidget& in, const QString& name) {
    for (auto* one : in.findChildren<Control*>())
        if (one->accessibleName() == name) return one;
    ADD_FAILURE() << "nothing is called " << name.toStdString();
    return nullptr;
}

QCheckBox* copyBox(QWidget& in) {
    for (auto* one : in.findChildren<QCheckBox*>())
        if (one->text() == QStringLiteral("A copy of the car for this job")) return one;
    ADD_FAILURE() << "no box for a copy";
    return nullptr;
}

bool says(QWidget& in, const QString& words) {
    for (const auto* label : in.findChildren<QLabel*>())
        if (!label->isHidden() && label->text().contains(words)) return true;
    return false;
}

void write(const std::filesystem::path& file, const std::string& words) {
    std::ofstream(file, std::ios::binary) << words;
}

/// A choice as the dialog makes it, over the car of a copy of the demo.
NewJobChoice overSaloon(const DemoCopy& demo, bool own_car) {
    NewJobChoice choice;
    choice.name = QStringLiteral("Second");
    choice.car = demo.root() / "cars" / "saloon.yaml";
    choice.stock = demo.root() / "stock" / "metric.yaml";
    choice.dies = demo.root() / "stock" / "dies_metric.yaml";
    choice.own_car = own_car;
    return choice;
}

void learn(Document& document) {
    document.edit(QStringLiteral("learned"), [](Job& job) {
        job.car.lessons.push_back({"", "", "the tunnel is bent"});
    });
}

TEST(NewJobsCar, IsACopyAndTheOtherJobOverItStaysAsItWas) {
    const DemoCopy demo;
    const std::string car_file = contents(demo.root() / "cars" / "saloon.yaml");
    Document first;
    ASSERT_THAT(first.open(demo.saloon()), IsEmpty());
    const Job was = first.job();
    Document second;
    ASSERT_THAT(startNewJob(second, overSaloon(demo, true)), IsEmpty());
    EXPECT_TRUE(second.job().car == was.car) << "it begins with the car as it was measured";
    learn(second);
    ASSERT_THAT(second.saveAs(demo.root() / "cages" / "second.yaml"), IsEmpty());
    EXPECT_EQ(contents(demo.root() / "cars" / "saloon.yaml"), car_file) << "to the byte";
    ASSERT_THAT(first.open(demo.saloon()), IsEmpty());
    EXPECT_TRUE(sameJob(first.job(), was));
    const JobResult back = readJob(demo.root() / "cages" / "second.yaml");
    ASSERT_TRUE(back.job);
    EXPECT_EQ(back.job->car.lessons.back().note, "the tunnel is bent");
    EXPECT_EQ(back.job->cage.car_file, "second_car.yaml");
}

TEST(NewJobsCar, IsTheFileItselfWhereSeveralJobsAreToWorkOnOne) {
    const DemoCopy demo;
    Document second;
    ASSERT_THAT(startNewJob(second, overSaloon(demo, false)), IsEmpty());
    learn(second);
    ASSERT_THAT(second.saveAs(demo.root() / "cages" / "second.yaml"), IsEmpty());
    const JobResult first = readJob(demo.saloon());
    ASSERT_TRUE(first.job);
    EXPECT_EQ(first.job->car.lessons.back().note, "the tunnel is bent");
}

TEST(NewJobsCar, TheDialogSaysWhatBecomesOfTheFile) {
    NewJob dialog({});
    auto* cars = named<QComboBox>(dialog, QStringLiteral("Car"));
    cars->setCurrentIndex(cars->findText(QStringLiteral("Two-door saloon")));
    QCheckBox* copy = copyBox(dialog);
    EXPECT_FALSE(copy->isHidden());
    EXPECT_TRUE(copy->isChecked());
    EXPECT_TRUE(dialog.choice().own_car);
    EXPECT_TRUE(says(dialog, QStringLiteral("leaves saloon.yaml as it is")));
    copy->click();
    EXPECT_FALSE(dialog.choice().own_car);
    EXPECT_EQ(dialog.choice().car.filename(), "saloon.yaml");
    EXPECT_TRUE(says(dialog, QStringLiteral("works on saloon.yaml itself")));
    cars->setCurrentIndex(cars->findText(QStringLiteral("Full-frame pickup")));
    EXPECT_TRUE(dialog.choice().own_car) << "asked anew of another car";
    cars->setCurrentIndex(cars->findText(QStringLiteral("A car still to be measured")));
    EXPECT_TRUE(copy->isHidden());
    EXPECT_TRUE(dialog.choice().own_car);
}

TEST(NewJobsCar, WithScansIsWorkedOnWhereItLies) {
    const DemoCopy demo;
    const std::filesystem::path scanned = demo.root() / "cars" / "scanned.yaml";
    write(scanned, contents(demo.root() / "cars" / "saloon.yaml") + "scans:\n  - file: cab.stl\n");
    NewJob dialog({});
    auto* cars = named<QComboBox>(dialog, QStringLiteral("Car"));
    cars->insertItem(0, QStringLiteral("Scanned"), QString::fromStdString(scanned.string()));
    cars->setCurrentIndex(0);
    EXPECT_FALSE(copyBox(dialog)->isEnabled());
    EXPECT_FALSE(dialog.choice().own_car);
    EXPECT_TRUE(
        says(dialog, QStringLiteral("Its scans lie beside it. The job works on scanned.yaml itself")));
}

// Held against the words of the files themselves.
TEST(NewJobsLists, CallFilesWhatTheyCallThemselvesAndTellTwoApart) {
    NewJob dialog({});
    const auto* cars = named<QComboBox>(dialog, QStringLiteral("Car"));
    for (int i = 0; i < int(dataFiles("cars").size()); ++i) {
        const std::filesystem::path file = cars->itemData(i).toString().toStdString();
        EXPECT_THAT(contents(file), HasSubstr("\nname: " + cars->itemText(i).toStdString() + "\n"));
    }
    const auto* drivers = named<QListWidget>(dialog, QStringLiteral("Drivers"));
    std::set<QString> all;
    for (int i = 0; i < drivers->count(); ++i) all.insert(drivers->item(i)->text());
    EXPECT_EQ(int(all.size()), drivers->count()) << "no two alike";
    EXPECT_TRUE(all.contains(QStringLiteral("Tall driver (saloon tall)")));
    EXPECT_TRUE(all.contains(QStringLiteral("Tall driver (pickup tall)")));
}

TEST(NewJobsLists, AFileWithoutANameIsCalledByItsOwn) {
    const DemoCopy demo;
    const std::filesystem::path file = demo.root() / "two_door.yaml";
    write(file, "car: 1\npoints:\n  - {name: sill_b.left}\n");
    EXPECT_EQ(nameInFile(file), QStringLiteral("two door"));
    write(file, "name: 'Two doors'\n");
    EXPECT_EQ(nameInFile(file), QStringLiteral("Two doors"));
    EXPECT_EQ(nameInFile(demo.root() / "gone_car.yaml"), QStringLiteral("gone car"));
}

}  // namespace
}  // namespace hoopwright
