#include "app/window/sheets_window.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFileDialog>
#include <QGridLayout>
#include <QGuiApplication>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPainter>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>
#include <cstdint>

#include "app/window/form_help.h"
#include "app/window/print_pages.h"
#include "app/window/problems_page.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

constexpr double kSheetInch_mm = 25.4;
constexpr int kChoicesWidth = 300, kPagesWidth = 300;

QString kindTitle(SheetKind kind) {
    switch (kind) {
        case SheetKind::layout:
            return QObject::tr("Layout in three views");
        case SheetKind::bends:
            return QObject::tr("Bend sheets");
        case SheetKind::floor:
            return QObject::tr("Floor layouts, full size");
        case SheetKind::copes:
            return QObject::tr("Cope sheets and wraps");
        case SheetKind::plates:
            return QObject::tr("Plates, risers and gussets");
        case SheetKind::order:
            return QObject::tr("Order");
        case SheetKind::quote:
            break;
    }
    return QObject::tr("Quote");
}

QLabel* softLabel(const QString& words, QWidget* parent) {
    auto* label = new QLabel(words, parent);
    label->setWordWrap(true);
    label->setProperty("role", "soft");
    return label;
}

QLabel* headLabel(const QString& words, QWidget* parent) {
    auto* label = new QLabel(words, parent);
    label->setFont(typeFont(TypeSize::body, TypeWeight::strong));
    return label;
}

PageChoice choiceFor(const Desk& desk) {
    PageChoice choice;
    choice.paper = desk.document.job().cage.unit == LengthUnit::in ? Paper::letter : Paper::a4;
    return choice;
}

}  // namespace

PagePreview::PagePreview(const Desk& desk, QWidget* parent) : QWidget(parent), desk_(desk) {
    setAccessibleName(tr("The page"));
}

const Drawing* PagePreview::drawing() const {
    return pages_ && page_ < pages_->pages.size() ? &pages_->pages[page_].drawing : nullptr;
}

void PagePreview::turnTo(MadePagesRef pages, std::size_t page) {
    pages_ = std::move(pages);
    page_ = page;
    setAccessibleDescription(drawing() ? text(drawing()->title) : QString());
    fit();
}

void PagePreview::setFullSize(bool full) {
    full_ = full;
    fit();
}

void PagePreview::fit() {
    const Drawing* page = drawing();
    if (!page || !parentWidget()) return;
    // The room is what the scroll area shows of us.
    const QSize room = parentWidget()->size();
    scale_ = full_ ? logicalDpiX() / kSheetInch_mm
                   : std::min((room.width() - 2 * kGrid) / page->size_mm.x(),
                              (room.height() - 2 * kGrid) / page->size_mm.y());
    scale_ = std::max(scale_, 0.1);
    resize(std::max(room.width(), int(page->size_mm.x() * scale_) + 2 * kGrid),
           std::max(room.height(), int(page->size_mm.y() * scale_) + 2 * kGrid));
    update();
}

void PagePreview::paintEvent(QPaintEvent*) {
    const Drawing* page = drawing();
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    if (!page) return;
    const QSizeF size(page->size_mm.x() * scale_, page->size_mm.y() * scale_);
    painter.translate(std::max<double>(kGrid, (width() - size.width()) / 2),
                      std::max<double>(kGrid, (height() - size.height()) / 2));
    painter.fillRect(QRectF(QPointF(2, 2), size), desk_.palette().line);
    painter.fillRect(QRectF(QPointF(0, 0), size), Qt::white);  // paper is white by night, too
    painter.setClipRect(QRectF(QPointF(0, 0), size));
    painter.scale(scale_, scale_);
    paintDrawing(painter, *page);
}

SheetsWindow::SheetsWindow(Desk& desk, QWidget* parent)
    : QDialog(parent), desk_(desk), maker_(new PageMaker(desk, choiceFor(desk), this)) {
    setWindowTitle(tr("Sheets"));
    resizeOnScreen(this, {1280, 860});
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(2 * kGrid, 2 * kGrid, 2 * kGrid, 2 * kGrid);
    row->setSpacing(2 * kGrid);
    row->addWidget(choices());
    list_ = new QListWidget(this);
    list_->setAccessibleName(tr("Pages"));
    list_->setFixedWidth(kPagesWidth);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setTextElideMode(Qt::ElideRight);
    row->addWidget(list_);
    room_ = new QScrollArea(this);
    room_->setAccessibleName(tr("Preview"));
    page_ = new PagePreview(desk_, room_);
    room_->setWidget(page_);
    row->addWidget(room_, 1);
    connect(list_, &QListWidget::currentRowChanged, this, &SheetsWindow::showPage);
    connect(maker_, &PageMaker::begun, this, &SheetsWindow::refresh);
    connect(maker_, &PageMaker::ready, this, &SheetsWindow::refresh);
    connect(&desk_, &Desk::paletteChanged, page_, qOverload<>(&QWidget::update));
    refresh();
}

QWidget* SheetsWindow::choices() {
    auto* side = new QWidget(this);
    side->setFixedWidth(kChoicesWidth);
    auto* column = new QVBoxLayout(side);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    auto* head = new QLabel(tr("Papers for the shop"), side);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    column->addWidget(head);
    for (const SheetKind kind : sheetKinds()) {
        auto* tick = new QCheckBox(kindTitle(kind), side);
        tick->setChecked(maker_->choice().kinds.contains(kind));
        connect(tick, &QCheckBox::toggled, this, &SheetsWindow::choose);
        kinds_[kind] = tick;
        column->addWidget(tick);
    }
    const auto oneOf = [&](const QString& name, const QStringList& words) {
        auto* box = new QComboBox(side);
        box->setAccessibleName(name);
        box->addItems(words);
        column->addWidget(headLabel(name, side));
        column->addWidget(box);
        return box;
    };
    paper_ = oneOf(tr("Paper"), {tr("A4"), tr("Letter"), tr("A4, wraps on a long strip"),
                                 tr("Letter, wraps on a long strip")});
    paper_->setCurrentIndex(maker_->choice().paper == Paper::letter ? 1 : 0);
    connect(paper_, &QComboBox::currentIndexChanged, this, &SheetsWindow::choose);
    full_ = new QCheckBox(tr("Show the page in full size"), side);
    connect(full_, &QCheckBox::toggled, this, [this](bool on) { page_->setFullSize(on); });
    column->addWidget(full_);
    count_ = softLabel({}, side);
    column->addWidget(count_);
    left_out_ = new QLabel(side);
    left_out_->setWordWrap(true);
    left_out_->setProperty("role", "wrong");
    column->addWidget(left_out_);
    column->addStretch(1);

    which_ = oneOf(tr("Print"), {tr("every page"), tr("the page that is shown")});
    column->addWidget(softLabel(
        tr("Wraps and floor layouts are 1:1. In the printer's own dialog leave scaling at 100 % and "
           "\"fit to page\" off, then put a rule on the 100 mm and 4 in bars."),
        side));
    print_ = new QPushButton(tr("Print ..."), side);
    connect(print_, &QPushButton::clicked, this, &SheetsWindow::print);
    column->addWidget(print_);
    column->addSpacing(kGrid);

    column->addWidget(headLabel(tr("Files"), side));
    const auto tick = [&](const QString& words) {
        auto* box = new QCheckBox(words, side);
        box->setChecked(true);
        column->addWidget(box);
        return box;
    };
    pdf_ = tick(tr("PDF"));
    drawings_ = tick(tr("SVG and DXF of wraps, floor and layout"));
    rows_ = tick(tr("CSV of the figures"));
    auto* row = new QHBoxLayout;
    folder_ = new QLineEdit(side);
    folder_->setAccessibleName(tr("Folder"));
    const std::filesystem::path& cage = desk_.document.files().cage;
    folder_->setText(cage.empty() ? tr("sheets") : text((cage.parent_path() / "sheets").string()));
    auto* browse = new QPushButton(tr("Folder ..."), side);
    connect(browse, &QPushButton::clicked, this, [this] {
        const QString chosen =
            QFileDialog::getExistingDirectory(this, tr("Folder for the sheets"), folder_->text());
        if (!chosen.isEmpty()) folder_->setText(chosen);
    });
    row->addWidget(folder_, 1);
    row->addWidget(browse);
    column->addLayout(row);
    save_ = new QPushButton(tr("Write the files"), side);
    makePrimary(save_);
    connect(save_, &QPushButton::clicked, this, &SheetsWindow::save);
    column->addWidget(save_);
    // Enter in the folder's field is no wish to print.
    for (QPushButton* button : {print_, browse, save_}) button->setAutoDefault(false);
    return side;
}

void SheetsWindow::choose() {
    PageChoice choice;
    choice.kinds.clear();
    for (const auto& [kind, tick] : kinds_)
        if (tick->isChecked()) choice.kinds.insert(kind);
    choice.paper = paper_->currentIndex() % 2 == 1 ? Paper::letter : Paper::a4;
    choice.strip = paper_->currentIndex() >= 2;
    maker_->choose(choice);
}

void SheetsWindow::refresh() {
    const MadePagesRef& made = maker_->pages();
    const bool there = made && !maker_->working() && !made->pages.empty();
    print_->setEnabled(there);
    save_->setEnabled(there);
    if (maker_->working() || !made) {
        count_->setText(tr("Working it out"));
        return;
    }
    const std::size_t count = made->pages.size();
    count_->setText(count == 0   ? tr("Nothing is ticked, or there is nothing of it.")
                    : count == 1 ? tr("1 page")
                                 : tr("%1 pages").arg(count));
    QStringList missing;
    for (const std::string& one : made->sheets.left_out) missing << text(one);
    if (maker_->choice().kinds.contains(SheetKind::quote) && !made->sheets.quote)
        missing << text(made->sheets.no_quote);
    left_out_->setText(missing.join(QLatin1Char('\n')));
    left_out_->setVisible(!missing.isEmpty());
    const QString was = list_->currentItem() ? list_->currentItem()->text() : QString();
    const QSignalBlocker quiet(list_);
    list_->clear();
    for (const MadePages::Page& page : made->pages) list_->addItem(text(page.drawing.title));
    int row = count == 0 ? -1 : 0;
    for (int i = 0; i < list_->count(); ++i) {
        if (list_->item(i)->text() != was) continue;
        row = i;
        break;
    }
    list_->setCurrentRow(row);
    showPage(row);
}

void SheetsWindow::showPage(int row) {
    page_->turnTo(maker_->pages(), row < 0 ? SIZE_MAX : std::size_t(row));
    room_->verticalScrollBar()->setValue(0);
}

void SheetsWindow::resizeEvent(QResizeEvent* event) {
    QDialog::resizeEvent(event);
    // The layout has its new sizes once the event is through.
    QMetaObject::invokeMethod(
        page_, [this] { page_->fit(); }, Qt::QueuedConnection);
}

std::vector<const Drawing*> SheetsWindow::printed() const {
    std::vector<const Drawing*> out;
    const MadePagesRef& made = maker_->pages();
    for (std::size_t i = 0; made && i < made->pages.size(); ++i)
        if (which_->currentIndex() == 0 || int(i) == list_->currentRow())
            out.push_back(&made->pages[i].drawing);
    return out;
}

void SheetsWindow::print() {
    const MadePagesRef kept = maker_->pages();  // the job may change while the dialog is open
    const std::vector<const Drawing*> all = printed();
    if (all.empty()) return;
    QPrinter printer(QPrinter::HighResolution);
    printer.setDocName(desk_.document.title());
    printer.setFullPage(true);
    QPrintDialog dialog(&printer, this);
    dialog.setWindowTitle(tr("Print at 100 %, not fitted to the page"));
    dialog.setMinMax(1, int(all.size()));
    if (dialog.exec() != QDialog::Accepted) return;
    const std::vector<const Drawing*> pages = pagesAskedFor(printer, all);
    if (printPages(printer, pages)) {
        const QString count = pages.size() == 1 ? tr("1 page") : tr("%1 pages").arg(pages.size());
        const QString where = printer.outputFileName().isEmpty()
                                  ? tr("%1 went to the printer. Put a rule on the 100 mm bar.").arg(count)
                                  : tr("%1 printed into %2.").arg(count, printer.outputFileName());
        count_->setText(where);  // the window behind says it where nobody looks
        emit desk_.say(where);
    } else {
        ProblemsPage(desk_.palette(), tr("The pages were not printed."),
                     {{{printer.printerName().toStdString(), 0, 0},
                       "the printer took no page",
                       "see whether it is on, or write the PDF and print that"}},
                     this)
            .exec();
    }
}

void SheetsWindow::save() {
    const MadePagesRef made = maker_->pages();
    if (!made) return;
    QGuiApplication::setOverrideCursor(Qt::WaitCursor);
    std::vector<SheetFile> files = sheetFiles(made->head, made->sheets, maker_->choice().kinds);
    std::erase_if(files, [this](const SheetFile& file) {
        const QCheckBox* wanted = file.name.ends_with(".pdf")   ? pdf_
                                  : file.name.ends_with(".csv") ? rows_
                                                                : drawings_;
        return !wanted->isChecked();
    });
    const auto problem = writeSheetFiles(folder_->text().toStdString(), files);
    QGuiApplication::restoreOverrideCursor();
    if (problem) {
        ProblemsPage(desk_.palette(), tr("Not every file was written."), {*problem}, this).exec();
        return;
    }
    count_->setText(tr("%1 files are in %2.").arg(files.size()).arg(folder_->text()));
    emit desk_.say(count_->text());
}

}  // namespace hoopwright
