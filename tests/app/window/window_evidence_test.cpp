// A finding that is clicked: the picture goes there, the measurement is drawn in it, and card, list and
// details say the same.
#include <QImage>
#include <QTextBlock>
#include <algorithm>

#include "app/window/fact_list.h"
#include "app/window/findings.h"
#include "app/window/table_editor.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

class WindowEvidenceTest : public WindowTest {
protected:
    QListView* shorts() { return window_->fallsShort().list(); }
    void open(const char* name) {
        ASSERT_TRUE(window_->openFile(demo_.root() / "cages" / "faults" / name));
        land();
    }
    const Finding* chosenFinding() {
        const Thing* last = desk().selection.last();
        return last && last->kind == Kind::finding ? findFinding(desk().document.report(), last->id)
                                                   : nullptr;
    }
    /// All words of the card in the view; empty if there is none.
    QString card() {
        for (const auto& shown : view().overlay().shown()) {
            if (!shown.block.mark) continue;
            QStringList words;
            for (const auto& run : shown.block.runs) words << run.text;
            return words.join(QLatin1Char(' '));
        }
        return {};
    }
    QString detailsFigures() {
        for (const auto* one : window_->details().form()->findChildren<FactList*>()) {
            if (one->accessibleName().endsWith(QStringLiteral("figures")))
                return one->accessibleDescription();
        }
        return {};
    }
    static int different(const QImage& a, const QImage& b) {
        if (a.size() != b.size()) return a.width() * a.height();
        int count = 0;
        for (int y = 0; y < a.height(); y += 2) {
            for (int x = 0; x < a.width(); x += 2) {
                const QColor one = a.pixelColor(x, y), two = b.pixelColor(x, y);
                count += std::abs(one.red() - two.red()) + std::abs(one.green() - two.green()) +
                             std::abs(one.blue() - two.blue()) >
                         40;
            }
        }
        return count;
    }
};

TEST_F(WindowEvidenceTest, EveryLineClickedFliesThereAndSaysTheSameInThreePlaces) {
    for (const auto& [name, units] : {std::pair{"hillclimb_saloon.yaml", UnitsShown::mm},
                                      std::pair{"mile_pickup.yaml", UnitsShown::in}}) {
        open(name);
        desk().setUnits(units);
        const auto lines = linesOf(desk().document, units);
        int looked_at = 0;
        for (int row = 0; row < int(lines.size()); ++row) {
            const ShortLine& line = lines[std::size_t(row)];
            if (line.key.empty()) continue;
            SCOPED_TRACE(line.sentence.toStdString());
            click(shorts(), shorts()->model()->index(row, 0));
            const Finding* finding = chosenFinding();
            ASSERT_NE(finding, nullptr);
            EXPECT_TRUE(waitFor([&] { return !view().flying(); }));
            settle(30);  // the card is laid out
            EXPECT_TRUE(view().showsEvidence());
            const QRect picture = view().rect();
            for (const ShownShape& shape : finding->evidence.shapes) {
                if (const auto* measured = std::get_if<ShownLine>(&shape)) {
                    for (const Vec3& end : {measured->from, measured->to}) {
                        const auto at = view().positionOf(end);
                        EXPECT_TRUE(at && picture.contains(at->toPoint()));
                    }
                }
            }
            const QString said = card(), figures = detailsFigures();
            EXPECT_FALSE(said.isEmpty());
            if (!line.value.isEmpty()) {
                EXPECT_TRUE(said.contains(line.value)) << said.toStdString();
                EXPECT_TRUE(figures.contains(line.value)) << figures.toStdString();
            }
            if (!line.by.isEmpty()) {
                EXPECT_TRUE(said.contains(line.by)) << said.toStdString();
                EXPECT_TRUE(figures.contains(line.by)) << figures.toStdString();
            }
            ++looked_at;
        }
        EXPECT_GE(looked_at, 6) << name;
    }
    desk().setUnits(UnitsShown::mm);
}

TEST_F(WindowEvidenceTest, TheMeasurementIsDrawnAndTakenAwayAgain) {
    open("hillclimb_saloon.yaml");
    window_->viewHost().setLabelled(false);
    int drawn = 0;
    for (const ShortLine& line : linesOf(desk().document, UnitsShown::mm)) {
        const Finding* finding = findFinding(desk().document.report(), line.key);
        if (!finding || finding->evidence.shapes.empty()) continue;
        SCOPED_TRACE(line.sentence.toStdString());
        desk().selection.set({Kind::finding, line.key});
        rest();
        const QImage with = view().grabFramebuffer();
        desk().selection.clear();
        rest();
        const QImage without = view().grabFramebuffer();
        EXPECT_GT(different(with, without), 60) << "nothing is drawn";
        desk().selection.set({Kind::finding, line.key});
        settle(50);
        EXPECT_TRUE(view().showsEvidence());
        desk().selection.clear();
        EXPECT_FALSE(view().showsEvidence());
        if (++drawn == 2) break;
    }
    EXPECT_EQ(drawn, 2);
}

TEST_F(WindowEvidenceTest, TheEvidenceFollowsTheEditThatMendsIt) {
    open("hillclimb_saloon.yaml");
    const ShortLine worst = linesOf(desk().document, UnitsShown::mm).front();
    desk().selection.set({Kind::finding, worst.key});
    rest();
    const QString before = card();
    ASSERT_FALSE(before.isEmpty());
    // Another helmet place: every clearance to the driver's head is another.
    desk().document.edit(QStringLiteral("driver"), [](Job& next) {
        for (Driver& driver : next.drivers) {
            driver.helmet.centre.z() -= 40;
            driver.shoulder_left.z() -= 20;
            driver.shoulder_right.z() -= 20;
        }
    });
    rest();
    const Finding* now = chosenFinding();
    if (now && now->value) {
        EXPECT_TRUE(card().contains(wordsOf(*now, UnitsShown::mm).value)) << card().toStdString();
    } else {
        EXPECT_FALSE(now && view().showsEvidence() && card() == before);
    }
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
    rest();
    desk().selection.set({Kind::finding, worst.key});
    rest();
    EXPECT_EQ(card(), before);
}

TEST_F(WindowEvidenceTest, EscapeTakesItAwayAndTheViewStaysWhereItIs) {
    open("mile_pickup.yaml");
    click(shorts(), shorts()->model()->index(0, 0));
    rest();
    const View there = view().view();
    EXPECT_FALSE(card().isEmpty());
    view().setFocus();
    QTest::keyClick(&view(), Qt::Key_Escape);
    settle(200);
    EXPECT_TRUE(card().isEmpty());
    EXPECT_EQ((view().view().eye - there.eye).norm(), 0);
    EXPECT_EQ(shorts()->selectionModel()->selectedIndexes().size(), 0);
}

TEST_F(WindowEvidenceTest, TheTablesKeyOpensTheTableOfWhatIsLookedAt) {
    const std::filesystem::path second = demo_.root() / "rules" / "club_entry.yaml";
    ASSERT_TRUE(desk().document.useTable(second, true).empty());
    const std::string first = desk().document.report().tables.front().id;
    const auto& findings = desk().document.report().findings;
    const auto other = std::find_if(findings.begin(), findings.end(),
                                    [&](const Finding& one) { return one.table != first; });
    ASSERT_NE(other, findings.end());
    const std::string rule = other->rule;
    desk().selection.set({Kind::finding, findingKey(*other)});
    land();
    QTest::keyClick(window_.get(), Qt::Key_E, Qt::ControlModifier);
    settle(100);
    TableEditor& editor = window_->tableEditor();
    EXPECT_EQ(editor.file().filename(), second.filename());
    EXPECT_EQ(editor.box()->textCursor().block().text().trimmed().toStdString(), "- id: " + rule);
    editor.close();
}

TEST_F(WindowEvidenceTest, TheCardSaysWhatTheTextOfTheTableSaysNow) {
    const auto& findings = desk().document.report().findings;
    const auto lean = std::find_if(findings.begin(), findings.end(),
                                   [](const Finding& one) { return one.title == "Lean of the main hoop"; });
    ASSERT_NE(lean, findings.end());
    desk().selection.set({Kind::finding, findingKey(*lean)});
    land();
    EXPECT_THAT(card().toStdString(), testing::HasSubstr("10"));
    QTest::keyClick(window_.get(), Qt::Key_E, Qt::ControlModifier);
    settle(100);
    TableEditor& editor = window_->tableEditor();
    ASSERT_FALSE(editor.readOnly());
    QTextCursor at = editor.box()->document()->find(QStringLiteral("[-5, 10]"));
    ASSERT_FALSE(at.isNull());
    at.insertText(QStringLiteral("[-5, 7]"));
    EXPECT_TRUE(waitFor([&] { return card().contains(QLatin1Char('7')); })) << card().toStdString();
    EXPECT_FALSE(card().contains(QStringLiteral("10")));
    editor.close();
}

}  // namespace
}  // namespace hoopwright
