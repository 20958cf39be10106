#include "app/view/dimension_sign.h"

#include <QPainter>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/view/overlay.h"

namespace hoopwright {
namespace {

using Kind = PinnedDimension::Kind;
constexpr double kArrow = 11, kArrowHalf = 3.2, kOutside = 22, kFoot = 16;

/// Legs and arc of an angle in space.
struct Arc {
    Vec3 apex, leg_a, leg_b;  // legs: unit, as they open
    double radius_mm = 0, opening_rad = 0;
    Vec3 at(double share) const {
        const Vec3 across = leg_b - leg_b.dot(leg_a) * leg_a;
        const Vec3 up = across.norm() < 1e-12 ? leg_a.unitOrthogonal() : Vec3(across.normalized());
        const double angle = share * opening_rad;
        return apex + radius_mm * (std::cos(angle) * leg_a + std::sin(angle) * up);
    }
};

std::optional<Arc> arcOf(const DimensionSign& sign) {
    const MeasuredDimension& read = sign.read;
    Vec3 a = read.from - read.apex, b = read.to - read.apex;
    const double reach = std::max(a.norm(), b.norm());
    if (reach < 1e-6) return std::nullopt;
    Arc arc{read.apex, a.normalized(), b.normalized(), 0, read.value};
    if (a.norm() < 1e-3 * reach) arc.leg_a = arc.leg_b.unitOrthogonal();
    if (b.norm() < 1e-3 * reach) arc.leg_b = arc.leg_a.unitOrthogonal();
    const double least =
        std::min(a.norm() < 1e-3 * reach ? reach : a.norm(), b.norm() < 1e-3 * reach ? reach : b.norm());
    arc.radius_mm = std::clamp(0.6 * least, 30.0, 260.0);
    return arc;
}

std::vector<Vec3> arcPoints(const Arc& arc) {
    constexpr int kParts = 24;
    std::vector<Vec3> points;
    for (int i = 0; i <= kParts; ++i) points.push_back(arc.at(static_cast<double>(i) / kParts));
    return points;
}

std::vector<std::vector<Vec3>> linesIn3d(const DimensionSign& sign) {
    const MeasuredDimension& read = sign.read;
    if (sign.kind != Kind::angle) return {{read.from, read.to}};
    const auto arc = arcOf(sign);
    if (!arc) return {};
    return {{read.apex, read.from}, {read.apex, read.to}, arcPoints(*arc)};
}

std::optional<std::vector<QPointF>> seen(const std::vector<Vec3>& points, const Projection& projection) {
    std::vector<QPointF> line;
    for (const Vec3& point : points) {
        const auto pixel = projection.at(point);
        if (!pixel) return std::nullopt;
        line.push_back(*pixel);
    }
    return line;
}

QPointF unit(const QPointF& v) {
    const double length = std::hypot(v.x(), v.y());
    return length < 1e-9 ? QPointF(1, 0) : v / length;
}

void arrowHead(QPainter& painter, const QPointF& tip, const QPointF& way, double scale) {
    const QPointF back = tip - way * kArrow * scale,
                  side(-way.y() * kArrowHalf * scale, way.x() * kArrowHalf * scale);
    const QPointF corners[] = {tip, back + side, back - side};
    painter.drawPolygon(corners, 3);
}

/// The ink of a sign: first broad and pale, so that it reads on steel and on sky, then thin.
struct Pen {
    QColor colour;
    double width;
};

void strokeSign(QPainter& painter, const DimensionSign& sign, const OverlayScene& scene, const Pen& pen,
                bool heads) {
    const Projection projection(scene.view, scene.size);
    const double k = scene.scale;
    painter.setPen(QPen(pen.colour, pen.width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(heads ? QBrush(pen.colour) : QBrush(Qt::NoBrush));
    if (sign.kind == Kind::angle) {
        const auto arc = arcOf(sign);
        if (!arc) return;
        for (const Vec3& to : {sign.read.from, sign.read.to})
            if (const auto leg = seen({sign.read.apex, to}, projection))
                painter.drawLine((*leg)[0], (*leg)[1]);
        const auto curve = seen(arcPoints(*arc), projection);
        if (!curve) return;
        painter.setBrush(Qt::NoBrush);
        painter.drawPolyline(curve->data(), static_cast<int>(curve->size()));
        if (!heads) return;
        painter.setBrush(pen.colour);
        painter.setPen(Qt::NoPen);
        const std::size_t n = curve->size();
        arrowHead(painter, curve->front(), unit(curve->front() - (*curve)[2]), k);
        arrowHead(painter, curve->back(), unit(curve->back() - (*curve)[n - 3]), k);
        return;
    }
    const auto line = seen({sign.read.from, sign.read.to}, projection);
    if (!line) return;
    const QPointF a = (*line)[0], b = (*line)[1], way = unit(b - a);
    const double length = std::hypot(b.x() - a.x(), b.y() - a.y());
    const bool inside = length > 2.6 * kArrow * k;
    painter.drawLine(a, b);
    if (!inside) {
        painter.drawLine(a, a - way * kOutside * k);
        painter.drawLine(b, b + way * kOutside * k);
    }
    // Ends: a short line across; a height stands on its datum, seen level.
    const QPointF across(-way.y(), way.x());
    const double half = 5 * k;
    painter.drawLine(a - across * half, a + across * half);
    if (sign.kind == Kind::height) {
        painter.drawLine(b - across * kFoot * k, b + across * kFoot * k);
        for (int i = -1; i <= 1; ++i) {
            const QPointF from = b + across * (i * 10.0 * k);
            painter.drawLine(from, from + way * 6 * k - across * 6 * k);
        }
    } else {
        painter.drawLine(b - across * half, b + across * half);
    }
    if (!heads || length < 1e-6) return;
    painter.setPen(Qt::NoPen);
    arrowHead(painter, a, inside ? -way : way, k);
    arrowHead(painter, b, inside ? way : -way, k);
}

}  // namespace

std::vector<DimensionSign> dimensionSigns(const Job& job, const CageGeometry& now,
                                          const std::string& chosen) {
    std::vector<DimensionSign> signs;
    for (const PinnedDimension& pinned : job.cage.dimensions) {
        DimensionSign sign{pinned.id, QString::fromStdString(pinned.name), pinned.kind,
                           measureDimension(job, now, pinned), pinned.id == chosen};
        if (sign.read) signs.push_back(std::move(sign));
    }
    return signs;
}

QString dimensionText(const MeasuredDimension& read, const LengthStyle& style) {
    return QString::fromStdString(read.dimension == Dimension::angle ? showAngle(read.value)
                                                                     : showLength(read.value, style));
}

Vec3 dimensionMiddle(const DimensionSign& sign) {
    if (sign.kind == Kind::angle)
        if (const auto arc = arcOf(sign)) return arc->at(0.5);
    return 0.5 * (sign.read.from + sign.read.to);
}

std::vector<std::vector<QPointF>> dimensionLines(const DimensionSign& sign, const OverlayScene& scene) {
    const Projection projection(scene.view, scene.size);
    std::vector<std::vector<QPointF>> lines;
    for (const auto& points : linesIn3d(sign))
        if (auto line = seen(points, projection)) lines.push_back(std::move(*line));
    return lines;
}

bool isDrawn(const DimensionSign& sign, const OverlayScene& scene) {
    if (!scene.section) return true;
    return scene.section->cut.keeps(sign.read.from) || scene.section->cut.keeps(sign.read.to);
}

void paintDimensions(QPainter& painter, const OverlayScene& scene) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    QColor halo = scene.palette.card;
    halo.setAlpha(205);
    for (const DimensionSign& sign : scene.dimensions) {
        if (!isDrawn(sign, scene)) continue;
        const double k = scene.scale * (sign.chosen ? 1.5 : 1);
        const QColor ink = sign.chosen ? scene.palette.accent_edge : scene.palette.action;
        strokeSign(painter, sign, scene, {halo, 4.6 * k}, false);
        strokeSign(painter, sign, scene, {ink, 1.5 * k}, true);
    }
    painter.restore();
}

}  // namespace hoopwright
