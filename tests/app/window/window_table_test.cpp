// The table editor in the whole window, by mouse and keyboard.
#include <QCheckBox>
#include <QComboBox>
#include <QFile>
#include <QListWidget>
#include <QMessageBox>
#include <QTextBlock>

#include "app/window/app_paths.h"
#include "app/window/find_box.h"
#include "app/window/findings.h"
#include "app/window/own_table.h"
#include "app/window/rule_form.h"
#include "app/window/table_editor.h"
#include "app/window/table_findings.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowTableTest : public WindowTest {
protected:
    explicit WindowTableTest(QSize size = {1600, 960}) : WindowTest(size) {}
    ~WindowTableTest() override { window_->tableEditor().close(); }

    TableEditor& editor() { return window_->tableEditor(); }
    TableText& page() { return *editor().box(); }
    std::filesystem::path table() { return demo_.root() / "rules" / "club_hillclimb.yaml"; }
    void open() {
        window_->action(QStringLiteral("Edit the table"))->trigger();
        settle(100);
    }
    /// Puts the cursor right behind these words.
    void putBehind(const QString& words) {
        QTextCursor found = page().document()->find(words);
        ASSERT_FALSE(found.isNull()) << words.toStdString();
        found.setPosition(found.selectionEnd());
        page().setTextCursor(found);
        page().setFocus();
    }
    void key(int which, Qt::KeyboardModifiers with = {}) { QTest::keyClick(&page(), Qt::Key(which), with); }
    /// Looked over without a touch of ours: the pause after typing.
    bool looked(std::size_t problems) {
        return waitFor([&] { return page().marks().size() == problems; });
    }
    /// Answers the next dialog.
    template <class Dialog>
    void answer(const std::function<void(Dialog&)>& fill) {
        QTimer::singleShot(150, this->window_.get(), [fill] {
            auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget());
            ASSERT_NE(dialog, nullptr);
            fill(*dialog);
        });
    }
    static void press(QWidget& in, const QString& words) {
        for (auto* one : in.findChildren<QPushButton*>()) {
            if (one->text().remove(QLatin1Char('&')) != words) continue;
            ASSERT_TRUE(one->isEnabled()) << words.toStdString();
            QTest::mouseClick(one, Qt::LeftButton);
            return;
        }
        ADD_FAILURE() << "no button " << words.toStdString();
    }
    template <class Field>
    static Field* named(QWidget& in, const QString& name) {
        for (auto* one : in.findChildren<Field*>())
            if (one->accessibleName() == name) return one;
        ADD_FAILURE() << "no field " << name.toStdString();
        return nullptr;
    }
    static void write(QWidget& in, const QString& name, const QString& words) {
        auto* line = named<QLineEdit>(in, name);
        ASSERT_NE(line, nullptr);
        line->setFocus();
        line->selectAll();
        QTest::keyClicks(line, words);
        if (QWidget* offered = QApplication::activePopupWidget()) offered->close();
    }
};

TEST_F(WindowTableTest, OpensByItsKeyBesideThePicture) {
    QTest::keyClick(window_.get(), Qt::Key_E, Qt::ControlModifier);
    settle(100);
    EXPECT_TRUE(editor().isVisible());
    EXPECT_TRUE(page().hasFocus());
    EXPECT_EQ(editor().file(), table());
    EXPECT_EQ(page().toPlainText().toStdString(), contents(table()));
    EXPECT_TRUE(window_->viewHost().isVisible()) << "the picture never goes away";
    EXPECT_GT(window_->viewHost().width(), 600);
    EXPECT_TRUE(window_->tableFindings().isVisible());
    EXPECT_FALSE(window_->fallsShort().isVisible());
    EXPECT_FALSE(window_->leftPages().isVisible());
    EXPECT_TRUE(page().marks().empty()) << "the demo's table is clean";
    EXPECT_TRUE(editor().state()->text().endsWith("rules, reads well."));
    keep(QStringLiteral("window_table_light"));
    QTest::keyClick(window_.get(), Qt::Key_3, Qt::ControlModifier);
    settle(100);
    EXPECT_FALSE(editor().isVisible());
    EXPECT_TRUE(window_->leftPages().isVisible());
    EXPECT_TRUE(window_->fallsShort().isVisible());
    settle(200);
    for (int row = 1; row < list()->model()->rowCount(); ++row) {
        const QRect above = list()->visualRect(list()->model()->index(row - 1, 0));
        EXPECT_EQ(list()->visualRect(list()->model()->index(row, 0)).top(), above.bottom() + 1)
            << "rows are as high as this width wants, row " << row;
    }
}

TEST_F(WindowTableTest, AMistakeIsUnderlinedListedAndGoneWhenMended) {
    open();
    putBehind(QStringLiteral("measure: ten"));
    QTest::keyClicks(&page(), QStringLiteral("zz"));
    ASSERT_TRUE(looked(1));
    const TextMark mark = page().marks()[0];
    EXPECT_EQ(mark.line, page().line());
    EXPECT_TRUE(mark.words.contains("there is no quantity 'tenzzsile'")) << mark.words.toStdString();
    EXPECT_TRUE(editor().state()->text().startsWith("1 problem")) << editor().state()->text().toStdString();
    bool underlined = false;
    for (const QTextEdit::ExtraSelection& one : page().extraSelections())
        underlined |= one.cursor.selectedText() == "tenzzsile";
    EXPECT_TRUE(underlined);
    EXPECT_TRUE(window_->tableFindings().said().contains("of the last text that could be used"));
    keep(QStringLiteral("window_table_wrong"));
    // A click in the list under the text goes there.
    page().goTo(1, 1);
    QListWidget* list = editor().troubles();
    ASSERT_EQ(list->count(), 1);
    QTest::mouseClick(list->viewport(), Qt::LeftButton, {}, list->visualItemRect(list->item(0)).center());
    EXPECT_EQ(page().line(), mark.line);
    EXPECT_EQ(page().column(), mark.column);
    EXPECT_TRUE(page().hasFocus());
    key(Qt::Key_Z, Qt::ControlModifier);
    ASSERT_TRUE(looked(0));
    EXPECT_EQ(page().toPlainText().toStdString(), contents(table()));
    EXPECT_FALSE(editor().dirty()) << "undone to what is on the disk";
}

TEST_F(WindowTableTest, TheCageIsCheckedWithTheTextThatIsNotSaved) {
    open();
    const int fails = window_->tableFindings().report().count(Answer::fails);
    const int fails_of_job = desk().document.report().count(Answer::fails);
    putBehind(QStringLiteral("exactly: 1"));  // one main hoop
    key(Qt::Key_Backspace);
    QTest::keyClicks(&page(), QStringLiteral("2"));
    ASSERT_TRUE(waitFor([&] { return window_->tableFindings().report().count(Answer::fails) == fails + 1; }));
    EXPECT_EQ(desk().document.report().count(Answer::fails), fails_of_job)
        << "the job's own check waits for Save";
    QListView* list = window_->tableFindings().list();
    const QModelIndex first = list->model()->index(0, 0);
    QTest::mouseClick(list->viewport(), Qt::LeftButton, {}, list->visualRect(first).center());
    settle();
    ASSERT_TRUE(window_->viewHost().view()->showsEvidence()) << "it is drawn in the picture";
    // The cage changes under it.
    desk().document.edit(QStringLiteral("no hoop"), [](Job& next) { next.cage.members.clear(); });
    EXPECT_GT(window_->tableFindings().report().count(Answer::fails), fails + 1);
    desk().document.undoStack().undo();
    EXPECT_EQ(window_->tableFindings().report().count(Answer::fails), fails + 1);
}

TEST_F(WindowTableTest, SavedItIsUsedAtOnce) {
    open();
    const int fails = desk().document.report().count(Answer::fails);
    putBehind(QStringLiteral("exactly: 1"));
    key(Qt::Key_Backspace);
    QTest::keyClicks(&page(), QStringLiteral("2"));
    key(Qt::Key_S, Qt::ControlModifier);
    settle();
    EXPECT_FALSE(editor().dirty());
    EXPECT_NE(contents(table()).find("exactly: 2"), std::string::npos);
    EXPECT_EQ(desk().document.report().count(Answer::fails), fails + 1);
    EXPECT_FALSE(desk().document.dirty()) << "the job itself did not change";
}

TEST_F(WindowTableTest, WithProblemsItIsSavedAndNotUsed) {
    QString said;
    QObject::connect(&desk(), &Desk::say, window_.get(), [&](const QString& words) { said = words; });
    open();
    const auto before = desk().document.tables();
    putBehind(QStringLiteral("exactly: 1"));
    QTest::keyClicks(&page(), QStringLiteral(" deg"));
    key(Qt::Key_S, Qt::ControlModifier);
    settle();
    EXPECT_NE(contents(table()).find("exactly: 1 deg"), std::string::npos);
    EXPECT_TRUE(said.startsWith("Saved, but not used")) << said.toStdString();
    EXPECT_EQ(desk().document.tables(), before);
    EXPECT_TRUE(editor().state()->text().contains("not used until"));
}

TEST_F(WindowTableTest, AFindingLeadsToItsRule) {
    ASSERT_TRUE(window_->openFile(demo_.root() / "cages" / "faults" / "hillclimb_saloon.yaml"));
    QListView* list = window_->fallsShort().list();
    QTest::mouseClick(list->viewport(), Qt::LeftButton, {},
                      list->visualRect(list->model()->index(0, 0)).center());
    settle();
    ASSERT_NE(desk().selection.last(), nullptr);
    const Finding* finding = findFinding(desk().document.report(), desk().selection.last()->id);
    ASSERT_NE(finding, nullptr);
    const std::string rule = finding->rule;
    press(*window_->details().form(), QStringLiteral("Show the rule in its table"));
    settle(100);
    EXPECT_TRUE(editor().isVisible());
    EXPECT_EQ(page().textCursor().block().text().trimmed().toStdString(), "- id: " + rule);
}

TEST_F(WindowTableTest, WordsAreOfferedAndTakenByKeys) {
    open();
    putBehind(QStringLiteral("at_least: 350 MPa"));
    key(Qt::Key_Return);
    EXPECT_EQ(page().column(), 5) << "under the line above";
    QTest::keyClicks(&page(), QStringLiteral("sev"));
    ASSERT_TRUE(page().offering());
    keep(QStringLiteral("window_table_words"));
    QTest::keyClick(QApplication::activePopupWidget(), Qt::Key_Return);
    EXPECT_TRUE(page().textCursor().block().text() == "    severity: ")
        << page().textCursor().block().text().toStdString();
    QTest::keyClicks(&page(), QStringLiteral("rec"));
    ASSERT_TRUE(page().offering());
    QTest::keyClick(QApplication::activePopupWidget(), Qt::Key_Return);
    EXPECT_EQ(page().textCursor().block().text(), "    severity: recommended");
    ASSERT_TRUE(looked(0));
    key(Qt::Key_Return);
    QTest::keyClicks(&page(), QStringLiteral("mea"));
    QTest::keyClick(QApplication::activePopupWidget(), Qt::Key_Escape);
    EXPECT_FALSE(page().offering());
    EXPECT_TRUE(editor().isVisible()) << "the first Escape is the list's";
    key(Qt::Key_Space, Qt::ControlModifier);
    EXPECT_TRUE(page().offering());
}

TEST_F(WindowTableTest, AFormWritesARuleBehindTheCursorsAndKeepsEveryRemark) {
    open();
    const std::string before = page().toPlainText().toStdString();
    putBehind(QStringLiteral("id: tube_form"));
    answer<RuleForm>([&](RuleForm& form) {
        auto* shape = named<QComboBox>(form, QStringLiteral("Shape"));
        shape->setCurrentText(QStringLiteral("Limit of an angle"));
        write(form, QStringLiteral("Title"), QStringLiteral("Rear brace: angle"));
        write(form, QStringLiteral("Sentence"), QStringLiteral("Each rear brace stands off vertical."));
        write(form, QStringLiteral("Of which bars"), QStringLiteral("rear_brace"));
        named<QComboBox>(form, QStringLiteral("Measures"))
            ->setCurrentText(QStringLiteral("angle_to_vertical"));
        write(form, QStringLiteral("How much"), QStringLiteral("95 apples"));
        bool said = false;
        for (auto* label : form.findChildren<QLabel*>()) said |= label->text().contains("apples");
        EXPECT_TRUE(said) << "a wrong value is said before it is put in";
        write(form, QStringLiteral("How much"), QStringLiteral("25 deg"));
        form.grab().save(QStringLiteral(HOOPWRIGHT_PICTURES "/window_table_form.png"));
        press(form, QStringLiteral("Put it in"));
    });
    window_->action(QStringLiteral("New rule"))->trigger();
    settle(100);
    const std::string after = page().toPlainText().toStdString();
    const std::string rule =
        "\n  - id: rear_brace_angle\n    title: \"Rear brace: angle\"\n    sentence: Each rear brace stands "
        "off vertical.\n"
        "    measure: angle_to_vertical\n    of: {role: rear_brace}\n    at_least: 25 deg";
    const std::size_t at = after.find(rule);
    ASSERT_NE(at, std::string::npos) << after;
    std::string rest = after;
    EXPECT_EQ(rest.erase(at, rule.size()), before);
    EXPECT_LT(after.find("id: tube_form"), at);
    EXPECT_LT(at, after.find("id: tube_strength"));
    EXPECT_TRUE(page().marks().empty());
    // The same rule changed by its form.
    answer<RuleForm>([&](RuleForm& form) {
        EXPECT_EQ(named<QLineEdit>(form, QStringLiteral("How much"))->text(), "25 deg");
        write(form, QStringLiteral("How much"), QStringLiteral("30 deg"));
        press(form, QStringLiteral("Change it"));
    });
    window_->action(QStringLiteral("Change rule"))->trigger();
    settle(100);
    std::string changed = after;
    changed.replace(changed.find("25 deg"), 6, "30 deg");
    EXPECT_EQ(page().toPlainText().toStdString(), changed);
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(page().toPlainText().toStdString(), after) << "one step of undo each";
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(page().toPlainText().toStdString(), before);
}

TEST_F(WindowTableTest, UnsavedChangesAreAskedAbout) {
    open();
    putBehind(QStringLiteral("exactly: 1"));
    QTest::keyClicks(&page(), QStringLiteral("1"));
    answer<QMessageBox>([](QMessageBox& box) { press(box, QStringLiteral("Stay here")); });
    press(editor(), QStringLiteral("Close"));
    EXPECT_TRUE(editor().isOpen());
    EXPECT_TRUE(editor().dirty());
    answer<QMessageBox>([](QMessageBox& box) { press(box, QStringLiteral("Stay here")); });
    EXPECT_FALSE(window_->close());
    answer<QMessageBox>([](QMessageBox& box) { press(box, QStringLiteral("Throw the changes away")); });
    press(editor(), QStringLiteral("Close"));
    settle();
    EXPECT_FALSE(editor().isOpen());
    EXPECT_FALSE(editor().isVisible());
    EXPECT_EQ(contents(table()).find("exactly: 11"), std::string::npos);
}

TEST_F(WindowTableTest, AShippedTableIsOnlyReadAndACopyBecomesTheJobs) {
    const std::filesystem::path shipped = dataFolder() / "rules" / "club_hillclimb.yaml";
    const std::string text = contents(shipped);
    desk().document.edit(QStringLiteral("shipped"), [&](Job& next) {
        next.cage.rule_files = {shipped.generic_string()};
        next.cage.answers = {{"club_hillclimb", "welds", "", true, "A. Person", "2026-11-26", ""}};
    });
    open();
    ASSERT_TRUE(std::filesystem::equivalent(editor().file(), shipped));
    EXPECT_TRUE(editor().readOnly());
    page().setFocus();
    QTest::keyClicks(&page(), QStringLiteral("zzz"));
    key(Qt::Key_S, Qt::ControlModifier);
    EXPECT_EQ(page().toPlainText().toStdString(), text);
    EXPECT_FALSE(editor().saveAs(shipped.parent_path() / "mine.yaml").empty()) << "nothing is written there";
    EXPECT_EQ(contents(shipped), text);
    keep(QStringLiteral("window_table_shipped"));
    answer<OwnTable>([](OwnTable& dialog) {
        write(dialog, QStringLiteral("Title"), QStringLiteral("Our hill"));
        write(dialog, QStringLiteral("Id"), QStringLiteral("our_hill"));
        write(dialog, QStringLiteral("Written by"), QStringLiteral("Our club"));
        dialog.grab().save(QStringLiteral(HOOPWRIGHT_PICTURES "/window_table_mine.png"));
        press(dialog, QStringLiteral("Make it mine"));
    });
    QTest::mouseClick(editor().ownButton(), Qt::LeftButton);
    settle(100);
    const std::filesystem::path mine = demo_.root() / "cages" / "our_hill.yaml";
    EXPECT_EQ(editor().file(), mine);
    EXPECT_FALSE(editor().readOnly());
    EXPECT_THAT(job().cage.rule_files, testing::ElementsAre(mine.generic_string()));
    ASSERT_EQ(desk().document.report().tables.size(), 1u);
    EXPECT_EQ(desk().document.report().tables[0].id, "our_hill");
    EXPECT_EQ(job().cage.answers.at(0).table, "our_hill") << "what was answered stays answered";
    EXPECT_EQ(contents(shipped), text);
    desk().document.undoStack().undo();
    EXPECT_THAT(job().cage.rule_files, testing::ElementsAre(shipped.generic_string())) << "one step of undo";
}

TEST_F(WindowTableTest, UndoInTheTextIsNotUndoOfTheJob) {
    desk().document.edit(QStringLiteral("reach"), [](Job& next) { next.cage.node_reach_mm = 71; });
    open();
    putBehind(QStringLiteral("exactly: 1"));
    QTest::keyClicks(&page(), QStringLiteral("1"));
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(page().toPlainText().toStdString(), contents(table()));
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(job().cage.node_reach_mm, 71);
    key(Qt::Key_Y, Qt::ControlModifier);
    EXPECT_NE(page().toPlainText().toStdString(), contents(table()));
}

TEST_F(WindowTableTest, InTheDarkToneToo) {
    window_->useTone(Tone::dark);
    open();
    putBehind(QStringLiteral("measure: ten"));
    QTest::keyClicks(&page(), QStringLiteral("zz"));
    ASSERT_TRUE(looked(1));
    keep(QStringLiteral("window_table_dark"));
    const QImage shown = page().grab().toImage();
    EXPECT_LT(shown.pixelColor(shown.width() - 30, shown.height() - 30).lightness(), 80);
    window_->useTone(Tone::light);
}

class SmallWindowTableTest : public WindowTableTest {
protected:
    SmallWindowTableTest() : WindowTableTest({1366, 768}) {}
};

TEST_F(SmallWindowTableTest, HasRoomForBothOnASmallScreen) {
    open();
    EXPECT_GE(editor().width(), 420);
    EXPECT_GE(window_->viewHost().width(), 360);
    EXPECT_LE(window_->width(), 1366);
    keep(QStringLiteral("window_table_small"));
}

TEST_F(WindowTableTest, ACommandIsFoundByItsWholeWords) {
    auto* find = window_->findChild<FindBox*>();
    for (const QString& words :
         {QStringLiteral("Tie to the frame, bolted"), QStringLiteral("tie frame bolted")}) {
        find->begin();
        find->selectAll();
        QTest::keyClicks(find, words);
        auto* found = find->findChild<QListView*>();
        Q_UNUSED(found);
        EXPECT_GE(findScore(words, QStringLiteral("Tie to the frame, bolted")), 0);
        QTest::keyClick(find, Qt::Key_Escape);
    }
    // Typed whole and taken, it does what it does from the menu.
    QString said;
    QObject::connect(&desk(), &Desk::say, window_.get(), [&](const QString& one) { said = one; });
    desk().selection.clear();
    find->begin();
    QTest::keyClicks(find, QStringLiteral("Tie to the frame, bolted"));
    QTest::keyClick(find, Qt::Key_Return);
    settle();
    EXPECT_TRUE(find->text().isEmpty()) << "something was found and taken";
    EXPECT_FALSE(said.isEmpty()) << "and said that nothing is chosen";
}

}  // namespace
}  // namespace hoopwright
