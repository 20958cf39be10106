#include "app/window/tape_strip.h"

#include <QMouseEvent>
#include <QPainter>
#include <QPainterPath>
#include <cmath>

#include "app/view/marks.h"
#include "app/window/fields.h"
#include "app/window/style.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr int kHeight = 56;
constexpr double kPixelsPerMm = 4;
constexpr double kSixteenth_mm = 25.4 / 16;

double mod(double a, double b) {
    return a - std::floor(a / b) * b;
}

/// `20-9/32" (+0.14 mm)`: the fraction and how far it is from the value.
QString fractionWithError(double mm) {
    const InchFraction nearest = nearestFraction(mm, 64);
    QString words = QString::fromStdString(nearest.text);
    if (std::abs(nearest.error_mm) < 0.005) return words;
    const QString sign = nearest.error_mm > 0 ? QStringLiteral("+") : QString();
    return words + QStringLiteral(" (") + sign + QString::fromStdString(fixed(nearest.error_mm, 2)) +
           QStringLiteral(" mm)");
}

}  // namespace

TapeStrip::TapeStrip(Desk& desk, QWidget* parent) : QWidget(parent), desk_(desk) {
    setFixedHeight(kHeight);
    setAccessibleName(tr("Tape"));
    setCursor(Qt::SizeHorCursor);
    ValueField::Value value;
    value.label = tr("Value on the tape");
    value.get = [this]() -> std::optional<double> {
        return desk_.tape() ? desk_.tape().get() : std::nullopt;
    };
    value.set = [this](std::optional<double> mm, const QByteArray& key) {
        if (desk_.tape() && mm) desk_.tape().set(*mm, key);
    };
    field_ = new ValueField(desk, value, this);
    field_->setOnTape(false);
    field_->setFont(typeFont(TypeSize::head, TypeWeight::strong));
    field_->setCursor(Qt::IBeamCursor);
    field_->setToolTip(tr("Type a value: 812.4, 31 63/64, +1/16 adds, less 1/16 takes away"));
    connect(field_, &ValueField::complained, this, [this](const QString& sentence) {
        if (!sentence.isEmpty()) emit desk_.say(sentence);
        update();
    });
    connect(&desk_, &Desk::tapeChanged, this, &TapeStrip::refresh);
    connect(&desk_, &Desk::unitsChanged, this, &TapeStrip::refresh);
    connect(&desk_, &Desk::paletteChanged, this, qOverload<>(&QWidget::update));
    connect(&desk_.document, &Document::changed, this, &TapeStrip::refresh);
    connect(&desk_.study, &DriverStudy::triedChanged, this, &TapeStrip::refresh);
    refresh();
}

// The field asks for the value once more when it loses the keyboard: the strip must still be whole then.
TapeStrip::~TapeStrip() {
    delete field_;
}

void TapeStrip::refresh() {
    const bool has = desk_.tape() && desk_.tape().get();
    field_->setVisible(has);
    field_->setAccessibleName(has ? desk_.tape().label : tr("Value on the tape"));
    field_->refresh();
    update();
}

QRectF TapeStrip::plateBox() const {
    const bool idle = !field_->isVisibleTo(this);
    const double width = std::min(idle ? 280.0 : 560.0, this->width() - 32.0);
    return {(this->width() - width) / 2, 10, width, kHeight - 18.0};
}

void TapeStrip::resizeEvent(QResizeEvent*) {
    const QRectF plate = plateBox();
    field_->setGeometry(QRectF(plate.center().x() - 62, plate.top() + 3, 150, plate.height() - 6).toRect());
}

void TapeStrip::paintTicks(QPainter& painter, double middle_mm) const {
    const Palette& p = desk_.palette();
    const double half = width() / 2.0 / kPixelsPerMm;
    const auto xOf = [&](double mm) { return width() / 2.0 + (mm - middle_mm) * kPixelsPerMm; };
    painter.setPen(QPen(p.accent_ink, 1));
    painter.setFont(typeFont(TypeSize::small));
    const bool both = desk_.units() == UnitsShown::both;
    if (desk_.units() != UnitsShown::in) {  // millimetres along the top edge
        for (double mm = std::ceil(middle_mm - half); mm <= middle_mm + half + 20; ++mm) {
            const bool ten = mod(mm, 10) < 0.5, five = mod(mm, 5) < 0.5;
            const double x = std::round(xOf(mm)) + 0.5;
            painter.drawLine(QPointF(x, 0), QPointF(x, ten ? 14 : five ? 10 : 6));
            const bool labelled = both ? mod(mm, 20) < 0.5 : ten;
            if (labelled)
                drawFigures(painter, QRectF(x + 4, 8, 60, 14), Qt::AlignLeft | Qt::AlignVCenter,
                            QString::number(std::lround(mm)));
        }
    }
    if (desk_.units() != UnitsShown::mm) {  // sixteenths along the bottom edge
        const long first = std::lround(std::ceil((middle_mm - half) / kSixteenth_mm));
        const long last = std::lround((middle_mm + half + 20) / kSixteenth_mm);
        for (long n = first; n <= last; ++n) {
            const double x = std::round(xOf(double(n) * kSixteenth_mm)) + 0.5;
            const long part = ((n % 16) + 16) % 16;
            const double length = part == 0       ? 18
                                  : part % 8 == 0 ? 13
                                  : part % 4 == 0 ? 10
                                  : part % 2 == 0 ? 7
                                                  : 4;
            painter.drawLine(QPointF(x, kHeight), QPointF(x, kHeight - length));
            if (part == 0) {
                const long inches = (n - part) / 16;
                drawFigures(painter, QRectF(x + 4, kHeight - 20, 60, 14), Qt::AlignLeft | Qt::AlignVCenter,
                            QString::number(inches) + QLatin1Char('"'));
            }
        }
    }
}

void TapeStrip::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const Palette& p = desk_.palette();
    QLinearGradient steel(0, 0, 0, kHeight);  // a tape is curved across: lighter in the middle
    steel.setColorAt(0, p.accent.darker(108));
    steel.setColorAt(0.45, p.accent.lighter(106));
    steel.setColorAt(1, p.accent.darker(112));
    painter.fillRect(rect(), steel);
    const std::optional<double> now = desk_.tape() ? desk_.tape().get() : std::nullopt;
    paintTicks(painter, now.value_or(0));
    const QRectF plate = plateBox();
    QPainterPath tip;
    tip.addPolygon(QPolygonF{{width() / 2.0 - 7, 10}, {width() / 2.0 + 7, 10}, {width() / 2.0, 1}});
    painter.fillPath(tip, p.accent_ink);
    painter.setPen(QPen(p.accent_ink, 1));
    painter.setBrush(p.card);
    painter.drawRoundedRect(plate.adjusted(0.5, 0.5, -0.5, -0.5), 6, 6);
    painter.setPen(p.ink_soft);
    painter.setFont(typeFont(TypeSize::small));
    if (!now) {
        painter.drawText(plate, Qt::AlignCenter, tr("Click a length to put it on the tape"));
        return;
    }
    const QRectF left = plate.adjusted(10, 0, 0, 0)
                            .intersected(QRectF(plate.left(), 0, field_->x() - plate.left() - 6, kHeight));
    painter.drawText(
        left, Qt::AlignLeft | Qt::AlignVCenter,
        painter.fontMetrics().elidedText(desk_.tape().label, Qt::ElideMiddle, int(left.width())));
    painter.setPen(p.ink);
    painter.setFont(typeFont(TypeSize::body, TypeWeight::medium));
    const QRectF right(field_->geometry().right() + 10, plate.top(),
                       plate.right() - field_->geometry().right() - 20, plate.height());
    const QString other = desk_.units() == UnitsShown::in
                              ? measureText(*now, Dimension::length, UnitsShown::mm)
                              : fractionWithError(*now);
    drawFigures(painter, right, Qt::AlignRight | Qt::AlignVCenter, other);
}

void TapeStrip::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !desk_.tape()) return;
    const auto now = desk_.tape().get();
    if (!now) return;
    drag_ = desk_.document.newKey();
    press_x_ = event->position().x();
    press_mm_ = *now;
}

void TapeStrip::mouseMoveEvent(QMouseEvent* event) {
    if (drag_.isEmpty() || !desk_.tape()) return;
    const bool fine = event->modifiers() & Qt::ShiftModifier;
    const bool inches = desk_.units() == UnitsShown::in;
    const double moved = (press_x_ - event->position().x()) / kPixelsPerMm * (fine ? 0.1 : 1.0);
    const double step = inches ? kSixteenth_mm / (fine ? 4 : 1) : (fine ? 0.1 : 0.5);
    desk_.tape().set(std::round((press_mm_ + moved) / step) * step, drag_);
}

void TapeStrip::mouseReleaseEvent(QMouseEvent*) {
    drag_.clear();
}

}  // namespace hoopwright
