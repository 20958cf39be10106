#include "app/window/top_bar.h"

#include <QAction>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QToolButton>

#include "app/window/style.h"

namespace hoopwright {

TopBar::TopBar(Desk& desk, QWidget* parent)
    : QWidget(parent),
      desk_(desk),
      menus_(new QMenuBar(this)),
      row_(new QHBoxLayout(this)),
      name_(new QLabel(this)),
      state_(new QLabel(this)) {
    setObjectName(QStringLiteral("bar"));
    setAttribute(Qt::WA_StyledBackground);
    setFixedHeight(48);
    menus_->setNativeMenuBar(false);
    row_->setContentsMargins(kGrid, 0, kGrid, 0);
    row_->setSpacing(4);
    row_->addWidget(menus_, 0, Qt::AlignVCenter);
    row_->addSpacing(kGrid);
    name_->setFont(typeFont(TypeSize::body, TypeWeight::strong));
    name_->setAccessibleName(tr("Name of the job"));
    state_->setProperty("role", "soft");
    state_->setFont(typeFont(TypeSize::small));
    row_->addWidget(name_);
    row_->addSpacing(kGrid);
    row_->addWidget(state_);
    row_->addStretch(1);
    connect(&desk_.document, &Document::changed, this, &TopBar::refresh);
    refresh();
}

void TopBar::addWord(QAction* action) {
    auto* button = new QToolButton(this);
    button->setDefaultAction(action);
    button->setToolButtonStyle(Qt::ToolButtonTextOnly);
    button->setFocusPolicy(Qt::TabFocus);
    row_->addWidget(button);
}

void TopBar::addWidget(QWidget* widget, int stretch) {
    row_->addWidget(widget, stretch);
}

QToolButton* TopBar::addMenu(const QString& words, QMenu* menu) {
    auto* button = new QToolButton(this);
    button->setText(words);
    button->setMenu(menu);
    button->setPopupMode(QToolButton::InstantPopup);
    button->setToolButtonStyle(Qt::ToolButtonTextOnly);
    button->setFocusPolicy(Qt::TabFocus);
    row_->addWidget(button);
    return button;
}

void TopBar::refresh() {
    const Document& document = desk_.document;
    name_->setToolTip(document.files().cage.empty() ? tr("Not saved yet")
                                                    : QString::fromStdString(document.files().cage.string()));
    const int room = std::max(120, width() - 1000);
    name_->setText(name_->fontMetrics().elidedText(document.title(), Qt::ElideRight, room));
    state_->setText(document.files().cage.empty() ? tr("never saved")
                    : document.dirty()            ? tr("not saved")
                                                  : tr("saved"));
    // The dirty mark must not hang on colour or on the window's frame alone.
    if (document.dirty()) name_->setText(QStringLiteral("• ") + name_->text());
}

void TopBar::resizeEvent(QResizeEvent*) {
    refresh();
}

}  // namespace hoopwright
