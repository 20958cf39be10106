#include "app/window/guide.h"

#include <QFile>
#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QTextBlock>
#include <QTextBrowser>
#include <QTextCursor>
#include <QTextDocument>
#include <QUrl>
#include <QVBoxLayout>
#include <vector>

#include "app/view/palette.h"
#include "app/window/style.h"

// The pages are in a static library: without this the linker would leave them out. The macro wants the global
// namespace.
static void takeInPages() {
    Q_INIT_RESOURCE(guide);
}

namespace hoopwright {
namespace {

struct GuidePage {
    const char* name;
    QString title;
};

std::vector<GuidePage> pages() {
    return {{"start", QObject::tr("From car to order")},
            {"car", QObject::tr("The car and its points")},
            {"driver", QObject::tr("The driver")},
            {"cage", QObject::tr("Bars, plates, landings")},
            {"tape", QObject::tr("Numbers and the tape")},
            {"check", QObject::tr("What falls short")},
            {"tables", QObject::tr("Class tables as text")},
            {"order", QObject::tr("The order")},
            {"papers", QObject::tr("Sheets and the shop's book")},
            {"keys", QObject::tr("Keys")},
            {"files", QObject::tr("Files and unsaved work")},
            {"cautions", QObject::tr("Cautions")}};
}

QString contents(const QString& name) {
    QFile file(QStringLiteral(":/guide/") + name + QStringLiteral(".md"));
    return file.open(QIODevice::ReadOnly) ? QString::fromUtf8(file.readAll()) : QString();
}

/// Markdown comes without a line between paragraphs.
void giveAir(QTextDocument& page) {
    for (QTextBlock block = page.begin(); block.isValid(); block = block.next()) {
        QTextCursor cursor(block);
        QTextBlockFormat format = block.blockFormat();
        if (!cursor.currentTable()) format.setBottomMargin(block.textList() ? kGrid / 2 : kGrid);
        if (format.headingLevel() > 0) format.setBottomMargin(2 * kGrid);
        format.setLineHeight(130, QTextBlockFormat::ProportionalHeight);
        cursor.setBlockFormat(format);
    }
}

}  // namespace

Guide::Guide(QWidget* parent) : QDialog(parent), text_(new QTextBrowser(this)) {
    takeInPages();
    setWindowTitle(tr("Guide"));
    resize(900, 640);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    auto* list = new QListWidget(this);
    list->setFixedWidth(220);
    list->setAccessibleName(tr("Pages of the guide"));
    for (const GuidePage& page : pages()) {
        auto* item = new QListWidgetItem(page.title, list);
        item->setData(Qt::UserRole, QString::fromLatin1(page.name));
        item->setSizeHint({10, 32});
    }
    text_->setOpenExternalLinks(false);
    text_->setOpenLinks(false);
    text_->setAccessibleName(tr("Page"));
    text_->document()->setDocumentMargin(4 * kGrid);
    text_->setFont(typeFont(TypeSize::body));
    row->addWidget(list);
    row->addWidget(text_, 1);
    connect(list, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        if (!item) return;
        text_->setMarkdown(contents(item->data(Qt::UserRole).toString()));
        giveAir(*text_->document());
    });
    connect(text_, &QTextBrowser::anchorClicked, this,
            [this](const QUrl& link) { turnTo(link.fileName().section(QLatin1Char('.'), 0, 0)); });
    list->setCurrentRow(0);
}

void Guide::turnTo(const QString& page) {
    auto* list = findChild<QListWidget*>();
    for (int i = 0; i < list->count(); ++i) {
        if (list->item(i)->data(Qt::UserRole).toString() == page) list->setCurrentRow(i);
    }
    show();
    raise();
    activateWindow();
}

QString cautionText() {
    return QObject::tr(
        "Hoopwright plans a cage and checks the plan against tables that people typed in. It certifies "
        "nothing. It does not "
        "know how your tube was welded, what your car has been through, or what your rule book says "
        "today.\n\n"
        "The rule book in force and the inspector decide. Ask the inspector before you cut; check every "
        "table against the "
        "book; measure the real car, the real seat and the real driver, helmet on.");
}

Caution::Caution(QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Before you begin"));
    constexpr int kWordsWidth = 460;
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(4 * kGrid, 4 * kGrid, 4 * kGrid, 3 * kGrid);
    column->setSpacing(2 * kGrid);
    auto* head = new QLabel(tr("Plans only"), this);
    head->setFont(typeFont(TypeSize::big, TypeWeight::strong));
    auto* words = new QLabel(cautionText(), this);
    words->setWordWrap(true);
    words->setFixedWidth(kWordsWidth);
    words->setMinimumHeight(words->heightForWidth(kWordsWidth));
    auto* agree = new QPushButton(tr("I will check it with the inspector"), this);
    agree->setProperty("primary", true);
    agree->setDefault(true);
    connect(agree, &QPushButton::clicked, this, &QDialog::accept);
    column->addWidget(head);
    column->addWidget(words);
    column->addSpacing(kGrid);
    column->addWidget(agree, 0, Qt::AlignRight);
}

}  // namespace hoopwright
