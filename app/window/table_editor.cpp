#include "app/window/table_editor.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QPainter>
#include <QPushButton>
#include <QSplitter>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

#include "app/view/marks.h"
#include "app/window/form_help.h"
#include "app/window/own_table.h"
#include "app/window/rule_form.h"
#include "app/window/style.h"
#include "core/files/job_file.h"

namespace hoopwright {
namespace {

constexpr int kSoon_ms = 250;

QString withRemedy(const std::string& what, const std::string& remedy) {
    return text(what) + (remedy.empty() ? QString() : QStringLiteral(" (") + text(remedy) + QLatin1Char(')'));
}

}  // namespace

TableEditor::TableEditor(Desk& desk, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      name_(new QLabel(this)),
      state_(new QLabel(this)),
      shipped_(new QLabel(this)),
      text_(new TableText(desk, this)),
      troubles_(new QListWidget(this)),
      soon_(new QTimer(this)),
      banner_(new QWidget(this)) {
    setObjectName(QStringLiteral("card"));
    setAttribute(Qt::WA_StyledBackground);
    setAccessibleName(tr("Table editor"));
    setMinimumWidth(420);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, kGrid, 0, 0);
    column->setSpacing(0);
    const auto button = [this](const QString& words, const QString& tip, auto run) {
        auto* made = new QPushButton(words, this);
        made->setToolTip(tip);
        made->setAccessibleName(tip);
        made->setAutoDefault(false);
        connect(made, &QPushButton::clicked, this, run);
        return made;
    };
    auto* head = new QHBoxLayout;
    head->setContentsMargins(2 * kGrid, 0, kGrid, 0);
    name_->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    head->addWidget(name_, 1);
    save_ = button(tr("Save"), tr("Save the table (Ctrl+S in its text)"), [this] { emit saveWanted(); });
    head->addWidget(save_);
    head->addWidget(button(tr("Close"), tr("Close the table"), [this] { emit leaveWanted(); }));
    column->addLayout(head);
    auto* tools = new QHBoxLayout;
    tools->setContentsMargins(kGrid, 0, kGrid, 0);
    tools->setSpacing(0);
    new_rule_ =
        button(tr("New rule ..."), tr("A rule of a common shape, put in behind the one the cursor is in"),
               [this] { newRule(); });
    change_rule_ =
        button(tr("Change rule ..."), tr("The rule the cursor is in, as a form"), [this] { changeRule(); });
    undo_ = button(tr("Undo"), tr("Undo in the text"), [this] { text_->undo(); });
    redo_ = button(tr("Redo"), tr("Redo in the text"), [this] { text_->redo(); });
    for (QPushButton* one : {new_rule_, change_rule_, undo_, redo_}) tools->addWidget(one);
    tools->addStretch(1);
    column->addLayout(tools);
    auto* banner = new QHBoxLayout(banner_);
    banner->setContentsMargins(2 * kGrid, 4, kGrid, 4);
    shipped_->setWordWrap(true);
    shipped_->setProperty("role", "soft");
    banner->addWidget(shipped_, 1);
    own_ = button(tr("Make this table mine ..."), tr("A copy you can change, used by this job"),
                  [this] { emit ownWanted(); });
    makePrimary(own_);
    banner->addWidget(own_);
    column->addWidget(banner_);

    auto* parts = new QSplitter(Qt::Vertical, this);
    parts->setHandleWidth(1);
    parts->setChildrenCollapsible(false);
    parts->addWidget(text_);
    auto* under = new QWidget(parts);
    auto* under_column = new QVBoxLayout(under);
    under_column->setContentsMargins(0, kGrid, 0, 0);
    under_column->setSpacing(4);
    state_->setContentsMargins(2 * kGrid, 0, 2 * kGrid, 0);
    state_->setFont(typeFont(TypeSize::body, TypeWeight::medium));
    state_->setWordWrap(true);
    state_->setAccessibleName(tr("State of the table"));
    troubles_->setAccessibleName(tr("What is wrong with the table"));
    troubles_->setWordWrap(true);
    troubles_->setFrameShape(QFrame::NoFrame);
    troubles_->setIconSize({14, 14});
    under_column->addWidget(state_);
    under_column->addWidget(troubles_, 1);
    parts->addWidget(under);
    parts->setStretchFactor(0, 1);
    parts->setStretchFactor(1, 0);
    parts->setSizes({10000, 150});
    column->addWidget(parts, 1);

    soon_->setSingleShot(true);
    soon_->setInterval(kSoon_ms);
    connect(soon_, &QTimer::timeout, this, &TableEditor::look);
    connect(text_, &QPlainTextEdit::textChanged, this, [this] {
        looked_ = false;
        soon_->start();
    });
    connect(text_->document(), &QTextDocument::modificationChanged, this, &TableEditor::showState);
    connect(text_, &QPlainTextEdit::undoAvailable, undo_, &QPushButton::setEnabled);
    connect(text_, &QPlainTextEdit::redoAvailable, redo_, &QPushButton::setEnabled);
    connect(text_, &TableText::saveWanted, this, &TableEditor::saveWanted);
    connect(text_, &TableText::saveAsWanted, this, &TableEditor::saveAsWanted);
    const auto go = [this](const QListWidgetItem* item) {
        if (!item) return;
        text_->goTo(item->data(Qt::UserRole).toInt(), item->data(Qt::UserRole + 1).toInt());
        text_->setFocus();
    };
    connect(troubles_, &QListWidget::itemClicked, this, go);
    connect(troubles_, &QListWidget::itemActivated, this, go);
    connect(&desk_, &Desk::paletteChanged, this, &TableEditor::listTroubles);
}

Problems TableEditor::open(const std::filesystem::path& file) {
    WholeText whole = readWholeFile(file.string());
    if (!whole.text) return std::move(whole.problems);
    file_ = file;
    const bool shipped = isShippedTable(file);
    text_->setReadOnly(shipped);
    shipped_->setText(isAmongShippedTables(file)
                          ? tr("This table came with Hoopwright and is never changed. Copy it to change it.")
                          : tr("This file may only be read. Copy it to change it."));
    banner_->setVisible(shipped);
    for (QPushButton* one : {new_rule_, change_rule_, save_}) one->setEnabled(!shipped);
    crlf_ = whole.text->find("\r\n") != std::string::npos;
    read(text(*whole.text));
    return {};
}

void TableEditor::read(const QString& words) {
    text_->setPlainText(words);
    text_->document()->setModified(false);
    undo_->setEnabled(false);
    redo_->setEnabled(false);
    look();
}

void TableEditor::close() {
    soon_->stop();
    file_.clear();
    text_->setPlainText({});
    text_->document()->setModified(false);
    text_->setMarks({});
    review_ = {};
    looked_ = true;
}

bool TableEditor::dirty() const {
    return isOpen() && text_->document()->isModified();
}

Problems TableEditor::save() {
    return saveAs(file_);
}

Problems TableEditor::saveAs(const std::filesystem::path& file) {
    if (isAmongShippedTables(file))
        return {{{file.string(), 0, 0},
                 "this folder holds the tables that came with the program, and they are never changed",
                 "save in another folder"}};
    QString words = text_->toPlainText();
    if (crlf_) words.replace(QLatin1Char('\n'), QStringLiteral("\r\n"));
    if (const auto problem = saveText(file, words.toStdString())) return {*problem};
    file_ = file;
    text_->setReadOnly(false);
    banner_->hide();
    for (QPushButton* one : {new_rule_, change_rule_, save_}) one->setEnabled(true);
    text_->document()->setModified(false);
    review();
    showState();
    return {};
}

void TableEditor::goToRule(const std::string& id) {
    const auto outline = outlineTable(text_->toPlainText().toStdString());
    if (const RulePlace* rule = outline ? outline->rule(id) : nullptr) {
        text_->goTo(rule->line, rule->column);
    } else {
        // The text does not read now: by its words alone.
        const QTextCursor found = text_->document()->find(QStringLiteral("id: ") + text(id));
        if (found.isNull()) return;
        text_->goTo(found.blockNumber() + 1, 1);
    }
    text_->setFocus();
}

const TableReview& TableEditor::review() {
    if (!looked_) look();
    return review_;
}

void TableEditor::look() {
    soon_->stop();
    looked_ = true;
    if (!isOpen()) return;
    const std::string words = text_->toPlainText().toStdString();
    review_ = reviewTableText(words, file_.filename().string());
    if (auto outline = outlineTable(words)) text_->setKnown(std::move(*outline));
    listTroubles();
    showState();
    emit reviewed();
}

void TableEditor::listTroubles() {
    std::vector<TextMark> marks;
    for (const Problem& one : review_.problems)
        marks.push_back({one.at.line, one.at.column, true, withRemedy(one.what, one.remedy)});
    for (const TableRemark& one : review_.remarks)
        marks.push_back({one.at.line, one.at.column, false, withRemedy(one.what, one.remedy)});
    troubles_->clear();
    const Palette& p = desk_.palette();
    for (const TextMark& mark : marks) {
        auto* item = new QListWidgetItem(
            tr("line %1, column %2: %3").arg(mark.line).arg(mark.column).arg(mark.words), troubles_);
        QPixmap picture(32, 32);
        picture.fill(Qt::transparent);
        QPainter painter(&picture);
        painter.setRenderHint(QPainter::Antialiasing);
        paintMark(painter, QRectF(2, 2, 28, 28), mark.wrong ? Answer::fails : Answer::ask_person, p);
        painter.end();
        item->setIcon(picture);
        item->setData(Qt::UserRole, mark.line);
        item->setData(Qt::UserRole + 1, mark.column);
        item->setToolTip(mark.words);
    }
    text_->setMarks(std::move(marks));
}

void TableEditor::showState() {
    name_->setText((dirty() ? QStringLiteral("• ") : QString()) + text(file_.filename().string()));
    name_->setToolTip(text(file_.string()));
    const std::size_t wrong = review_.problems.size(), said = review_.remarks.size();
    QString words;
    if (!review_.table) {
        words = wrong == 1 ? tr("1 problem: the table is not used until it is mended.")
                           : tr("%1 problems: the table is not used until they are mended.").arg(wrong);
    } else {
        words = tr("%1 rules, reads well").arg(info(*review_.table).rules);
        words += said == 0   ? tr(".")
                 : said == 1 ? tr("; 1 thing to look at.")
                             : tr("; %1 things to look at.").arg(said);
    }
    if (dirty()) words += tr(" Not saved.");
    state_->setText(words);
    emit stateChanged();
}

void TableEditor::newRule() {
    if (readOnly()) return;
    const QString words = text_->toPlainText();
    const auto outline = outlineTable(words.toStdString());
    if (!outline) {
        emit desk_.say(
            tr("The text does not read as YAML now: mend that first, then a form can put a rule in."));
        return;
    }
    const int after = outline->ruleAt(text_->byte());
    RuleForm form(desk_, words, after, false, this);
    if (form.exec() != QDialog::Accepted) return;
    text_->replaceAll(form.result());
    goToRule(form.draft().id.toStdString());
    review();
}

void TableEditor::changeRule() {
    if (readOnly()) return;
    const QString words = text_->toPlainText();
    const auto outline = outlineTable(words.toStdString());
    const int rule = outline ? outline->ruleAt(text_->byte()) : -1;
    if (rule < 0) {
        emit desk_.say(outline ? tr("Put the cursor into a rule first.")
                               : tr("The text does not read as YAML now: mend that first."));
        return;
    }
    if (!draftOf(ruleKeys(words.toStdString(), rule))) {
        emit desk_.say(tr("'%1' says more than a form has fields for: change it in the text.")
                           .arg(text(outline->rules[std::size_t(rule)].id)));
        return;
    }
    RuleForm form(desk_, words, rule, true, this);
    if (form.exec() != QDialog::Accepted) return;
    text_->replaceAll(form.result());
    goToRule(form.draft().id.toStdString());
    review();
}

}  // namespace hoopwright
