// The page of a finding, the persons' answers on it, and the list of what falls short.
#include <QListView>
#include <QPixmap>
#include <QSettings>
#include <algorithm>
#include <set>

#include "app/window/falls_short.h"
#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "desk_fixture.h"
#include "waits.h"

namespace hoopwright {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class FindingForms : public DeskTest {
protected:
    FindingForms() {
        QSettings().remove(QStringLiteral("who"));
        EXPECT_THAT(desk_.document.open(demo_.root() / "cages" / "faults" / "hillclimb_saloon.yaml"),
                    IsEmpty());
    }
    const Finding& firstWith(Answer answer) const {
        for (const int index : worstFirst(desk_.document.report())) {
            const Finding& one = desk_.document.report().findings[std::size_t(index)];
            if (one.answer == answer) return one;
        }
        ADD_FAILURE() << "nothing is answered so";
        return desk_.document.report().findings.front();
    }
    std::string show(Answer answer) {
        const std::string key = findingKey(firstWith(answer));
        choose(Kind::finding, key);
        return key;
    }
    QPushButton* button(const QString& words) {
        for (auto* one : details_->form()->findChildren<QPushButton*>()) {
            if (one->text() == words) return one;
        }
        return nullptr;
    }
    bool formSays(const QString& words) {
        for (const auto* label : details_->form()->findChildren<QLabel*>())
            if (label->text().contains(words)) return true;
        return false;
    }
    void answer(const QString& who, const QString& when, const QString& which) {
        control<QLineEdit>(QStringLiteral("Who looked"))->setText(who);
        control<QLineEdit>(QStringLiteral("When"))->setText(when);
        control<QLineEdit>(QStringLiteral("Note"))->setText(QStringLiteral("torch and mirror"));
        button(which)->click();
        QCoreApplication::processEvents();
    }
};

TEST_F(FindingForms, AFailureSaysMeasuredWantedByHowMuchClauseAndTheWayOut) {
    const std::string key = show(Answer::fails);
    const Finding* finding = findFinding(desk_.document.report(), key);
    const QString figures = facts(QString::fromStdString(finding->title) + QStringLiteral(", figures"));
    for (const char* word : {"Fails: ", "Has: ", "Wanted: ", "Out by: ", "Clause: ", "Rests on: the plan"})
        EXPECT_THAT(figures.toStdString(), HasSubstr(word));
    EXPECT_TRUE(shows(QString::fromStdString(finding->sentence)));
    EXPECT_TRUE(shows(QStringLiteral("Way out: ") + shortWayOut(*finding))) << "the amount stands above it";
    EXPECT_EQ(button(QStringLiteral("It is good")), nullptr) << "a measured failure is nobody's opinion";
}

TEST_F(FindingForms, OfSeveralTablesEachSaysWhoseItIs) {
    const auto inList = [&](const std::string& key) {
        for (const ShortLine& line : linesOf(desk_.document, UnitsShown::mm))
            if (line.key == key) return line;
        return ShortLine{};
    };
    const QString title = QString::fromStdString(desk_.document.report().tables.front().title);
    ASSERT_FALSE(title.isEmpty());
    const ShortLine before = inList(findingKey(firstWith(Answer::fails)));
    EXPECT_FALSE(before.clause.contains(title)) << "of one table nobody asks whose";
    EXPECT_THAT(desk_.document.useTable(demo_.root() / "rules" / "saloon_article_253.yaml", true), IsEmpty());
    const CheckReport& report = desk_.document.report();
    ASSERT_EQ(report.tables.size(), 2u);
    std::set<std::string> shown;
    for (const Finding& finding : report.findings) {
        if (finding.answer != Answer::fails && finding.answer != Answer::ask_person) continue;
        const bool first = finding.table == report.tables[0].id;
        const RuleTableInfo &own = report.tables[first ? 0 : 1], &other = report.tables[first ? 1 : 0];
        const ShortLine line = inList(findingKey(finding));
        const QString whose = QString::fromStdString(own.title);
        EXPECT_TRUE(line.clause.contains(whose)) << line.clause.toStdString();
        EXPECT_TRUE(line.sentence.contains(whose)) << "read aloud: " << line.sentence.toStdString();
        EXPECT_FALSE(line.clause.contains(QString::fromStdString(other.title)));
        if (!shown.insert(finding.table).second) continue;
        choose(Kind::finding, findingKey(finding));
        EXPECT_TRUE(formSays(whose + QStringLiteral(", edition ") + QString::fromStdString(own.edition)));
    }
    EXPECT_EQ(shown.size(), 2u);
}

TEST_F(FindingForms, AQuestionIsAnsweredKeptAndTakenBack) {
    const std::string key = show(Answer::ask_person);
    answer(QStringLiteral("the fabricator"), QStringLiteral("2026-11-25"), QStringLiteral("It is good"));
    ASSERT_EQ(job().cage.answers.size(), 1u);
    EXPECT_EQ(job().cage.answers[0].who, "the fabricator");
    EXPECT_EQ(job().cage.answers[0].note, "torch and mirror");
    EXPECT_EQ(findFinding(desk_.document.report(), key)->answer, Answer::meets);
    ASSERT_NE(button(QStringLiteral("Take back")), nullptr) << "the page still shows what was answered";
    answer(QStringLiteral("the fabricator"), QStringLiteral("2026-11-26"), QStringLiteral("It is not"));
    EXPECT_EQ(job().cage.answers.size(), 1u) << "one answer a question";
    EXPECT_EQ(findFinding(desk_.document.report(), key)->answer, Answer::fails);
    button(QStringLiteral("Take back"))->click();
    QCoreApplication::processEvents();
    EXPECT_THAT(job().cage.answers, IsEmpty());
    EXPECT_EQ(findFinding(desk_.document.report(), key)->answer, Answer::ask_person);
    EXPECT_EQ(steps(), 3);
}

TEST_F(FindingForms, AnAnswerNeedsWhoAndAWholeDate) {
    show(Answer::ask_person);
    for (const auto& [who, when] : {std::pair{"", "2026-11-25"}, std::pair{"the fabricator", "yesterday"},
                                    std::pair{"the fabricator", "2026-02-30"}}) {
        said_.clear();
        answer(QString::fromLatin1(who), QString::fromLatin1(when), QStringLiteral("It is good"));
        EXPECT_THAT(said_.toStdString(), HasSubstr("needs the name of who looked and a date"));
    }
    EXPECT_THAT(job().cage.answers, IsEmpty());
}

TEST_F(FindingForms, WhoLookedIsRememberedForTheNextQuestion) {
    show(Answer::ask_person);
    answer(QStringLiteral("the fabricator"), QStringLiteral("2026-11-25"), QStringLiteral("It is good"));
    show(Answer::ask_person);
    EXPECT_EQ(control<QLineEdit>(QStringLiteral("Who looked"))->text(), QStringLiteral("the fabricator"));
}

TEST_F(FindingForms, WhatWasTypedWaitsUntilItIsGiven) {
    const std::string key = show(Answer::ask_person);
    control<QLineEdit>(QStringLiteral("Who looked"))->setText(QStringLiteral("the fabricator"));
    control<QLineEdit>(QStringLiteral("Note"))->setText(QStringLiteral("all but one"));
    desk_.selection.clear();
    QCoreApplication::processEvents();
    choose(Kind::finding, key);
    EXPECT_EQ(control<QLineEdit>(QStringLiteral("Who looked"))->text(), QStringLiteral("the fabricator"));
    EXPECT_EQ(control<QLineEdit>(QStringLiteral("Note"))->text(), QStringLiteral("all but one"));
    EXPECT_THAT(job().cage.answers, IsEmpty());
    button(QStringLiteral("It is good"))->click();
    QCoreApplication::processEvents();
    EXPECT_EQ(job().cage.answers.at(0).note, "all but one");
    button(QStringLiteral("Take back"))->click();
    QCoreApplication::processEvents();
    EXPECT_EQ(control<QLineEdit>(QStringLiteral("Note"))->text(), QString()) << "it was given, none waits";
}

TEST_F(FindingForms, APhotoIsShownAlsoWhereItsFileIsTyped) {
    show(Answer::ask_person);
    const QString file = text((demo_.root() / "weld.png").generic_string());
    ASSERT_TRUE(QPixmap(400, 300).save(file));
    type(control<QLineEdit>(QStringLiteral("Photo")), file, 0);
    auto* picture = control<QLabel>(QStringLiteral("The photo"));
    EXPECT_TRUE(waitFor([&] { return picture->height() >= 150; })) << picture->height();
}

TEST_F(FindingForms, WhatAPersonSaidIsNotSaysWhoAndWhenInTheList) {
    const std::string key = show(Answer::ask_person);
    answer(QStringLiteral("the fabricator"), QStringLiteral("2026-11-25"), QStringLiteral("It is not"));
    const auto lines = linesOf(desk_.document, UnitsShown::mm);
    const auto line =
        std::find_if(lines.begin(), lines.end(), [&](const auto& one) { return one.key == key; });
    ASSERT_NE(line, lines.end());
    EXPECT_EQ(line->way_out, QStringLiteral("the fabricator, 2026-11-25: it is not"));
}

TEST_F(FindingForms, ALimitOfManyWordsStandsWhole) {
    for (const Finding& finding : desk_.document.report().findings) {
        const QString limit = limitWords(finding, desk_.units());
        if (finding.limit_text.empty() || limit.size() < 60) continue;
        choose(Kind::finding, findingKey(finding));
        EXPECT_TRUE(formSays(QStringLiteral("Wanted: ") + limit));
        return;
    }
    ADD_FAILURE() << "no limit is that long";
}

TEST_F(FindingForms, TheListIsWorstFirstAndHoldsWhatDoesNotMeet) {
    const auto lines = linesOf(desk_.document, UnitsShown::mm);
    const CheckReport& report = desk_.document.report();
    EXPECT_EQ(int(lines.size()), report.count(Answer::fails) + report.count(Answer::cannot_tell) +
                                     report.count(Answer::ask_person));
    bool asked = false;
    for (const ShortLine& line : lines) {
        if (line.answer == Answer::ask_person) asked = true;
        EXPECT_FALSE(asked && line.answer == Answer::fails) << line.title.toStdString();
        EXPECT_FALSE(line.title.isEmpty());
        EXPECT_FALSE(line.sentence.isEmpty());
        if (line.answer == Answer::fails) {
            EXPECT_FALSE(line.way_out.isEmpty()) << line.title.toStdString();
        }
    }
}

TEST_F(FindingForms, TheWayOutStandsWithoutTheAmountBesideIt) {
    Finding finding;
    finding.way_out = "5.2 deg more is needed. Land its foot farther back.";
    EXPECT_EQ(shortWayOut(finding), QStringLiteral("Land its foot farther back."));
    finding.way_out = "2 more are needed. Fit a diagonal.";
    EXPECT_EQ(shortWayOut(finding), QStringLiteral("Fit a diagonal."));
    finding.way_out = "5.2 deg more is needed.";
    EXPECT_EQ(shortWayOut(finding), QString::fromUtf8("5.2° more is needed.")) << "all there is stays";
    finding.way_out = "Use tube of 45 x 2.5 mm or more.";
    EXPECT_EQ(shortWayOut(finding), QStringLiteral("Use tube of 45 x 2.5 mm or more."));
    finding.way_out.clear();
    EXPECT_TRUE(shortWayOut(finding).isEmpty());
}

TEST_F(FindingForms, MarginsFollowThePersonsUnit) {
    const auto figureOf = [&](UnitsShown units) {
        for (const ShortLine& line : linesOf(desk_.document, units)) {
            if (line.title.contains(QStringLiteral("Helmet to bare tube"))) return line.by;
        }
        return QString();
    };
    EXPECT_TRUE(figureOf(UnitsShown::mm).endsWith(QStringLiteral(" mm short")));
    EXPECT_TRUE(figureOf(UnitsShown::in).endsWith(QStringLiteral(" in short")));
}

TEST_F(FindingForms, AClickOnALineChoosesTheFindingAndEnterItsBar) {
    FallsShort list(desk_);
    list.resize(800, 200);
    list.show();
    for (int row = 0; row < list.list()->model()->rowCount(); ++row) {
        const QModelIndex index = list.list()->model()->index(row, 0);
        list.list()->scrollTo(index);
        QTest::mouseClick(list.list()->viewport(), Qt::LeftButton, {},
                          list.list()->visualRect(index).center());
        ASSERT_NE(desk_.selection.last(), nullptr);
        ASSERT_EQ(desk_.selection.last()->kind, Kind::finding);
        const Finding* finding = findFinding(desk_.document.report(), desk_.selection.last()->id);
        ASSERT_NE(finding, nullptr);
        if (finding->evidence.members.empty()) continue;
        emit list.list()->activated(index);
        EXPECT_EQ(desk_.selection.last()->kind, Kind::member);
        EXPECT_EQ(desk_.selection.last()->id, finding->evidence.members.front());
        return;
    }
    FAIL() << "no finding is about a bar";
}

TEST_F(FindingForms, AShapeThatCannotBeBuiltHeadsTheList) {
    desk_.document.edit(QStringLiteral("bend"), [](Job& job) {
        findMember(job.cage, "main_hoop")->bend_radius_mm = 900;  // two bends would overlap
    });
    ASSERT_THAT(desk_.document.geometry().problems, Not(IsEmpty()));
    const auto lines = linesOf(desk_.document, UnitsShown::mm);
    EXPECT_EQ(lines.front().member, "main_hoop");
    EXPECT_TRUE(lines.front().key.empty());
    FallsShort list(desk_);
    list.resize(800, 200);
    list.show();
    list.list()->setCurrentIndex(list.list()->model()->index(0, 0));
    EXPECT_EQ(desk_.selection.last()->id, "main_hoop");
}

TEST_F(FindingForms, EveryLineIsReadAloudAsOneSentence) {
    FallsShort list(desk_);
    const QAbstractItemModel* model = list.list()->model();
    for (int row = 0; row < model->rowCount(); ++row) {
        const QString spoken = model->index(row, 0).data(Qt::AccessibleTextRole).toString();
        EXPECT_TRUE(spoken.startsWith(QStringLiteral("fails: ")) ||
                    spoken.startsWith(QStringLiteral("ask a person: ")))
            << spoken.toStdString();
    }
}

TEST_F(FindingForms, ARuleThatNoLongerAppliesLetsGoOfItsPage) {
    show(Answer::fails);
    while (!job().cage.rule_files.empty())
        EXPECT_THAT(desk_.document.useTable(job().cage.rule_files.front(), false), IsEmpty());
    QCoreApplication::processEvents();
    const Thing* last = desk_.selection.last();
    EXPECT_TRUE(!last || last->kind != Kind::finding || !findFinding(desk_.document.report(), last->id));
    EXPECT_THAT(linesOf(desk_.document, UnitsShown::mm), IsEmpty());
}

}  // namespace
}  // namespace hoopwright
