#include "app/window/book_panel.h"

#include <QComboBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QHeaderView>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QShortcut>
#include <QTableView>
#include <QVBoxLayout>

#include "app/window/form_help.h"
#include "app/window/problems_page.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

QLabel* wrappedLabel(QWidget* parent, const char* role) {
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setProperty("role", role);
    return label;
}

}  // namespace

QWidget* BookDelegate::createEditor(QWidget* parent, const QStyleOptionViewItem& option,
                                    const QModelIndex& index) const {
    const auto& words = static_cast<const BookTable*>(index.model())->column(index).words;
    if (words.empty()) return QStyledItemDelegate::createEditor(parent, option, index);
    auto* box = new QComboBox(parent);
    for (const QString& word : words) box->addItem(word);
    return box;
}

void BookDelegate::setEditorData(QWidget* editor, const QModelIndex& index) const {
    if (auto* box = qobject_cast<QComboBox*>(editor)) {
        box->setCurrentText(index.data(Qt::EditRole).toString());
        return;
    }
    QStyledItemDelegate::setEditorData(editor, index);
}

void BookDelegate::setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const {
    if (auto* box = qobject_cast<QComboBox*>(editor)) {
        model->setData(index, box->currentText(), Qt::EditRole);
        return;
    }
    QStyledItemDelegate::setModelData(editor, model, index);
}

BookPanel::BookPanel(Desk& desk, QWidget* parent)
    : QDialog(parent), desk_(desk), model_(new BookTable(desk, this)) {
    setWindowTitle(tr("The shop's book"));
    resize(1100, 640);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(2 * kGrid, 2 * kGrid, 2 * kGrid, 2 * kGrid);
    row->setSpacing(2 * kGrid);
    list_ = new QListWidget(this);
    list_->setAccessibleName(tr("Parts of the book"));
    list_->setFixedWidth(220);
    for (const BookSection& section : bookSections()) list_->addItem(section.title);
    row->addWidget(list_);
    auto* column = new QVBoxLayout;
    column->setSpacing(kGrid);
    head_ = new QLabel(this);
    head_->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    about_ = wrappedLabel(this, "soft");
    wrong_ = wrappedLabel(this, "wrong");
    file_ = wrappedLabel(this, "soft");
    view_ = new QTableView(this);
    view_->setModel(model_);
    view_->setItemDelegate(new BookDelegate(view_));
    view_->setAccessibleName(tr("Lines of the book"));
    view_->verticalHeader()->hide();
    view_->setSelectionMode(QAbstractItemView::SingleSelection);
    view_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::AnyKeyPressed |
                           QAbstractItemView::EditKeyPressed | QAbstractItemView::SelectedClicked);
    add_ = new QPushButton(tr("Add a line"), this);
    remove_ = new QPushButton(tr("Delete the line"), this);
    begin_ = new QPushButton(tr("Begin a book, or use one ..."), this);
    makePrimary(begin_);
    auto* buttons = new QHBoxLayout;
    for (QPushButton* button : {add_, remove_, begin_}) {
        button->setAutoDefault(false);  // Enter is the table's
        buttons->addWidget(button);
    }
    buttons->addStretch(1);
    for (QWidget* widget : std::initializer_list<QWidget*>{head_, about_}) column->addWidget(widget);
    column->addWidget(view_, 1);
    column->addWidget(wrong_);
    column->addLayout(buttons);
    column->addWidget(file_);
    row->addLayout(column, 1);

    connect(list_, &QListWidget::currentRowChanged, this, [this](int at) {
        if (at < 0) return;
        model_->turnTo(std::size_t(at));
        refresh();
    });
    connect(model_, &BookTable::complained, this, [this](const QString& sentence) {
        wrong_->setText(sentence);
        wrong_->setVisible(!sentence.isEmpty());
    });
    connect(add_, &QPushButton::clicked, this, [this] {
        model_->addLine();
        const QModelIndex last = model_->index(model_->rowCount() - 1, 0);
        view_->setCurrentIndex(last);
        view_->scrollTo(last);
        view_->setFocus();
    });
    connect(remove_, &QPushButton::clicked, this, [this] {
        if (view_->currentIndex().isValid()) model_->removeLine(view_->currentIndex().row());
    });
    connect(begin_, &QPushButton::clicked, this, &BookPanel::begin);
    connect(&desk_.document, &Document::changed, this, &BookPanel::refresh);
    const auto key = [this](QKeySequence keys, auto run) {
        connect(new QShortcut(keys, this), &QShortcut::activated, this, run);
    };
    key(QKeySequence::Undo, [this] { desk_.document.undoStack().undo(); });
    key(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_Z), [this] { desk_.document.undoStack().redo(); });
    key(QKeySequence::Save, [this] { emit saveWanted(); });
    list_->setCurrentRow(0);
    wrong_->hide();
}

void BookPanel::turnTo(const QString& section) {
    for (int i = 0; i < list_->count(); ++i)
        if (list_->item(i)->text() == section) list_->setCurrentRow(i);
}

void BookPanel::refresh() {
    const BookSection& section = model_->section();
    head_->setText(section.title);
    const bool none = section.in == BookSection::In::book && !desk_.document.job().shop;
    about_->setText(none ? tr("This job names no shop's book yet: begin one, or use one there is.")
                         : section.about);
    begin_->setVisible(!desk_.document.job().shop);
    view_->setVisible(!none);
    add_->setVisible(!none && !section.single());
    remove_->setVisible(!none && !section.single());
    const JobFiles& files = desk_.document.files();
    const std::filesystem::path& file = section.in == BookSection::In::book   ? files.shop
                                        : section.in == BookSection::In::dies ? files.dies
                                                                              : files.stock;
    file_->setText(none || file.empty() ? QString()
                                        : tr("Kept in %1 when the job is saved.").arg(text(file.string())));
    view_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    view_->horizontalHeader()->setStretchLastSection(true);
}

void BookPanel::begin() {
    const std::filesystem::path& cage = desk_.document.files().cage;
    QString file = QFileDialog::getSaveFileName(
        this, tr("The shop's book: a new file, or one there is"),
        cage.empty() ? QStringLiteral("shop.yaml") : text((cage.parent_path() / "shop.yaml").string()),
        tr("Shop's books (*.yaml)"), nullptr, QFileDialog::DontConfirmOverwrite);
    if (file.isEmpty()) return;
    if (QFileInfo(file).suffix().isEmpty()) file += QStringLiteral(".yaml");
    const Problems problems = desk_.document.useShop(file.toStdString());
    if (!problems.empty())
        ProblemsPage(desk_.palette(), tr("The shop's book was not taken in; nothing was changed."), problems,
                     this)
            .exec();
}

}  // namespace hoopwright
