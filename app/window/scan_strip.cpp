#include "app/window/scan_strip.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <cmath>

#include "app/window/style.h"

namespace hoopwright {

ScanStrip::ScanStrip(Desk& desk, QWidget* parent)
    : QWidget(parent), desk_(desk), words_(new QLabel(this)), bar_(new QProgressBar(this)) {
    setObjectName(QStringLiteral("float"));
    setAttribute(Qt::WA_StyledBackground);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(2 * kGrid, kGrid, kGrid, kGrid);
    row->setSpacing(2 * kGrid);
    row->addWidget(words_);
    bar_->setRange(0, 100);
    bar_->setFixedWidth(180);
    bar_->setTextVisible(true);
    row->addWidget(bar_);
    auto* cancel = new QPushButton(tr("Cancel"), this);
    cancel->setAccessibleName(tr("Stop reading the scan"));
    connect(cancel, &QPushButton::clicked, &desk_.scans, &ScanLoader::cancel);
    row->addWidget(cancel);
    hide();
    connect(&desk_.scans, &ScanLoader::progressed, this, &ScanStrip::follow);
}

void ScanStrip::follow() {
    const bool busy = desk_.scans.busy();
    if (busy) {
        words_->setText(tr("Reading %1").arg(desk_.scans.fileName()));
        bar_->setAccessibleName(words_->text());
        bar_->setValue(int(std::lround(100 * desk_.scans.share())));
    }
    if (busy == !isHidden()) return;
    setVisible(busy);
    emit shownOrHidden();
}

}  // namespace hoopwright
