// What is kept of the built cage, typed into the window.
#include "app/window/records.h"

#include <QAction>
#include <QDate>
#include <QHeaderView>
#include <QLineEdit>
#include <QSettings>
#include <QTabWidget>
#include <numbers>

#include "app/window/record_grid.h"
#include "desk_fixture.h"
#include "waits.h"

namespace hoopwright {
namespace {

class RecordsTest : public DeskTest {
protected:
    RecordsTest() : records_(desk_) {
        for (auto* one : records_.findChildren<QLineEdit*>()) {
            if (one->accessibleName() == QStringLiteral("Measured by"))
                one->setText(QStringLiteral("A. Fitter"));
            if (one->accessibleName() == QStringLiteral("Measured on"))
                one->setText(QStringLiteral("2026-03-02"));
        }
    }
    RecordGrid& grid(const char* name) {
        for (auto* one : records_.findChildren<RecordGrid*>())
            if (one->accessibleName() == QLatin1String(name)) return *one;
        ADD_FAILURE() << name;
        return *records_.findChild<RecordGrid*>();
    }
    /// The row whose first cells read so; -1: none.
    static int row(const RecordGrid& in, const QStringList& cells) {
        for (int r = 0; r < in.rowCount(); ++r) {
            bool is = true;
            for (int c = 0; c < cells.size(); ++c) is = is && in.item(r, c)->text() == cells[c];
            if (is) return r;
        }
        return -1;
    }
    void press(const QString& words) {
        for (auto* one : records_.findChildren<QPushButton*>())
            if (one->text() == words) return one->click();
        ADD_FAILURE() << words.toStdString();
    }
    QString said() {
        for (auto* one : records_.findChildren<QLabel*>())
            if (one->property("role") == QStringLiteral("wrong")) return one->text();
        return {};
    }
    Records records_;
};

TEST_F(RecordsTest, NoHeadIsCutOffOnAnyPageAndEveryWordCanBeRead) {
    records_.show();
    auto* pages = records_.findChild<QTabWidget*>();
    for (const QSize size : {QSize(940, 620), QSize(1180, 700)}) {
        records_.resize(size);
        for (int n = 0; n < pages->count(); ++n) {
            pages->setCurrentIndex(n);
            settleEvents(0);
            const auto* list = pages->currentWidget()->findChild<RecordGrid*>();
            int all = 0;
            for (int c = 0; c < list->columnCount(); ++c) {
                EXPECT_GE(list->columnWidth(c), list->horizontalHeader()->sectionSizeHint(c))
                    << list->horizontalHeaderItem(c)->text().toStdString();
                for (int r = 0; r < list->rowCount(); ++r) {
                    const QString words = list->item(r, c)->text();
                    const QRect room = list->visualRect(list->model()->index(r, c)).adjusted(3, 0, -3, 0);
                    const QRect need = list->fontMetrics().boundingRect(
                        QRect(0, 0, room.width(), 1000), Qt::TextWordWrap | Qt::AlignLeft, words);
                    EXPECT_LE(need.height(), room.height()) << words.toStdString();
                    EXPECT_LE(need.width(), room.width()) << words.toStdString();
                    EXPECT_TRUE(list->item(r, c)->toolTip().startsWith(words));
                }
                all += list->columnWidth(c);
            }
            EXPECT_LE(all, list->viewport()->width()) << pages->tabText(n).toStdString();
        }
    }
}

TEST_F(RecordsTest, AMeasureTypedBesideThePlanIsJudgedAndCanBeTakenBack) {
    RecordGrid& built = grid("As built");
    const int at = row(built, {QStringLiteral("Rear brace, left"),
                               QStringLiteral("Rear brace against vertical: angle to vertical, side view")});
    ASSERT_GE(at, 0);
    EXPECT_TRUE(built.item(at, 3)->text().startsWith(QStringLiteral("47.6")));
    EXPECT_TRUE(built.item(at, 2)->text().startsWith(QStringLiteral("at least")));
    EXPECT_EQ(built.item(at, 6)->text(), QString()) << "the plan is judged in the list of findings";
    const auto fails = [&] { return desk_.document.report().count(Answer::fails); };
    EXPECT_EQ(fails(), 0);
    built.item(at, 4)->setText(QStringLiteral("20"));
    ASSERT_EQ(job().cage.readings.size(), 1u);
    const BuiltReading& kept = job().cage.readings[0];
    EXPECT_EQ(kept.of, "rear_brace.left");
    EXPECT_EQ(kept.spot, "side view");
    EXPECT_NEAR(kept.value, 20 * std::numbers::pi / 180, 1e-12);
    EXPECT_EQ(kept.who + kept.when, "A. Fitter2026-03-02");
    EXPECT_EQ(fails(), 1);
    EXPECT_TRUE(built.item(at, 5)->text().startsWith(QStringLiteral("-27.6")));
    EXPECT_TRUE(built.item(at, 6)->text().startsWith(QStringLiteral("fails by 10.0")));
    const QString shown = built.item(at, 4)->text();
    built.item(at, 4)->setText(QStringLiteral("no angle"));
    EXPECT_FALSE(said().isEmpty());
    EXPECT_EQ(built.item(at, 4)->text(), shown);
    built.item(at, 4)->setText(QString());
    EXPECT_TRUE(job().cage.readings.empty());
    EXPECT_EQ(steps(), 2);
    undo();
    EXPECT_EQ(job().cage.readings.size(), 1u);
    EXPECT_TRUE(built.item(at, 5)->text().startsWith(QStringLiteral("-27.6")));
    built.item(at, 4)->setText(QStringLiteral("31"));
    EXPECT_EQ(built.item(at, 6)->text(), QStringLiteral("meets"));
}

TEST_F(RecordsTest, AWallIsKeptAtItsSpot) {
    RecordGrid& walls = grid("Wall readings");
    const int bend = row(walls, {QStringLiteral("1.2")});
    ASSERT_GE(bend, 0);
    walls.item(bend, 7)->setText(QStringLiteral("2.13"));
    ASSERT_EQ(job().cage.readings.size(), 1u);
    EXPECT_EQ(job().cage.readings[0].quantity, "gauged_bent_wall");
    EXPECT_EQ(job().cage.readings[0].spot, "1.2");
    walls.item(bend, 7)->setText(QStringLiteral("-1"));
    EXPECT_FALSE(said().isEmpty());
    EXPECT_EQ(job().cage.readings[0].value, 2.13);
    EXPECT_EQ(walls.item(bend, 8)->text(), QString());
    EXPECT_EQ(walls.item(bend, 4)->text(), QStringLiteral("2.14 mm"));  // 2.5 x 135 / (135 + 45 / 2)
    EXPECT_TRUE(walls.item(bend, 6)->text().endsWith(QStringLiteral(" n"))) << "the nominal wall is judged";
    walls.item(bend, 7)->setText(QStringLiteral("1.9"));
    EXPECT_EQ(walls.item(bend, 8)->text(), QStringLiteral("thinner than the mill's least leaves it"));
    desk_.setUnits(UnitsShown::in);
    EXPECT_EQ(walls.item(bend, 4)->text(), QStringLiteral("0.0844 in"));  // 2.142857 / 25.4
}

TEST_F(RecordsTest, EnterGoesDownUnlessWhatWasTypedWillNotDo) {
    records_.show();
    RecordGrid& built = grid("As built");
    built.setFocus();
    const auto typed = [&](int row, const char* words) {
        built.setCurrentCell(row, 4);
        built.editItem(built.item(row, 4));
        auto* editor = built.viewport()->findChild<QLineEdit*>();
        ASSERT_NE(editor, nullptr);
        QTest::keyClicks(editor, QString::fromLatin1(words));
        QTest::keyClick(editor, Qt::Key_Return);
        settleEvents(0);
    };
    const int wide = built.columnWidth(4);
    typed(0, "3");
    EXPECT_EQ(built.currentRow(), 1);
    EXPECT_EQ(job().cage.readings.size(), 1u);
    typed(1, "never");
    EXPECT_EQ(built.currentRow(), 1);
    EXPECT_EQ(job().cage.readings.size(), 1u);
    EXPECT_EQ(built.columnWidth(4), wide) << "no column moves under the mouse";
}

TEST_F(RecordsTest, SaveAndUndoGoOnAsInTheWindow) {
    QWidget window;
    int saved = 0, undone = 0;
    const auto act = [&](const QKeySequence& keys, int& count) {
        auto* action = new QAction(&window);
        action->setShortcut(keys);
        QObject::connect(action, &QAction::triggered, &window, [&count] { ++count; });
        window.addAction(action);
    };
    act(QKeySequence::Save, saved);
    act(QKeySequence::Undo, undone);
    window.show();
    showRecords(desk_, &window);
    auto* records = window.findChild<QDialog*>(QStringLiteral("records"));
    ASSERT_NE(records, nullptr);
    ASSERT_TRUE(waitForActive(records));
    QTest::keyClick(records, Qt::Key_S, Qt::ControlModifier);
    QTest::keyClick(records, Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(saved, 1);
    EXPECT_EQ(undone, 1);
}

TEST_F(RecordsTest, ThePictureOverThemStaysInSight) {
    QWidget window;
    window.setGeometry(0, 0, 1366, 768);
    window.show();
    showRecords(desk_, &window);
    auto* records = window.findChild<QDialog*>(QStringLiteral("records"));
    ASSERT_NE(records, nullptr);
    EXPECT_GE(records->y(), 768 / 3);
    EXPECT_LE(records->height(), 768 * 3 / 5);
}

TEST_F(RecordsTest, ALongNameOfWhoMeasuredBreaksNoRow) {
    QSettings().setValue(QStringLiteral("who"), QStringLiteral("Somebody of a long name"));
    Records records(desk_);
    QSettings().remove(QStringLiteral("who"));
    records.resize(1280, 680);
    records.show();
    settleEvents(0);
    RecordGrid* built = nullptr;
    for (auto* one : records.findChildren<RecordGrid*>())
        if (one->accessibleName() == QStringLiteral("As built")) built = one;
    ASSERT_NE(built, nullptr);
    const int high = built->rowHeight(0);
    built->item(0, 4)->setText(QStringLiteral("3"));
    EXPECT_EQ(job().cage.readings.at(0).who, "Somebody of a long name");
    EXPECT_EQ(built->rowHeight(0), high);
}

TEST_F(RecordsTest, OneCertificateIsGivenToAllOfItsTube) {
    RecordGrid& tubes = grid("Certificates");
    press(QStringLiteral("Same for all of this tube without one"));
    EXPECT_FALSE(said().isEmpty());
    const std::size_t before = job().cage.certificates.size();
    const int hoop = row(tubes, {QStringLiteral("Main hoop")}),
              side = row(tubes, {QStringLiteral("Side bar, left")});
    tubes.item(side, 2)->setText(QStringLiteral("H9"));
    tubes.item(side, 3)->setText(QStringLiteral("C-9"));
    tubes.setCurrentCell(side, 2);
    press(QStringLiteral("Same for all of this tube without one"));
    EXPECT_TRUE(said().isEmpty());
    for (const ResolvedMember& bar : desk_.document.geometry().members) {
        const auto found = std::ranges::find(job().cage.certificates, bar.id, &Certificate::of);
        const bool same_tube = tubes.item(row(tubes, {QString::fromStdString(bar.name)}), 1)->text() ==
                               tubes.item(side, 1)->text();
        ASSERT_EQ(found != job().cage.certificates.end(), same_tube) << bar.id;
        if (same_tube) {
            EXPECT_EQ(found->heat, bar.id == "main_hoop" ? "H4460" : "H9") << "the hoop keeps its own";
        }
    }
    EXPECT_GE(hoop, 0);
    EXPECT_GT(job().cage.certificates.size(), before);
}

TEST_F(RecordsTest, CertificatesPapersAndInspectionsAreTypedAndUndone) {
    RecordGrid& tubes = grid("Certificates");
    tubes.item(0, 2)->setText(QStringLiteral("H4711"));
    tubes.item(0, 4)->setText(QStringLiteral("last May"));
    EXPECT_FALSE(said().isEmpty());
    tubes.item(0, 4)->setText(QStringLiteral("2026-02-03"));
    ASSERT_EQ(job().cage.certificates.size(), 1u);
    EXPECT_EQ(job().cage.certificates[0].heat + job().cage.certificates[0].when, "H47112026-02-03");
    press(QStringLiteral("Add a paper"));
    RecordGrid& papers = grid("Papers with dates");
    papers.item(0, 3)->setText(QStringLiteral("2029-12-31"));
    ASSERT_EQ(job().cage.papers.size(), 1u);
    EXPECT_EQ(job().cage.papers[0].due, "2029-12-31");
    EXPECT_TRUE(papers.item(0, 4)->text().endsWith(QStringLiteral(" days left")) ||
                QDate::currentDate() > QDate(2029, 12, 30));
    papers.item(0, 3)->setText(QStringLiteral("2020-02-29"));
    EXPECT_TRUE(papers.item(0, 4)->text().startsWith(QStringLiteral("RUN OUT ")));
    papers.item(0, 5)->setText(QStringLiteral("at the maker's"));
    EXPECT_EQ(job().cage.papers[0].note, "at the maker's");
    press(QStringLiteral("Delete the chosen paper"));
    EXPECT_TRUE(job().cage.papers.empty());
    undo();
    EXPECT_EQ(job().cage.papers.size(), 1u);
    press(QStringLiteral("Add today's, with its check"));
    ASSERT_EQ(job().cage.inspections.size(), 1u);
    EXPECT_EQ(job().cage.inspections[0].who, "") << "who measured is not who inspects";
    const std::filesystem::path report =
        desk_.document.files().cage.parent_path() / job().cage.inspections[0].report;
    EXPECT_TRUE(std::filesystem::is_regular_file(report));
    // Nothing has changed since this very moment.
    const InspectorPack pack = inspectorPack(job(), desk_.document.geometry(), desk_.document.tables(),
                                             report.parent_path(), "2026-03-02");
    ASSERT_EQ(pack.inspections.size(), 1u);
    EXPECT_EQ(pack.inspections[0].trouble, "");
    EXPECT_TRUE(pack.inspections[0].changes.empty());
}

}  // namespace
}  // namespace hoopwright
