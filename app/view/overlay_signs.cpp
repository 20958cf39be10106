#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <QRadialGradient>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "app/view/gap_legend.h"
#include "app/view/overlay.h"
#include "core/base/text.h"
#include "core/units/inch.h"

namespace hoopwright {
namespace {

constexpr double kAxesSide = 96, kAxesWide = 150, kBarWidest = 170, kBarHeight = 34, kSide = 12;

struct Axis {
    Vec3 way;
    QColor colour;
    QString word;
};

std::array<Axis, 3> axesOf(const Palette& palette) {
    const bool dark = palette.tone == Tone::dark;
    return {{{Vec3::UnitX(), dark ? QColor(0xF0, 0x86, 0x74) : QColor(0xA8, 0x3A, 0x2C),
              QStringLiteral("X front")},
             {Vec3::UnitY(), dark ? QColor(0x78, 0xC4, 0x8A) : QColor(0x2C, 0x75, 0x40),
              QStringLiteral("Y left")},
             {Vec3::UnitZ(), dark ? QColor(0x86, 0xAE, 0xEE) : QColor(0x2B, 0x55, 0xA6),
              QStringLiteral("Z up")}}};
}

QRectF axesPlace(const OverlayScene& scene) {
    const double k = scene.scale, side = kAxesSide * k;
    return {kSide * k, scene.size.height() - side - kSide * k, kAxesWide * k, side};
}

QRectF scaleBarPlace(const OverlayScene& scene) {
    const double k = scene.scale, width = (kBarWidest + 20) * k, height = kBarHeight * k;
    return {scene.size.width() - width - kSide * k, scene.size.height() - height - kSide * k, width, height};
}

QFont promptFont(const OverlayScene& scene) {
    return typeFont(TypeSize::body, TypeWeight::strong, scene.scale);
}

/// The words stand on a halo, so that they read on steel and on sky.
void haloText(QPainter& painter, const QPointF& baseline, const QString& text, const QColor& colour,
              const Palette& palette) {
    QPainterPath path;
    path.addText(baseline, painter.font(), text);
    QColor halo = palette.card;
    halo.setAlpha(190);
    painter.strokePath(
        path, QPen(halo, painter.font().pixelSize() * 0.22, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.fillPath(path, colour);
}

QString barWords(double length_mm, LengthUnit unit) {
    if (unit == LengthUnit::mm)
        return QString::fromStdString(length_mm < 1000 ? shortest(length_mm) + " mm"
                                                       : shortest(length_mm / 1000) + " m");
    const double inches = std::round(length_mm / kInch_mm * 16) / 16;
    return QString::fromStdString(inches < 12 ? shortest(inches) + " in" : shortest(inches / 12) + " ft");
}

/// A closed outline of the band's plane as it is seen; nothing where part of it is behind the eye.
std::optional<QPolygonF> onScreen(const Projection& projection, const std::vector<Vec3>& outline) {
    QPolygonF shown;
    for (const Vec3& point : outline) {
        const auto pixel = projection.at(point);
        if (!pixel) return std::nullopt;
        shown << *pixel;
    }
    return shown;
}

}  // namespace

BandSign bandSign(const BeltBand& band, const Driver& driver) {
    return {driver.shoulders().y(), band.outlines, band.bar_at, band.bar_radius_mm, band.allowed_now};
}

std::optional<ViewLabel> bandLabel(const BandSign& band) {
    if (band.outlines.empty()) return std::nullopt;
    const auto& largest = *std::ranges::max_element(band.outlines, {}, &std::vector<Vec2>::size);
    Vec2 middle = Vec2::Zero();
    for (const Vec2& corner : largest) middle += corner / static_cast<double>(largest.size());
    ViewLabel label;
    label.at = {middle.x(), band.y_mm, middle.y()};
    label.text = QStringLiteral("Belt bar may be here");
    label.even_hidden = true;
    return label;
}

void paintBand(QPainter& painter, const OverlayScene& scene) {
    if (!scene.band) return;
    constexpr int kRingParts = 48;
    const BandSign& band = *scene.band;
    const Projection projection(scene.view, scene.size);
    const QColor allowed = scene.palette.meets, bar = band.allowed ? allowed : scene.palette.fails;
    QColor inside = allowed;
    inside.setAlpha(70);
    painter.setPen(QPen(allowed, 1.6 * scene.scale, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.setBrush(inside);
    for (const auto& outline : band.outlines) {
        std::vector<Vec3> corners;
        for (const Vec2& p : outline) corners.emplace_back(p.x(), band.y_mm, p.y());
        if (const auto shown = onScreen(projection, corners)) painter.drawPolygon(*shown);
    }
    std::vector<Vec3> ring;
    for (int i = 0; i < kRingParts; ++i) {
        const double angle = 2 * std::numbers::pi * i / kRingParts;
        ring.emplace_back(band.bar_at.x() + band.bar_radius_mm * std::cos(angle), band.y_mm,
                          band.bar_at.y() + band.bar_radius_mm * std::sin(angle));
    }
    const auto shown = onScreen(projection, ring);
    const auto middle = projection.at({band.bar_at.x(), band.y_mm, band.bar_at.y()});
    if (!shown || !middle) return;
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(scene.palette.card, 4 * scene.scale));
    painter.drawPolygon(*shown);
    painter.setPen(QPen(bar, 2 * scene.scale));
    painter.drawPolygon(*shown);
    const double arm = 5 * scene.scale;
    painter.drawLine(*middle - QPointF(arm, 0), *middle + QPointF(arm, 0));
    painter.drawLine(*middle - QPointF(0, arm), *middle + QPointF(0, arm));
}

double scaleBarLength_mm(double pixels_per_mm, double widest_px, LengthUnit unit) {
    const double most_mm = widest_px / std::max(pixels_per_mm, 1e-12);
    if (unit == LengthUnit::in) {
        double best = kInch_mm / 16;
        for (const double inches :
             {0.125, 0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 36.0, 60.0, 120.0, 240.0, 600.0})
            if (inches * kInch_mm <= most_mm) best = inches * kInch_mm;
        return best;
    }
    const double decade = std::pow(10, std::floor(std::log10(most_mm)));
    for (const double step : {5.0, 2.0})
        if (step * decade <= most_mm) return step * decade;
    return decade;
}

QRectF promptPlace(const OverlayScene& scene) {
    if (scene.prompt.isEmpty()) return {};
    const double k = scene.scale, gap = 8 * k;
    double left = kSide * k, right = scene.size.width() - kSide * k;
    if (scene.axes) left = axesPlace(scene).right() + gap;
    const auto leftOf = [&](const QRectF& place) {
        if (place.left() > scene.size.width() / 2.0) right = std::min(right, place.left() - gap);
    };
    if (scene.view.orthographic_height_mm > 0) leftOf(scaleBarPlace(scene));
    if (scene.gaps) leftOf(gapLegendPlace(scene));
    if (scene.groups) leftOf(groupLegendPlace(scene));
    const QRectF words = QFontMetricsF(promptFont(scene))
                             .boundingRect(QRectF(0, 0, std::max(right - left - 32 * k, 160 * k), 1e4),
                                           Qt::AlignCenter | Qt::TextWordWrap, scene.prompt);
    const double width = std::ceil(words.width()) + 32 * k, height = std::ceil(words.height()) + 14 * k;
    // In the middle of the picture, but for what stands at its foot already.
    const double from = std::clamp((scene.size.width() - width) / 2, left, std::max(left, right - width));
    return {from, scene.size.height() - height - kSide * k, width, height};
}

std::vector<QRectF> signPlaces(const OverlayScene& scene) {
    std::vector<QRectF> places;
    if (scene.axes) places.push_back(axesPlace(scene));
    if (scene.view.orthographic_height_mm > 0) places.push_back(scaleBarPlace(scene));
    if (scene.gaps) places.push_back(gapLegendPlace(scene));
    if (scene.groups) places.push_back(groupLegendPlace(scene));
    if (const auto place = sectionPlace(scene)) places.push_back(*place);
    if (!scene.prompt.isEmpty()) places.push_back(promptPlace(scene));
    return places;
}

void paintAxes(QPainter& painter, const OverlayScene& scene) {
    if (!scene.axes) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setFont(typeFont(TypeSize::small, TypeWeight::medium, scene.scale));
    const QFontMetricsF metrics(painter.font());
    const QRectF place = axesPlace(scene);
    const QPointF origin = place.center();
    // Where the car reaches into the corner the cross stands in a haze, not among its lines.
    QRadialGradient haze(QPointF(0, 0), 1);
    QColor near_by = scene.palette.card, far_off = scene.palette.card;
    near_by.setAlpha(120);
    far_off.setAlpha(0);
    haze.setColorAt(0.3, near_by);
    haze.setColorAt(1, far_off);
    painter.save();
    painter.translate(origin);
    painter.scale(0.5 * place.width(), 0.5 * place.height());
    painter.fillRect(QRectF(-1, -1, 2, 2), haze);
    painter.restore();
    const Vec3 forward = scene.view.forward();
    const Vec3 right =
                   forward.cross(scene.view.isUpright() ? Vec3(Vec3::UnitZ()) : scene.view.up).normalized(),
               up = right.cross(forward);
    auto axes = axesOf(scene.palette);
    // Farthest first, so that the arrow towards the eye lies on top.
    std::sort(axes.begin(), axes.end(),
              [&](const Axis& a, const Axis& b) { return a.way.dot(forward) > b.way.dot(forward); });
    for (const auto& axis : axes) {
        const QPointF way(axis.way.dot(right), -axis.way.dot(up));
        const double seen = std::hypot(way.x(), way.y()), length = 26 * scene.scale;
        const QPointF tip = origin + way * length;
        painter.setPen(QPen(axis.colour, 2.4 * scene.scale, Qt::SolidLine, Qt::RoundCap));
        painter.drawLine(origin, tip);
        if (seen < 0.25) continue;  // it points at the eye: its word would sit on the others
        const QPointF middle = tip + way / seen * 9 * scene.scale;
        const double width = metrics.horizontalAdvance(axis.word);
        const double x = middle.x() - width * 0.5 * (1 - way.x() / seen);
        haloText(painter, {x, middle.y() + metrics.capHeight() / 2}, axis.word, axis.colour, scene.palette);
    }
    painter.restore();
}

void paintScaleBar(QPainter& painter, const OverlayScene& scene) {
    if (scene.view.orthographic_height_mm <= 0) return;
    const double k = scene.scale, per_mm = scene.size.height() / scene.view.orthographic_height_mm;
    const double length_mm = scaleBarLength_mm(per_mm, kBarWidest * k, scene.lengths.unit),
                 width = length_mm * per_mm;
    const QRectF place = scaleBarPlace(scene);
    const double right = place.right() - 8 * k, left = right - width, y = place.bottom() - 8 * k;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    // Four fields of a tape, every other one filled.
    painter.setPen(QPen(scene.palette.ink, k));
    for (int field = 0; field < 4; ++field) {
        painter.setBrush(field % 2 ? scene.palette.accent : scene.palette.ink);
        painter.drawRect(QRectF(left + width * field / 4, y - 5 * k, width / 4, 5 * k));
    }
    painter.setFont(typeFont(TypeSize::small, TypeWeight::medium, k));
    const QString text = barWords(length_mm, scene.lengths.unit);
    const double text_width = QFontMetricsF(painter.font()).horizontalAdvance(text);
    haloText(painter, {right - text_width, y - 9 * k}, text, scene.palette.ink, scene.palette);
    painter.restore();
}

void paintPrompt(QPainter& painter, const OverlayScene& scene) {
    if (scene.prompt.isEmpty()) return;
    const QRectF place = promptPlace(scene);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(scene.palette.accent_edge, scene.scale));
    painter.setBrush(scene.palette.accent);
    painter.drawRoundedRect(place, 6 * scene.scale, 6 * scene.scale);
    painter.setPen(scene.palette.accent_ink);
    painter.setFont(promptFont(scene));
    const double side = 15 * scene.scale;
    painter.drawText(place.adjusted(side, 0, -side, 0), Qt::AlignCenter | Qt::TextWordWrap, scene.prompt);
    painter.restore();
}

void paintHover(QPainter& painter, const HoverSign& sign, const OverlayScene& scene) {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    QColor light = scene.palette.accent;
    light.setAlpha(110);
    for (const auto& stroke : sign.outline) {
        painter.setPen(
            QPen(light, std::max(4.0, 2 * stroke.half_width + 3), Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin));
        painter.setBrush(Qt::NoBrush);
        painter.drawPolyline(stroke.points.data(), static_cast<int>(stroke.points.size()));
    }
    if (!sign.text.isEmpty()) {
        const LabelBlock block = nameBlock(sign.text, {}, {}, scene.palette, scene.scale);
        QRectF box(sign.pointer + QPointF(14, 18) * scene.scale, block.size);
        if (box.right() > scene.size.width()) box.moveRight(sign.pointer.x() - 8 * scene.scale);
        if (box.bottom() > scene.size.height()) box.moveBottom(sign.pointer.y() - 8 * scene.scale);
        paintBlock(painter, block, box.topLeft(), scene.palette);
    }
    painter.restore();
}

}  // namespace hoopwright
