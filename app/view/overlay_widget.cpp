#include "app/view/overlay_widget.h"

#include <QPainter>
#include <utility>

namespace hoopwright {

OverlayWidget::OverlayWidget(QWidget* parent, std::function<void(QPainter&)> paint)
    : QWidget(parent), paint_(std::move(paint)) {
    setAttribute(Qt::WA_TransparentForMouseEvents);
    setAttribute(Qt::WA_NoSystemBackground);
    setFocusPolicy(Qt::NoFocus);
}

void OverlayWidget::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    paint_(painter);
}

}  // namespace hoopwright
