#include "app/view/marks.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPen>
#include <QPolygonF>
#include <algorithm>
#include <array>

namespace hoopwright {
namespace {

QRectF middleSquare(const QRectF& box) {
    const double side = std::min(box.width(), box.height());
    return {box.center().x() - side / 2, box.center().y() - side / 2, side, side};
}

void paintTickInDisc(QPainter& painter, const QRectF& square, const Palette& palette) {
    const double u = square.width();
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette.meets);
    painter.drawEllipse(square.adjusted(u * 0.04, u * 0.04, -u * 0.04, -u * 0.04));
    const auto at = [&](double x, double y) { return square.topLeft() + QPointF(x * u, y * u); };
    painter.setPen(QPen(palette.card, u * 0.12, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(QPolygonF{at(0.29, 0.52), at(0.44, 0.66), at(0.71, 0.36)});
}

void paintSolid(QPainter& painter, const QPolygonF& shape, const QColor& colour, double edge) {
    painter.setPen(QPen(colour, edge, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(colour);
    painter.drawPolygon(shape);
}

void paintDashedRing(QPainter& painter, const QRectF& square, const QColor& colour) {
    const double u = square.width(), width = u * 0.13, inset = u * 0.12;
    QPen pen(colour, width, Qt::CustomDashLine, Qt::FlatCap);
    // Eight dashes go round exactly: a dash and a gap are an eighth of the circle, in pen widths.
    const double eighth = 3.14159265358979 * (u - 2 * inset) / 8 / width;
    pen.setDashPattern({eighth * 0.6, eighth * 0.4});
    painter.setPen(pen);
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(square.adjusted(inset, inset, -inset, -inset));
}

double widestDigit(const QFontMetricsF& metrics) {
    double widest = 0;
    for (char digit = '0'; digit <= '9'; ++digit)
        widest = std::max(widest, metrics.horizontalAdvance(QLatin1Char(digit)));
    return widest;
}

bool isDigit(QChar c) {
    return c >= QLatin1Char('0') && c <= QLatin1Char('9');
}

double cellWidth(const QFontMetricsF& metrics, double digit, QChar c) {
    return isDigit(c) ? digit : metrics.horizontalAdvance(c);
}

}  // namespace

void paintMark(QPainter& painter, const QRectF& box, Answer answer, const Palette& palette) {
    const QRectF square = middleSquare(box);
    const double u = square.width();
    const auto at = [&](double x, double y) { return square.topLeft() + QPointF(x * u, y * u); };
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QColor colour = palette.of(answer);
    switch (answer) {
        case Answer::meets:
            paintTickInDisc(painter, square, palette);
            break;
        case Answer::fails:
            paintSolid(painter, QPolygonF{at(0.5, 0.12), at(0.93, 0.86), at(0.07, 0.86)}, colour, u * 0.12);
            break;
        case Answer::ask_person:
            paintSolid(painter, QPolygonF{at(0.5, 0.08), at(0.92, 0.5), at(0.5, 0.92), at(0.08, 0.5)}, colour,
                       u * 0.08);
            break;
        case Answer::cannot_tell:
            paintDashedRing(painter, square, colour);
            break;
        case Answer::does_not_apply:
            painter.setPen(QPen(colour, u * 0.13, Qt::SolidLine, Qt::RoundCap));
            painter.drawLine(at(0.25, 0.5), at(0.75, 0.5));
            break;
    }
    painter.restore();
}

double figuresWidth(const QFont& font, const QString& text) {
    const QFontMetricsF metrics(font);
    const double digit = widestDigit(metrics);
    double width = 0;
    for (const QChar c : text) width += cellWidth(metrics, digit, c);
    return width;
}

void drawFigures(QPainter& painter, const QRectF& box, Qt::Alignment alignment, const QString& text) {
    const QFontMetricsF metrics(painter.font());
    const double digit = widestDigit(metrics), width = figuresWidth(painter.font(), text);
    double x = box.left(), y = box.top() + metrics.ascent();
    if (alignment & Qt::AlignRight) x = box.right() - width;
    if (alignment & Qt::AlignHCenter) x = box.center().x() - width / 2;
    if (alignment & Qt::AlignVCenter) y = box.center().y() + (metrics.ascent() - metrics.descent()) / 2;
    if (alignment & Qt::AlignBottom) y = box.bottom() - metrics.descent();
    for (const QChar c : text) {
        const double cell = cellWidth(metrics, digit, c);
        painter.drawText(QPointF(x + (cell - metrics.horizontalAdvance(c)) / 2, y), QString(c));
        x += cell;
    }
}

}  // namespace hoopwright
