#include "app/window/stage_sketch.h"

#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/view/marks.h"
#include "app/window/style.h"

namespace hoopwright {
namespace {

/// Badges are set out in millimetres of paper; so many pixels are one here.
constexpr double kPixels = 3.1;

}  // namespace

StageSketch::StageSketch(const Desk& desk, QWidget* parent) : QWidget(parent), desk_(desk) {
    setFixedHeight(sizeHint().height());
    setAccessibleName(tr("Drawing of the places to measure"));
    connect(&desk, &Desk::paletteChanged, this, qOverload<>(&QWidget::update));
}

void StageSketch::showStage(Car::Body body, Car::Frame frame, const MeasuringStage& stage, int number) {
    number_ = number;
    stage_ = stage;
    sketch_ = carSketch(body, frame, stage.view);
    arrange();
    update();
}

void StageSketch::arrange() {
    marks_.clear();
    if (sketch_.paths.empty()) return;
    const QRectF panel = QRectF(rect()).adjusted(kGrid, 2, -kGrid, -2),
                 inner = panel.adjusted(14, 14, -14, -14);
    const QRectF bounds = sketch_.bounds();
    scale_ = std::min(inner.width() / bounds.width(), inner.height() / bounds.height());
    shift_ = inner.center() - bounds.center() * scale_;
    for (const MeasuringItem& item : stage_.items)
        marks_.push_back({item.number, (sketch_.at(item.drawn) * scale_ + shift_) / kPixels, true, {}});
    // What is asked for now has the first choice of a spot.
    std::ranges::stable_partition(marks_, [&](const PlaceMark& mark) { return mark.number == number_; });
    placeMarks(marks_, QRectF(panel.topLeft() / kPixels, panel.size() / kPixels)
                           .adjusted(kMarkRadius_mm, kMarkRadius_mm, -kMarkRadius_mm, -kMarkRadius_mm));
    for (PlaceMark& mark : marks_) {
        mark.at *= kPixels;
        mark.badge *= kPixels;
    }
}

void StageSketch::resizeEvent(QResizeEvent*) {
    arrange();
}

void StageSketch::mousePressEvent(QMouseEvent* event) {
    for (const PlaceMark& mark : marks_) {
        const QPointF off = event->position() - mark.badge;
        if (std::hypot(off.x(), off.y()) <= kMarkRadius_mm * kPixels + 2) emit wanted(mark.number);
    }
}

void StageSketch::paintEvent(QPaintEvent*) {
    if (sketch_.paths.empty()) return;
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    painter.save();
    painter.translate(shift_);
    painter.scale(scale_, scale_);
    drawSketch(painter, sketch_, scale_, {p.ink_soft, p.ink_soft, p.line, p.field, p.card, p.line, 1.2});
    painter.restore();
    const auto draw = [&](const PlaceMark& mark) {
        const bool lit = mark.number == number_;
        painter.setPen(QPen(p.ink, lit ? 1.4 : 0.8));
        painter.drawLine(mark.at, mark.badge);
        painter.setBrush(p.ink);
        painter.drawEllipse(mark.at, lit ? 3.0 : 2.0, lit ? 3.0 : 2.0);
        const double radius = kMarkRadius_mm * kPixels + (lit ? 2 : 0);
        painter.setPen(QPen(lit ? p.ink : p.ink_soft, 1));
        painter.setBrush(lit ? p.accent : p.card);
        painter.drawEllipse(mark.badge, radius, radius);
        QFont font = typeFont(TypeSize::small, lit ? TypeWeight::strong : TypeWeight::plain);
        if (!lit) font.setPixelSize(10);
        painter.setFont(font);
        painter.setPen(lit ? p.accent_ink : p.ink);
        drawFigures(painter, QRectF(mark.badge - QPointF(12, 8), QSizeF(24, 16)), Qt::AlignCenter,
                    QString::number(mark.number));
    };
    for (auto mark = marks_.rbegin(); mark != marks_.rend(); ++mark) draw(*mark);
}

}  // namespace hoopwright
