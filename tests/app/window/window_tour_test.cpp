// The five cards of the first start, the demo as a person's own, and tables by their titles.
#include <QAbstractButton>
#include <QMenu>
#include <fstream>

#include "app/window/app_paths.h"
#include "app/window/own_demo.h"
#include "app/window/table_title.h"
#include "app/window/tour.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowTour : public WindowTest {
protected:
    explicit WindowTour(QSize size = {1600, 960}) : WindowTest(size) {}
    Tour* tour() { return window_->findChild<Tour*>(); }
    QWidget* ring() { return window_->findChild<QWidget*>(QStringLiteral("tour_ring")); }
    void press(const QString& words) {
        for (auto* button : tour()->findChildren<QPushButton*>()) {
            if (button->text() == words && button->isVisible())
                return QTest::mouseClick(button, Qt::LeftButton);
        }
        ADD_FAILURE() << "no " << words.toStdString();
    }
    /// The card is whole, inside the window, and its words have room.
    void expectReadable() {
        settle(60);
        ASSERT_TRUE(tour() && tour()->isVisible());
        EXPECT_TRUE(tour()->parentWidget()->rect().contains(tour()->geometry()));
        for (auto* words : tour()->findChildren<QLabel*>()) {
            EXPECT_GE(words->height(), words->heightForWidth(words->width())) << words->text().toStdString();
            EXPECT_TRUE(tour()->rect().contains(words->geometry())) << words->text().toStdString();
        }
    }
};
class WindowTourOnASmallScreen : public WindowTour {
protected:
    WindowTourOnASmallScreen() : WindowTour({1366, 700}) {}
};

TEST_F(WindowTour, LeadsThroughTheStepsAndBackAndEnds) {
    window_->action(QStringLiteral("Tour"))->trigger();
    ASSERT_NE(tour(), nullptr);
    EXPECT_EQ(tour()->stops(), 5);
    int ended = 0;
    QObject::connect(tour(), &Tour::ended, window_.get(), [&] { ++ended; });
    const Step steps[] = {Step::cage, Step::cage, Step::cage, Step::check, Step::order};
    for (int n = 0; n < 5; ++n) {
        EXPECT_EQ(tour()->stop(), n);
        expectReadable();
        EXPECT_EQ(window_->step(), steps[n]) << n;
        EXPECT_TRUE(ring()->isVisible()) << n;
        EXPECT_FALSE(tour()->geometry().isEmpty());
        if (n == 1) {
            press(QStringLiteral("Back"));
            EXPECT_EQ(tour()->stop(), 0);
            press(QStringLiteral("Next"));
        }
        if (n == 2) {
            ASSERT_NE(desk().selection.last(), nullptr);
            EXPECT_EQ(desk().selection.last()->id, "main_hoop");
        }
        press(n < 4 ? QStringLiteral("Next") : QStringLiteral("Begin"));
    }
    EXPECT_EQ(ended, 1);
    settle();
    EXPECT_EQ(tour(), nullptr);
    EXPECT_EQ(ring(), nullptr);
    EXPECT_FALSE(desk().document.dirty()) << "a tour changes nothing";
}

TEST_F(WindowTour, TheWindowWorksUnderItAndEscEndsIt) {
    Tour* first = showTour(*window_);
    settle();
    Tour* second = showTour(*window_);
    settle();
    EXPECT_NE(first, second);
    EXPECT_EQ(window_->findChildren<Tour*>().size(), 1) << "one at a time";
    // What is framed is clicked as ever.
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Return);
    EXPECT_EQ(tour()->stop(), 1) << "Enter goes on";
    settle();
    for (auto* button : ring()->parentWidget()->findChildren<QAbstractButton*>()) {
        if (button->accessibleName().startsWith(QStringLiteral("Car"))) {
            QTest::mouseClick(button, Qt::LeftButton);
            break;
        }
    }
    EXPECT_EQ(window_->step(), Step::car);
    QTest::keyClick(tour(), Qt::Key_Escape);
    settle();
    EXPECT_EQ(tour(), nullptr);
}

TEST_F(WindowTourOnASmallScreen, EveryCardIsReadable) {
    window_->useTone(Tone::dark);
    showTour(*window_);
    for (int n = 0; n < 5; ++n) {
        tour()->turnTo(n);
        expectReadable();
    }
    keep(QStringLiteral("tour_small_dark"));
}

TEST_F(WindowTour, TablesAreOfferedByTheirTitles) {
    EXPECT_EQ(tableTitle(dataFolder() / "rules" / "standing_mile.yaml"),
              QStringLiteral("Standing mile, full-frame trucks (invented for the demo)"));
    const std::filesystem::path odd = demo_.root() / "my_own_table.yaml";
    std::ofstream(odd) << "hoopwright: rules\n";
    EXPECT_EQ(tableTitle(odd), QStringLiteral("my own table")) << "no title: its file";
    std::ofstream(odd, std::ios::app) << "title: \"Ours, 2026\"\n";
    EXPECT_EQ(tableTitle(odd), QStringLiteral("Ours, 2026"));
    QStringList offered;
    for (auto* menu : window_->findChildren<QMenu*>()) {
        if (menu->title() != QStringLiteral("Class tables")) continue;
        emit menu->aboutToShow();
        for (QAction* one : menu->actions()) offered << one->text();
    }
    EXPECT_TRUE(offered.contains(QStringLiteral("Club hillclimb, closed saloons (invented for the demo)")))
        << offered.join(QLatin1Char('\n')).toStdString();
}

/// Installed where nobody may write, the demo is worked on as a copy that names the tables where they are.
TEST(OwnDemo, IsACopyThatOpensAndKeepsWhatIsThere) {
    const DemoCopy room;
    const std::filesystem::path demo = dataFolder() / "cages" / "hillclimb_saloon.yaml";
    const std::filesystem::path copy = copyOfDemo(demo, room.root() / "mine");
    EXPECT_EQ(copy, room.root() / "mine" / "cages" / "hillclimb_saloon.yaml");
    Document document;
    const Problems problems = document.open(copy);
    ASSERT_TRUE(problems.empty()) << problems.front().what;
    ASSERT_EQ(document.job().cage.rule_files.size(), 1u);
    EXPECT_EQ(std::filesystem::path(document.job().cage.rule_files[0]).parent_path(), dataFolder() / "rules");
    document.edit(QStringLiteral("Name"), [](Job& job) { job.cage.name = "Mine now"; });
    ASSERT_TRUE(document.save().empty());
    copyOfDemo(demo, room.root() / "mine");
    Document again;
    ASSERT_TRUE(again.open(copy).empty());
    EXPECT_EQ(again.job().cage.name, "Mine now") << "a second copy leaves it";
    EXPECT_TRUE(
        again.open(copyOfDemo(dataFolder() / "cages" / "faults" / "mile_pickup.yaml", room.root() / "mine"))
            .empty());
    EXPECT_EQ(copyOfDemo("/elsewhere/a.yaml", room.root() / "mine"), "/elsewhere/a.yaml");
    EXPECT_EQ(demoToOpen({}), std::filesystem::path());
}

}  // namespace
}  // namespace hoopwright
