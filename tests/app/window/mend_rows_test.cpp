// Ways out on a finding's page, a person's tick, and the quiet line over the findings.
#include "app/window/mend_rows.h"

#include <QSettings>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <fstream>

#include "app/window/check_news.h"
#include "app/window/findings.h"
#include "desk_fixture.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

class Mending : public DeskTest {
protected:
    /// Puts a table of these rules to use in place of the demo's.
    void use(const std::string& rules, const std::string& edition = "1") {
        const auto file = demo_.root() / "rules" / "club.yaml";
        std::ofstream(file) << "hoopwright: rules\nversion: 1\nid: club\ntitle: Club\nedition: '" << edition
                            << "'\nwritten_by: W\npublished: no\nunits: mm\nadvice: A.\nrules:\n"
                            << rules;
        for (const std::string& one : job().cage.rule_files) {
            const std::string named = one;
            EXPECT_THAT(desk_.document.useTable(named, false), IsEmpty());
            break;
        }
        EXPECT_THAT(desk_.document.useTable(file, true), IsEmpty());
    }
    const Finding& failing() {
        for (const Finding& f : desk_.document.report().findings)
            if (f.table == "club" && f.answer == Answer::fails) return f;
        throw std::logic_error("nothing fails");
    }
    MendRows* waysOut() {
        auto* rows = details_->form()->findChild<MendRows*>();
        if (rows && !rows->mends()) {
            QSignalSpy ready(rows, &MendRows::ready);
            EXPECT_TRUE(ready.wait(20000));
        }
        return rows;
    }
};

const std::string kThin =
    "  - {id: thin, title: Thin foot, sentence: S., measure: plate_thickness, of: {under: {role: "
    "main_hoop}}, more_than: 3}\n";

TEST_F(Mending, AWayOutIsShownTakenAndTakenBackInOneStep) {
    use(kThin);
    const std::string key = findingKey(failing());
    const Job before = job();
    choose(Kind::finding, key);
    MendRows* rows = waysOut();
    ASSERT_NE(rows, nullptr);
    ASSERT_FALSE(rows->mends()->ways.empty()) << rows->mends()->none;
    QSignalSpy drawn(&desk_, &Desk::showMeasure);
    const QString says = QString::fromStdString(rows->mends()->ways[0].says);
    press(QStringLiteral("Show: ") + says);
    ASSERT_EQ(drawn.size(), 1);
    EXPECT_FALSE(drawn[0][0].value<std::vector<ShownShape>>().empty());
    EXPECT_TRUE(job() == before) << "showing changes nothing";
    const int steps_before = steps();
    press(QStringLiteral("Take: ") + says);
    EXPECT_EQ(steps(), steps_before + 1);
    EXPECT_EQ(desk_.document.report().count(Answer::fails), 0);
    undo();
    EXPECT_TRUE(job() == before);
}

TEST_F(Mending, WhereThereIsNoneItSaysWhy) {
    use("  - {id: od, title: Thick bar, sentence: S., measure: od, of: {role: belt_bar}, at_least: 99}\n");
    choose(Kind::finding, findingKey(failing()));
    MendRows* rows = waysOut();
    ASSERT_NE(rows, nullptr);
    EXPECT_TRUE(rows->mends()->ways.empty());
    EXPECT_TRUE(shows(QString::fromStdString(rows->mends()->none)));
}

TEST_F(Mending, ANumberFromMemoryIsTickedOffAndTheTickTakenBack) {
    QSettings().remove(QStringLiteral("who"));
    use("  - {id: wall, title: Wall, sentence: S., known: memory, measure: wall, of: {role: main_hoop}, "
        "at_least: 2}\n");
    const Finding finding = desk_.document.report().findings.front();
    EXPECT_FALSE(desk_.document.report().allMeet());
    choose(Kind::finding, findingKey(finding));
    const auto button = [&](const char* words) {
        for (auto* one : details_->form()->findChildren<QPushButton*>())
            if (one->text() == QString::fromLatin1(words)) return one;
        return static_cast<QPushButton*>(nullptr);
    };
    ASSERT_NE(button("The book says so"), nullptr);
    button("The book says so")->click();
    EXPECT_THAT(job().cage.ticks, IsEmpty());
    EXPECT_THAT(said_.toStdString(), HasSubstr("needs the name of who looked"));
    control<QLineEdit>(QStringLiteral("Who compared"))->setText(QStringLiteral("A. Fitter"));
    button("The book says so")->click();
    QCoreApplication::processEvents();
    ASSERT_EQ(job().cage.ticks.size(), 1u);
    EXPECT_EQ(job().cage.ticks[0].edition, "1");
    EXPECT_TRUE(desk_.document.report().allMeet());
    ASSERT_NE(button("Take the tick back"), nullptr);
    button("Take the tick back")->click();
    QCoreApplication::processEvents();
    EXPECT_FALSE(desk_.document.report().allMeet());
}

TEST_F(Mending, APhotoIsKeptWithAnAnswerAndAMissingOneIsSaid) {
    use("  - {id: welds, title: Welds, sentence: S., ask: 'Is it welded?'}\n");
    choose(Kind::finding, findingKey(desk_.document.report().findings.front()));
    control<QLineEdit>(QStringLiteral("Who looked"))->setText(QStringLiteral("A. Fitter"));
    auto* photo = control<QLineEdit>(QStringLiteral("Photo"));
    photo->setText(QStringLiteral("/no/such.jpg"));
    EXPECT_TRUE(shows(QStringLiteral("The photo /no/such.jpg is not there.")));
    const auto good = [&] {
        for (auto* one : details_->form()->findChildren<QPushButton*>())
            if (one->text() == QStringLiteral("It is good")) return one->click();
    };
    good();
    EXPECT_THAT(job().cage.answers, IsEmpty());
    const auto file = demo_.root() / "cages" / "weld.jpg";
    std::ofstream(file) << "x";
    photo->setText(QString::fromStdString(file.generic_string()));
    good();
    ASSERT_EQ(job().cage.answers.size(), 1u);
    ASSERT_THAT(desk_.document.save(), IsEmpty());
    const auto saved = readCage(desk_.document.files().cage);
    ASSERT_TRUE(saved.value);
    EXPECT_EQ(saved.value->answers[0].photo, "weld.jpg") << "named from the cage file's folder";
}

TEST_F(Mending, TheQuietLineSaysWhatHasChangedSinceTheLastSave) {
    const QTemporaryDir kept;
    use(kThin);
    ASSERT_THAT(desk_.document.save(), IsEmpty());
    {
        const ReportMemory memory(desk_.document, kept.path());
        desk_.document.edit(QStringLiteral("note"), [](Job& one) { one.cage.notes = "x"; });
        ASSERT_THAT(desk_.document.save(), IsEmpty());
    }
    ASSERT_THAT(desk_.document.open(desk_.document.files().cage), IsEmpty());
    CheckNews news(desk_, kept.path());
    EXPECT_TRUE(news.isHidden()) << "nothing is news";
    desk_.document.edit(QStringLiteral("thicker"), [](Job& one) {
        for (Plate& plate : one.cage.plates) plate.thickness_mm = 4;
    });
    news.refresh();
    QStringList words;
    for (const auto* one : news.findChildren<QPushButton*>())
        if (!one->isHidden()) words << one->text();
    ASSERT_FALSE(words.isEmpty());
    EXPECT_THAT(words.front().toStdString(), HasSubstr("2 findings changed since"));
    EXPECT_THAT(news.changesPage().toStdString(), HasSubstr("fails before, now meets"));
}

TEST_F(Mending, ATablePutToUseIsKeptAndANewerEditionIsNews) {
    use(kThin);
    ASSERT_EQ(std::ranges::count(job().cage.frozen, "club", &FrozenTable::table), 1);
    const QTemporaryDir kept;
    CheckNews news(desk_, kept.path());
    std::string thicker = kThin;
    use(thicker.replace(thicker.find("more_than: 3"), 12, "more_than: 4"), "2");
    news.refresh();
    EXPECT_THAT(news.editionsPage().toStdString(), HasSubstr("The job keeps edition 1"));
    EXPECT_THAT(news.editionsPage().toStdString(), HasSubstr("more_than: 3"));
    EXPECT_THAT(news.editionsPage().toStdString(), HasSubstr("more_than: 4"));
}

}  // namespace
}  // namespace hoopwright
