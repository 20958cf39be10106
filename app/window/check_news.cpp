#include "app/window/check_news.h"

#include <QDate>
#include <QDialog>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QTextBrowser>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/window/findings.h"
#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

/// A drag does not wait for it.
constexpr int kSettled_ms = 400;

QString paragraph(const QString& words, bool strong = false) {
    const QString escaped = words.toHtmlEscaped();
    return QStringLiteral("<p style='margin:0 0 6px 0'>%1</p>")
        .arg(strong ? QStringLiteral("<b>%1</b>").arg(escaped) : escaped);
}

/// A list to read. True if `yes` was pressed.
bool read(QWidget* parent, const QString& title, const QString& html, const QString& yes = {}) {
    QDialog dialog(parent);
    dialog.setWindowTitle(title);
    dialog.resize(760, 520);
    auto* column = new QVBoxLayout(&dialog);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(title, &dialog);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    head->setWordWrap(true);
    column->addWidget(head);
    auto* list = new QTextBrowser(&dialog);
    list->setAccessibleName(title);
    list->document()->setDocumentMargin(2 * kGrid);
    list->setHtml(html);
    column->addWidget(list, 1);
    auto* buttons = new QDialogButtonBox(&dialog);
    bool agreed = false;
    if (!yes.isEmpty()) {
        auto* agree = buttons->addButton(yes, QDialogButtonBox::ActionRole);
        QObject::connect(agree, &QPushButton::clicked, &dialog, [&] {
            agreed = true;
            dialog.accept();
        });
    }
    auto* close = buttons->addButton(QObject::tr("Close"), QDialogButtonBox::AcceptRole);
    makePrimary(close);
    close->setDefault(true);
    QObject::connect(buttons, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
    column->addWidget(buttons);
    dialog.exec();
    return agreed;
}

}  // namespace

CheckNews::CheckNews(Desk& desk, const QString& root, QWidget* parent)
    : QWidget(parent), desk_(desk), memory_(desk.document, root) {
    auto* line = new QHBoxLayout(this);
    line->setContentsMargins(2 * kGrid, 0, 2 * kGrid, 4);
    line->setSpacing(kGrid);
    changes_word_ = word(tr("What has changed"), &CheckNews::openChanges);
    editions_word_ = word(tr("Editions of the class tables"), &CheckNews::openEditions);
    several_word_ = word(tr("What several tables ask"), &CheckNews::openSeveral);
    for (QPushButton* one : {changes_word_, editions_word_, several_word_}) line->addWidget(one);
    line->addStretch(1);
    soon_.setSingleShot(true);
    soon_.setInterval(kSettled_ms);
    connect(&soon_, &QTimer::timeout, this, &CheckNews::refresh);
    connect(&desk_.document, &Document::changed, this, [this](Document::Change change) {
        if (change == Document::Change::replaced) refresh();
        if (change != Document::Change::replaced) soon_.start();
    });
    refresh();
}

QPushButton* CheckNews::word(const QString& name, void (CheckNews::*open)()) {
    auto* made = new QPushButton(this);
    made->setFlat(true);
    made->setAccessibleName(name);
    made->setCursor(Qt::PointingHandCursor);
    connect(made, &QPushButton::clicked, this, open);
    return made;
}

void CheckNews::refresh() {
    soon_.stop();
    const Document& document = desk_.document;
    changes_ = memory_.changes();
    editions_ = editionNews(document.tables(), document.job().cage);
    several_ = sharedLimits(document.tables(), document.job(), document.geometry());
    std::erase_if(several_, [](const SharedLimit& one) { return one.kind == SharedLimit::Kind::alike; });
    const auto answers = std::ranges::count_if(
        changes_, [](const FindingChange& c) { return c.kind != FindingChange::Kind::by_how_much; });
    changes_word_->setVisible(answers > 0);
    changes_word_->setText(answers == 1
                               ? tr("1 finding changed since %1").arg(memory_.since())
                               : tr("%1 findings changed since %2").arg(answers).arg(memory_.since()));
    const auto news = std::ranges::find_if(editions_, &EditionNews::isNews);
    editions_word_->setVisible(news != editions_.end());
    if (news != editions_.end())
        editions_word_->setText(
            news->edition == news->was_edition
                ? tr("%1 says otherwise than when it was agreed").arg(text(news->title))
                : tr("%1: edition %2 in place of %3")
                      .arg(text(news->title), text(news->edition), text(news->was_edition)));
    const auto never = std::ranges::count_if(
        several_, [](const SharedLimit& one) { return one.kind == SharedLimit::Kind::never; });
    several_word_->setVisible(!several_.empty());
    several_word_->setText(never == 0 ? tr("What the class tables ask of the same thing")
                           : never == 1
                               ? tr("1 thing the class tables ask cannot be met at once")
                               : tr("%1 things the class tables ask cannot be met at once").arg(never));
    setVisible(!changes_word_->isHidden() || !editions_word_->isHidden() || !several_word_->isHidden());
}

QString CheckNews::changesPage() const {
    QString html;
    const auto margin = [&](std::optional<double> value, Dimension dimension) {
        if (!value) return QString();
        return measureText(std::abs(*value), dimension, desk_.units()) +
               (*value < 0 ? tr(" lacking") : tr(" to spare"));
    };
    for (const FindingChange& change : changes_) {
        const QString about =
            text(change.title) +
            (change.subject_name.empty() ? QString() : QStringLiteral(", ") + text(change.subject_name));
        html += paragraph(about, true);
        switch (change.kind) {
            case FindingChange::Kind::answer:
                html += paragraph(tr("%1 before, now %2")
                                      .arg(text(change.was.empty() ? "nothing" : change.was),
                                           text(change.is.empty() ? "nothing" : change.is)));
                break;
            case FindingChange::Kind::added:
                html += paragraph(tr("new: %1").arg(text(change.is)));
                break;
            case FindingChange::Kind::gone:
                html += paragraph(tr("no longer judged; %1 before").arg(text(change.was)));
                break;
            case FindingChange::Kind::by_how_much:
                html += paragraph(tr("fails as before: %1, now %2")
                                      .arg(margin(change.was_margin, change.dimension),
                                           margin(change.margin, change.dimension)));
                break;
        }
    }
    return html;
}

QString CheckNews::editionsPage() const {
    QString html;
    for (const EditionNews& news : editions_) {
        html += paragraph(tr("%1, edition %2").arg(text(news.title), text(news.edition)), true);
        if (!news.kept) html += paragraph(tr("No edition of it is kept with this job yet."));
        if (news.kept)
            html += paragraph(news.isNews() ? tr("The job keeps edition %1, of %2; %3 rules differ.")
                                                  .arg(text(news.was_edition), text(news.kept_when))
                                                  .arg(news.changes.size())
                                            : tr("As kept on %1.").arg(text(news.kept_when)));
        for (const EditionChange& change : news.changes) {
            const QString kind = change.kind == EditionChange::Kind::added  ? tr("New")
                                 : change.kind == EditionChange::Kind::gone ? tr("Gone")
                                                                            : tr("Changed");
            html += paragraph(kind + QStringLiteral(": ") +
                                  (change.title.empty() ? spoken(change.rule) : text(change.title)),
                              true);
            if (!change.was_says.empty()) html += paragraph(tr("was: %1").arg(text(change.was_says)));
            if (!change.says.empty()) html += paragraph(tr("is: %1").arg(text(change.says)));
        }
    }
    return html;
}

QString CheckNews::severalPage() const {
    QString html;
    for (const SharedLimit& one : several_)
        html += paragraph(printed(one.says), one.kind == SharedLimit::Kind::never);
    return html;
}

void CheckNews::openChanges() {
    read(window(), changes_word_->text(), changesPage());
}

void CheckNews::openEditions() {
    if (read(window(), tr("Editions of the class tables"), editionsPage(), tr("Keep these as agreed today")))
        keepEditionsNow();
}

void CheckNews::openSeveral() {
    read(window(), tr("What the class tables ask of the same thing"), severalPage());
}

void CheckNews::keepEditionsNow() {
    const std::string today = QDate::currentDate().toString(Qt::ISODate).toStdString();
    desk_.document.edit(tr("Keep the editions of the class tables"),
                        [&](Job& job) { keepEditions(job.cage, desk_.document.tables(), today); });
    refresh();
}

}  // namespace hoopwright
