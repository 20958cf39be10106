#include "app/view/section_sign.h"

#include <QFontMetricsF>
#include <QPainter>
#include <algorithm>
#include <array>
#include <cmath>

#include "app/view/overlay.h"

namespace hoopwright {
namespace {

constexpr double kRoom_mm = 120;  // the frame stands so far off the car

std::array<Vec3, 4> frameOf(const SectionSign& sign) {
    const int u = (sign.cut.axis + 1) % 3, v = (sign.cut.axis + 2) % 3;
    const Vec3 low = sign.box.min() - Vec3::Constant(kRoom_mm),
               high = sign.box.max() + Vec3::Constant(kRoom_mm);
    std::array<Vec3, 4> corners;
    for (std::size_t i = 0; i < 4; ++i) {
        corners[i][sign.cut.axis] = sign.cut.at_mm;
        corners[i][u] = i == 1 || i == 2 ? high[u] : low[u];
        corners[i][v] = i >= 2 ? high[v] : low[v];
    }
    return corners;
}

QFont fontOf(const OverlayScene& scene) {
    return typeFont(TypeSize::body, TypeWeight::strong, scene.scale);
}

}  // namespace

std::optional<QPointF> sectionHandle(const SectionSign& sign, const Projection& projection) {
    if (sign.box.isEmpty()) return std::nullopt;
    const auto corners = frameOf(sign);
    // The middle of the edge that stands highest in the picture, where nothing else is; kept inside it.
    std::optional<QPointF> best;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto at = projection.at(0.5 * (corners[i] + corners[(i + 1) % 4]));
        if (!at || (best && best->y() <= at->y())) continue;
        best = at;
    }
    if (!best) return std::nullopt;
    // Clear of the edges, and of the bar and the strip at the top of a view.
    const double edge = 2.2 * kSectionHandle_px;
    return QPointF(std::clamp(best->x(), edge, projection.size().width() - edge),
                   std::clamp(best->y(), 4 * edge, projection.size().height() - edge));
}

double sectionDrag_mm(const SectionSign& sign, const Projection& projection, const QPointF& from,
                      const QPointF& to) {
    Vec3 middle = sign.box.center();
    middle[sign.cut.axis] = sign.cut.at_mm;
    constexpr double kStep_mm = 10;
    const auto here = projection.at(middle),
               there = projection.at(middle + kStep_mm * Vec3::Unit(sign.cut.axis));
    if (!here || !there) return 0;
    const QPointF way = *there - *here, by = to - from;
    const double per_mm = projection.pixelsPerMm(middle), seen = std::hypot(way.x(), way.y()) / kStep_mm;
    if (per_mm <= 0) return 0;
    // An axis that points at the eye is drawn nearer up the picture and farther down it.
    if (seen < 0.08 * per_mm) {
        const double towards = Vec3::Unit(sign.cut.axis).dot(projection.view().sight()) > 0 ? -1 : 1;
        return towards * by.y() / per_mm;
    }
    return (by.x() * way.x() + by.y() * way.y()) / (seen * seen * kStep_mm);
}

QString sectionText(const SectionCut& cut, const LengthStyle& style) {
    static constexpr std::array<char, 3> kAxes = {'x', 'y', 'z'};
    return QStringLiteral("Cut at %1 = %2")
        .arg(QLatin1Char(kAxes[static_cast<std::size_t>(cut.axis)]))
        .arg(QString::fromStdString(showLength(cut.at_mm, style)));
}

std::optional<QRectF> sectionPlace(const OverlayScene& scene) {
    if (!scene.section) return std::nullopt;
    const auto handle = sectionHandle(*scene.section, Projection(scene.view, scene.size));
    if (!handle) return std::nullopt;
    const double k = scene.scale, r = kSectionHandle_px * k;
    const double width =
        QFontMetricsF(fontOf(scene)).horizontalAdvance(sectionText(scene.section->cut, scene.lengths));
    const bool left = handle->x() + r + width + 20 * k > scene.size.width();
    return QRectF(left ? handle->x() - r - width - 12 * k : handle->x() - r, handle->y() - r,
                  width + 2 * r + 12 * k, 2 * r);
}

void paintSectionFrame(QPainter& painter, const OverlayScene& scene) {
    if (!scene.section || scene.section->box.isEmpty()) return;
    const Projection projection(scene.view, scene.size);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    std::vector<Vec3> frame;
    for (const Vec3& corner : frameOf(*scene.section)) frame.push_back(corner);
    frame.push_back(frame.front());
    QColor line = scene.palette.accent_edge;
    line.setAlpha(190);
    painter.setPen(QPen(line, 1.4 * scene.scale, Qt::DashLine, Qt::FlatCap));
    painter.setBrush(Qt::NoBrush);
    for (const auto& stroke : projection.strokes(frame, 0))
        painter.drawPolyline(stroke.points.data(), static_cast<int>(stroke.points.size()));
    painter.restore();
}

void paintSectionHandle(QPainter& painter, const OverlayScene& scene) {
    if (!scene.section || scene.section->box.isEmpty()) return;
    const Projection projection(scene.view, scene.size);
    const double k = scene.scale;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const auto handle = sectionHandle(*scene.section, projection);
    const auto place = sectionPlace(scene);
    if (!handle || !place) return painter.restore();
    painter.setPen(QPen(scene.palette.accent_edge, (scene.section->hot ? 2.4 : 1.2) * k));
    painter.setBrush(scene.palette.accent);
    painter.drawRoundedRect(*place, place->height() / 2, place->height() / 2);
    // Two arrow heads the way it goes.
    Vec3 middle = scene.section->box.center();
    const auto a = projection.at(middle),
               b = projection.at(middle + 10 * Vec3::Unit(scene.section->cut.axis));
    QPointF way(0, -1);
    if (a && b && std::hypot(b->x() - a->x(), b->y() - a->y()) > 0.08 * 10 * projection.pixelsPerMm(middle))
        way = (*b - *a) / std::hypot(b->x() - a->x(), b->y() - a->y());
    const QPointF across(-way.y(), way.x());
    painter.setPen(Qt::NoPen);
    painter.setBrush(scene.palette.accent_ink);
    for (const double side : {-1.0, 1.0}) {
        const QPointF tip = *handle + way * side * 10 * k, back = *handle + way * side * 3.5 * k;
        const QPointF corners[] = {tip, back + across * 5 * k, back - across * 5 * k};
        painter.drawPolygon(corners, 3);
    }
    painter.setPen(scene.palette.accent_ink);
    painter.setFont(fontOf(scene));
    QRectF words = *place;
    if (handle->x() - place->left() < place->width() / 2) {
        words.setLeft(handle->x() + kSectionHandle_px * k);
    } else {
        words.setRight(handle->x() - kSectionHandle_px * k);
    }
    painter.drawText(words, Qt::AlignCenter, sectionText(scene.section->cut, scene.lengths));
    painter.restore();
}

}  // namespace hoopwright
