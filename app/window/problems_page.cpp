#include "app/window/problems_page.h"

#include <QClipboard>
#include <QDesktopServices>
#include <QDialogButtonBox>
#include <QFileInfo>
#include <QGuiApplication>
#include <QLabel>
#include <QPushButton>
#include <QTextBrowser>
#include <QUrl>
#include <QVBoxLayout>

#include "app/window/form_help.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

QString place(const FileMark& at) {
    QString words = text(at.file);
    if (at.line > 0) words += QObject::tr(", line %1").arg(at.line);
    if (at.line > 0 && at.column > 0) words += QObject::tr(", column %1").arg(at.column);
    return words;
}

QString page(const Palette& p, const Problems& problems) {
    QString html;
    for (const Problem& problem : problems) {
        html += QStringLiteral("<p style='margin:0 0 4px 0; color:%1'>%2</p>")
                    .arg(p.ink_soft.name(), place(problem.at).toHtmlEscaped());
        html += QStringLiteral("<p style='margin:0 0 2px 0'><b>%1</b></p>")
                    .arg(text(problem.what).toHtmlEscaped());
        html +=
            QStringLiteral("<p style='margin:0 0 18px 0'>%1</p>").arg(text(problem.remedy).toHtmlEscaped());
    }
    return html;
}

}  // namespace

ProblemsPage::ProblemsPage(const Palette& palette, const QString& what, const Problems& problems,
                           QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("What is wrong"));
    resize(720, 480);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * kGrid, 3 * kGrid, 3 * kGrid, 2 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(what, this);
    head->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    head->setWordWrap(true);
    column->addWidget(head);
    auto* count = new QLabel(
        problems.size() == 1 ? tr("One thing to mend:") : tr("%1 things to mend:").arg(problems.size()),
        this);
    count->setProperty("role", "soft");
    column->addWidget(count);
    auto* list = new QTextBrowser(this);
    list->setAccessibleName(tr("Problems"));
    list->document()->setDocumentMargin(2 * kGrid);
    list->setHtml(page(palette, problems));
    column->addWidget(list, 1);
    auto* buttons = new QDialogButtonBox(this);
    auto* copy = buttons->addButton(tr("Copy the list"), QDialogButtonBox::ActionRole);
    connect(copy, &QPushButton::clicked, this, [problems] {
        QStringList lines;
        for (const Problem& problem : problems) lines << text(problem.text());
        QGuiApplication::clipboard()->setText(lines.join(QLatin1Char('\n')));
    });
    const QString file = problems.empty() ? QString() : text(problems.front().at.file);
    if (QFileInfo(file).isFile()) {
        auto* open = buttons->addButton(tr("Open the file"), QDialogButtonBox::ActionRole);
        connect(open, &QPushButton::clicked, this,
                [file] { QDesktopServices::openUrl(QUrl::fromLocalFile(file)); });
    }
    auto* close = buttons->addButton(tr("Close"), QDialogButtonBox::AcceptRole);
    makePrimary(close);
    close->setDefault(true);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    column->addWidget(buttons);
}

}  // namespace hoopwright
