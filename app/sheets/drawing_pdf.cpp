#include <QBuffer>
#include <QPageSize>
#include <QPainter>
#include <QPainterPath>
#include <QPdfWriter>
#include <QtMath>

#include "app/sheets/drawing.h"
#include "app/view/palette.h"

namespace hoopwright {
namespace {

constexpr int kResolution = 1200;
constexpr double kPoint_mm = 25.4 / 72;
const QColor kInk(0x1C, 0x20, 0x24), kSoft(0x55, 0x5B, 0x63), kTape(0xF2, 0xB7, 0x05);

QPen penOf(DrawnLine line) {
    const auto pen = [](double width, Qt::PenStyle style = Qt::SolidLine, const QColor& colour = kInk) {
        return QPen(colour, width, style, Qt::FlatCap, Qt::RoundJoin);
    };
    switch (line) {
        case DrawnLine::cut:
            return pen(0.35);
        case DrawnLine::bore:
            return pen(0.2, Qt::DotLine);
        case DrawnLine::grind:
            return pen(0.25, Qt::DashLine);
        case DrawnLine::mark:
            return pen(0.2, Qt::DashDotLine);
        case DrawnLine::fold:
            return pen(0.3, Qt::DashDotDotLine);
        case DrawnLine::part:
            return pen(0.45);
        case DrawnLine::hair:
            break;
    }
    return pen(0.15, Qt::SolidLine, kSoft);
}

void drawText(QPainter& painter, const DrawnText& text) {
    // Set large and drawn small: the painter's unit is a millimetre.
    constexpr int kPixels = 100;
    QFont font = sheetFont(text.strong);
    font.setPixelSize(kPixels);
    const QString words = QString::fromStdString(text.words);
    const double scale = text.points * kPoint_mm / kPixels;
    const double width = QFontMetricsF(font).horizontalAdvance(words);
    const double left = text.align == DrawnText::Align::left    ? 0
                        : text.align == DrawnText::Align::right ? -width
                                                                : -width / 2;
    painter.save();
    painter.translate(text.at.x(), text.at.y());
    painter.scale(scale, scale);
    painter.setFont(font);
    painter.setPen(text.soft ? kSoft : kInk);
    painter.drawText(QPointF(left, 0), words);
    painter.restore();
}

}  // namespace

QFont sheetFont(bool strong) {
    QFont font = typeFont(TypeSize::body, strong ? TypeWeight::strong : TypeWeight::plain);
    font.setStyleStrategy(QFont::StyleStrategy(font.styleStrategy() | QFont::PreferNoShaping));
    return font;
}

void paintDrawing(QPainter& painter, const Drawing& drawing) {
    for (const DrawnBlock& block : drawing.blocks)
        painter.fillRect(QRectF(block.at.x(), block.at.y(), block.size.x(), block.size.y()), kTape);
    for (const DrawnPicture& picture : drawing.pictures)
        painter.drawImage(QRectF(picture.at.x(), picture.at.y(), picture.size.x(), picture.size.y()),
                          picture.image);
    painter.setBrush(Qt::NoBrush);
    for (const DrawnPath& path : drawing.paths) {
        QPolygonF points;
        for (const Vec2& p : path.points) points << QPointF(p.x(), p.y());
        painter.setPen(penOf(path.line));
        if (path.closed) {
            painter.drawPolygon(points);
        } else {
            painter.drawPolyline(points);
        }
    }
    for (const DrawnArc& arc : drawing.arcs) {
        painter.setPen(penOf(arc.line));
        const QRectF round(arc.centre.x() - arc.radius_mm, arc.centre.y() - arc.radius_mm, 2 * arc.radius_mm,
                           2 * arc.radius_mm);
        // Qt counts anticlockwise.
        QPainterPath path;
        path.arcMoveTo(round, -qRadiansToDegrees(arc.from_rad));
        path.arcTo(round, -qRadiansToDegrees(arc.from_rad), -qRadiansToDegrees(arc.sweep_rad));
        painter.drawPath(path);
    }
    for (const DrawnText& text : drawing.texts) drawText(painter, text);
}

QByteArray pdfOf(const std::vector<Drawing>& pages, const std::string& title) {
    QByteArray pdf;
    QBuffer buffer(&pdf);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    writer.setResolution(kResolution);
    writer.setTitle(QString::fromStdString(title));
    writer.setCreator(QStringLiteral("Hoopwright"));
    QPainter painter;
    for (const Drawing& page : pages) {
        writer.setPageSize(QPageSize(QSizeF(page.size_mm.x(), page.size_mm.y()), QPageSize::Millimeter,
                                     QString(), QPageSize::ExactMatch));
        if (painter.isActive()) {
            writer.newPage();
        } else {
            painter.begin(&writer);
        }
        painter.resetTransform();
        painter.scale(kResolution / 25.4, kResolution / 25.4);
        paintDrawing(painter, page);
    }
    if (painter.isActive()) painter.end();
    buffer.close();
    return pdf;
}

}  // namespace hoopwright
