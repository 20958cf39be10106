// The papers and the shop's book in the window, with mouse and keys.
#include <QCheckBox>
#include <QComboBox>
#include <QFile>
#include <QListWidget>
#include <QPrinter>
#include <QTableView>
#include <QTemporaryDir>

#include "app/window/book_panel.h"
#include "app/window/print_pages.h"
#include "app/window/sheets_window.h"
#include "core/model/shop_book.h"
#include "tests/app/sheets/read_back.h"
#include "window_fixture.h"

namespace hoopwright {
namespace {

template <class Widget>
Widget* childNamed(QWidget& in, const QString& name) {
    for (auto* one : in.findChildren<Widget*>())
        if (one->accessibleName() == name) return one;
    for (auto* one : in.findChildren<Widget*>())
        if (one->property("text").toString() == name) return one;
    ADD_FAILURE() << "no " << name.toStdString();
    return nullptr;
}

void clickOn(QWidget* widget) {
    // A tick answers on its box and its words alone.
    QTest::mouseClick(widget, Qt::LeftButton, {}, QPoint(10, widget->height() / 2));
    settleEvents(20);
}

class WindowSheets : public WindowTest {
protected:
    /// The sheets' window, once its pages are made.
    SheetsWindow* openSheets() {
        QTest::keyClick(window_.get(), Qt::Key_P, Qt::ControlModifier);
        auto* sheets = window_->findChild<SheetsWindow*>();
        EXPECT_NE(sheets, nullptr);
        if (sheets) ready(*sheets);
        return sheets;
    }
    static void ready(const SheetsWindow& sheets) {
        EXPECT_TRUE(waitFor([&] { return sheets.maker().pages() && !sheets.maker().working(); }));
        settle();
    }
    static void clickRow(QListWidget* list, int row) {
        list->scrollToItem(list->item(row));
        QTest::mouseClick(list->viewport(), Qt::LeftButton, {},
                          list->visualItemRect(list->item(row)).center());
        settle(20);
    }
    BookPanel* openBook(const QString& part) {
        window_->action(QStringLiteral("Shop's book"))->trigger();
        settle();
        auto* book = window_->findChild<BookPanel*>();
        auto* parts = childNamed<QListWidget>(*book, QStringLiteral("Parts of the book"));
        for (int i = 0; i < parts->count(); ++i)
            if (parts->item(i)->text() == part) clickRow(parts, i);
        return book;
    }
    /// Types into a cell of the book as a person does.
    static void typeInto(QTableView* table, int row, int column, const QString& words) {
        const QModelIndex cell = table->model()->index(row, column);
        table->scrollTo(cell);
        const QPoint at = table->visualRect(cell).center();
        QTest::mouseClick(table->viewport(), Qt::LeftButton, {}, at);
        QTest::mouseDClick(table->viewport(), Qt::LeftButton, {}, at);
        settle(30);
        auto* editor = table->viewport()->findChild<QLineEdit*>();
        ASSERT_NE(editor, nullptr);
        editor->selectAll();
        QTest::keyClicks(editor, words);
        QTest::keyClick(editor, Qt::Key_Return);
        settle(30);
    }
    const ShopBook& book() { return *job().shop; }
};

TEST_F(WindowSheets, AreChosenSeenAndWrittenToAFolder) {
    SheetsWindow* sheets = openSheets();
    ASSERT_NE(sheets, nullptr);
    auto* pages = childNamed<QListWidget>(*sheets, QStringLiteral("Pages"));
    const int all = pages->count();
    EXPECT_GT(all, 40);
    clickOn(childNamed<QCheckBox>(*sheets, QStringLiteral("Cope sheets and wraps")));
    ready(*sheets);
    EXPECT_LT(pages->count(), all - 30);
    clickRow(pages, 3);
    const auto* preview = sheets->findChild<PagePreview*>();
    EXPECT_EQ(preview->accessibleDescription(), pages->item(3)->text());
    // The paper is there, with ink on it.
    const QImage seen = const_cast<PagePreview*>(preview)->grab().toImage();
    int white = 0, ink = 0;
    for (int y = 0; y < seen.height(); y += 2) {
        for (int x = 0; x < seen.width(); x += 2) {
            white += seen.pixelColor(x, y) == Qt::white;
            ink += seen.pixelColor(x, y).lightness() < 90;
        }
    }
    EXPECT_GT(white, seen.width() * seen.height() / 20);
    EXPECT_GT(ink, 200);
    keep(QStringLiteral("sheets"));
    clickOn(childNamed<QCheckBox>(*sheets, QStringLiteral("Show the page in full size")));
    EXPECT_NEAR(preview->scale(), preview->logicalDpiX() / 25.4, 1e-9) << "a millimetre is a millimetre";
    clickOn(childNamed<QCheckBox>(*sheets, QStringLiteral("CSV of the figures")));
    const QTemporaryDir folder;
    type(childNamed<QLineEdit>(*sheets, QStringLiteral("Folder")), folder.filePath(QStringLiteral("out")));
    clickOn(childNamed<QPushButton>(*sheets, QStringLiteral("Write the files")));
    settle();
    EXPECT_TRUE(QFile::exists(folder.filePath(QStringLiteral("out/bends.pdf"))));
    EXPECT_TRUE(QFile::exists(folder.filePath(QStringLiteral("out/floor_main_hoop.dxf"))));
    EXPECT_FALSE(QFile::exists(folder.filePath(QStringLiteral("out/bends.csv"))));
    EXPECT_FALSE(QFile::exists(folder.filePath(QStringLiteral("out/copes.pdf"))));
}

#ifdef HOOPWRIGHT_PDFTOCAIRO
/// A bar that proves the print: its length as poppler reads it, nearest to what it should be.
double barNear(const std::vector<std::vector<Vec2>>& paths, double wanted_mm) {
    double best = 0;
    for (const auto& path : paths) {
        if (path.size() != 2 || std::abs(path[0].y() - path[1].y()) > 1e-3) continue;
        const double length = std::abs(path[1].x() - path[0].x());
        if (std::abs(length - wanted_mm) < std::abs(best - wanted_mm)) best = length;
    }
    return best;
}

/// The pages of wraps go to a printer as the Print button sends them, here one that writes a PDF; its bars
/// are measured by poppler, which knows nothing of this program.
TEST_F(WindowSheets, ArePrintedAtExactlyTheirSize) {
    SheetsWindow* sheets = openSheets();
    ASSERT_NE(sheets, nullptr);
    for (auto* tick : sheets->findChildren<QCheckBox*>())  // wraps alone: the rest takes its time
        if (tick->text() == QStringLiteral("Layout in three views") ||
            tick->text().startsWith(QStringLiteral("Bend")) ||
            tick->text().startsWith(QStringLiteral("Plates")) || tick->text() == QStringLiteral("Order") ||
            tick->text() == QStringLiteral("Quote"))
            tick->setChecked(false);
    const QTemporaryDir folder;
    const char* const papers[] = {"A4", "Letter", "A4, wraps on a long strip",
                                  "Letter, wraps on a long strip"};
    for (int paper = 0; paper < 4; ++paper) {
        childNamed<QComboBox>(*sheets, QStringLiteral("Paper"))->setCurrentIndex(paper);
        ready(*sheets);
        std::vector<const Drawing*> wraps;
        for (const MadePages::Page& page : sheets->maker().pages()->pages) {
            const bool strip = page.drawing.title.ends_with("wrap 1:1");
            if (page.drawing.title.ends_with(paper < 2 ? "wrap" : "wrap 1:1") && wraps.size() < 1) {
                wraps.push_back(&page.drawing);
                EXPECT_EQ(strip, paper >= 2);
            }
        }
        ASSERT_EQ(wraps.size(), 1u) << papers[paper];
        QPrinter printer(QPrinter::HighResolution);
        printer.setOutputFormat(QPrinter::PdfFormat);
        printer.setOutputFileName(folder.filePath(QStringLiteral("printed%1.pdf").arg(paper)));
        ASSERT_TRUE(printPages(printer, wraps));
        QFile file(printer.outputFileName());
        ASSERT_TRUE(file.open(QIODevice::ReadOnly));
        QSizeF size;
        const auto paths = read_back::pdfPaths(file.readAll(), 1, &size);
        // ISO 216 A4, ANSI Y14.1 A; a PDF counts a page in whole points.
        EXPECT_NEAR(size.width(), wraps[0]->size_mm.x(), 0.2) << papers[paper];
        EXPECT_NEAR(size.height(), wraps[0]->size_mm.y(), 0.2) << papers[paper];
        if (paper < 2) {
            EXPECT_NEAR(size.width(), paper == 0 ? 210 : 215.9, 0.2);
        }
        EXPECT_NEAR(barNear(paths, 100), 100, 0.02) << papers[paper];
        EXPECT_NEAR(barNear(paths, 101.6), 101.6, 0.02) << papers[paper];
        RecordProperty("bar_100_um_" + std::to_string(paper), static_cast<int>(1000 * barNear(paths, 100)));
        RecordProperty("bar_4in_um_" + std::to_string(paper), static_cast<int>(1000 * barNear(paths, 101.6)));
    }
}
#endif

TEST_F(WindowSheets, ThePagesAskedForInThePrintersDialogAreThePrintedOnes) {
    const std::vector<Drawing> drawn(5);
    std::vector<const Drawing*> pages;
    for (const Drawing& one : drawn) pages.push_back(&one);
    QPrinter printer(QPrinter::HighResolution);
    EXPECT_EQ(pagesAskedFor(printer, pages), pages);
    const auto asked = [&](int from, int to) {
        printer.setPrintRange(QPrinter::PageRange);
        printer.setFromTo(from, to);
        return pagesAskedFor(printer, pages);
    };
    EXPECT_EQ(asked(2, 3), (std::vector<const Drawing*>{pages[1], pages[2]}));
    EXPECT_EQ(asked(5, 9), std::vector<const Drawing*>{pages[4]}) << "there is no sixth";
    EXPECT_TRUE(asked(6, 9).empty());
    printer.setPrintRange(QPrinter::AllPages);
    EXPECT_EQ(pagesAskedFor(printer, pages), pages);
}

TEST_F(WindowSheets, FollowTheJobAndSayWhatHasNoSheet) {
    SheetsWindow* sheets = openSheets();
    ASSERT_NE(sheets, nullptr);
    desk().document.edit(QStringLiteral("No dies"), [](Job& job) { job.dies.dies.clear(); });
    ready(*sheets);
    bool said = false;
    for (const auto* label : sheets->findChildren<QLabel*>())
        said |= label->isVisible() && label->text().contains(QStringLiteral("there is no die for a tube of"));
    EXPECT_TRUE(said);
}

TEST_F(WindowSheets, TheBookIsTypedIntoUndoneAndSavedWithItsComments) {
    BookPanel* panel = openBook(QStringLiteral("Minutes and rates"));
    QTableView* table = panel->table();
    ASSERT_EQ(table->model()->index(0, 1).data().toString(), QStringLiteral("9"));
    typeInto(table, 0, 1, QStringLiteral("11"));
    EXPECT_EQ(*book().minutes.bend, 11);
    // What will not do is said, and nothing is changed.
    typeInto(table, 0, 1, QStringLiteral("-3"));
    EXPECT_EQ(*book().minutes.bend, 11);
    bool said = false;
    for (const auto* label : panel->findChildren<QLabel*>())
        said |= label->isVisible() && label->text().startsWith(QStringLiteral("Not taken:"));
    EXPECT_TRUE(said);
    QTest::keyClick(panel, Qt::Key_Z, Qt::ControlModifier);
    settle(30);
    EXPECT_EQ(*book().minutes.bend, 9);
    EXPECT_FALSE(desk().document.dirty());
    keep(QStringLiteral("book"));
    QTest::keyClick(panel, Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    settle(30);
    const std::filesystem::path file = desk().document.files().shop;
    const std::string before = contents(file);
    EXPECT_THAT(desk().document.save(), testing::IsEmpty());
    std::string wanted = before;
    wanted.replace(wanted.find("bend: 9"), 7, "bend: 11");
    EXPECT_EQ(contents(file), wanted) << "one figure, and every comment where it was";
}

TEST_F(WindowSheets, LinesOfTheBookComeAndGo) {
    BookPanel* panel = openBook(QStringLiteral("Hole saws on the shelf"));
    const std::size_t saws = book().hole_saws_mm.size();
    clickOn(childNamed<QPushButton>(*panel, QStringLiteral("Add a line")));
    ASSERT_EQ(book().hole_saws_mm.size(), saws + 1);
    typeInto(panel->table(), int(saws), 0, QStringLiteral("1-3/4 in"));
    EXPECT_NEAR(book().hole_saws_mm.back(), 44.45, 1e-9);
    clickOn(childNamed<QPushButton>(*panel, QStringLiteral("Delete the line")));
    EXPECT_EQ(book().hole_saws_mm.size(), saws);
    panel->turnTo(QStringLiteral("Dies"));
    settle(30);
    typeInto(panel->table(), 0, 2, QStringLiteral("140"));
    EXPECT_EQ(job().dies.dies[0].radius_mm, 140);
    panel->turnTo(QStringLiteral("Sticks and prices"));
    settle(30);
    typeInto(panel->table(), 0, 2, QStringLiteral("99.5"));
    EXPECT_EQ(job().stock.tubes[0].sticks[0].price, 99.5);
}

}  // namespace
}  // namespace hoopwright
