#include "app/view/grip_sign.h"

#include <QPainter>
#include <QPainterPath>
#include <cmath>

namespace hoopwright {
namespace {

/// Cosines: of a host that comes straight at the eye, of a plane seen on edge.
constexpr double kEndOn = 0.995, kOnEdge = 0.05;
constexpr double kRadius_px = 5.5, kHotRadius_px = 7.5, kPillHalf_px = 13, kTick_px = 9;

/// The way a bar runs on the screen at a place; level where it comes straight at the eye.
QPointF wayOnScreen(const CageGeometry& cage, const Grip& grip, const Projection& projection) {
    const int at = cage.member(grip.part);
    if (at < 0 || cage.members[static_cast<std::size_t>(at)].line.empty()) return {1, 0};
    const Centreline& line = cage.members[static_cast<std::size_t>(at)].line;
    const Vec3 along = line.tangent(line.nearestStation(grip.at));
    const auto from = projection.at(grip.at - 20 * along), to = projection.at(grip.at + 20 * along);
    if (!from || !to) return {1, 0};
    const QPointF way = *to - *from;
    const double length = std::hypot(way.x(), way.y());
    return length < 1 ? QPointF(1, 0) : way / length;
}

/// A disc; the whole of a bar is a pill along it, a hoop that leans a ring, a plate a square.
QPainterPath shapeOf(const Grip& grip, double radius, const QPointF& at, const QPointF& way) {
    QPainterPath path;
    if (grip.kind == Grip::Kind::bar) {
        QPainterPath line;
        line.moveTo(at - way * kPillHalf_px * radius / kRadius_px);
        line.lineTo(at + way * kPillHalf_px * radius / kRadius_px);
        QPainterPathStroker stroker(QPen(Qt::black, 1.5 * radius, Qt::SolidLine, Qt::RoundCap));
        return stroker.createStroke(line);
    }
    if (grip.kind == Grip::Kind::plate) {
        path.addRect(QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius));
        return path;
    }
    path.addEllipse(at, radius, radius);
    if (grip.kind == Grip::Kind::lean || grip.kind == Grip::Kind::node)
        path.addEllipse(at, radius * 0.45, radius * 0.45);
    return path;
}

void paintEnd(QPainter& painter, const Projection& projection, const Vec3& at, const Vec3& inward,
              const QString& why, const OverlayScene& scene) {
    const auto end = projection.at(at), next = projection.at(inward);
    if (!end || !next) return;
    QPointF way = *next - *end;
    const double length = std::hypot(way.x(), way.y());
    if (length > 0.1) {
        way /= length;
        const QPointF across = QPointF(-way.y(), way.x()) * kTick_px * scene.scale;
        painter.setPen(QPen(why.isEmpty() ? scene.palette.meets : scene.palette.fails, 3 * scene.scale,
                            Qt::SolidLine, Qt::RoundCap));
        painter.drawLine(*end - across, *end + across);
    }
    if (why.isEmpty()) return;
    const LabelBlock block = noteBlock({}, why, scene.palette.fails, scene.palette, scene.scale);
    QRectF box(*end + QPointF(14, -block.size.height() / 2), block.size);
    if (box.right() > scene.size.width() - 4) box.moveRight(end->x() - 14);
    box.moveTop(std::clamp(box.top(), 4.0, std::max(4.0, scene.size.height() - box.height() - 4)));
    paintBlock(painter, block, box.topLeft(), scene.palette);
}

LabelBlock pullBlock(const PullSign& pull, const OverlayScene& scene) {
    if (!pull.refused.isEmpty())
        return noteBlock(pull.number, pull.refused, scene.palette.fails, scene.palette, scene.scale);
    return nameBlock(pull.number, pull.why, pull.why.isEmpty() ? QColor() : scene.palette.accent,
                     scene.palette, scene.scale);
}

}  // namespace

QRectF pullPlace(const PullSign& pull, const std::vector<Grip>& grips, const OverlayScene& scene) {
    if (pull.grip < 0 || static_cast<std::size_t>(pull.grip) >= grips.size()) return {};
    const auto at = Projection(scene.view, scene.size).at(grips[static_cast<std::size_t>(pull.grip)].at);
    if (!at) return {};
    const QSizeF size = pullBlock(pull, scene).size;
    QRectF box(*at + QPointF(18 * scene.scale, -size.height() - 14 * scene.scale), size);
    if (box.right() > scene.size.width() - 4) box.moveRight(at->x() - 18 * scene.scale);
    if (box.top() < 4) box.moveTop(at->y() + 18 * scene.scale);
    return box;
}

std::optional<QPointF> gripPlace(const Grip& grip, const CageGeometry& cage, const Projection& projection) {
    const auto at = projection.at(grip.at);
    if (!at) return std::nullopt;
    const Vec3 way = projection.ray(*at).second;
    if (grip.kind == Grip::Kind::landing || grip.kind == Grip::Kind::node) {
        const int host = cage.member(grip.host);
        if (host < 0) return std::nullopt;
        const Centreline& line = cage.members[static_cast<std::size_t>(host)].line;
        const double along = std::abs(line.tangent(line.nearestStation(grip.at)).dot(way));
        return along < kEndOn ? at : std::nullopt;
    }
    return std::abs(grip.normal.dot(way)) > kOnEdge ? at : std::nullopt;
}

int gripAt(const std::vector<Grip>& grips, const CageGeometry& cage, const Projection& projection,
           const QPointF& position) {
    int best = -1;
    double least = kGripReach_px;
    for (std::size_t i = 0; i < grips.size(); ++i) {
        const auto at = gripPlace(grips[i], cage, projection);
        if (!at) continue;
        const double away = std::hypot(at->x() - position.x(), at->y() - position.y());
        if (away >= least) continue;
        least = away;
        best = static_cast<int>(i);
    }
    return best;
}

void paintGrips(QPainter& painter, const std::vector<Grip>& grips, int hot, const CageGeometry& cage,
                const OverlayScene& scene) {
    const Projection projection(scene.view, scene.size);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    for (std::size_t i = 0; i < grips.size(); ++i) {
        const bool is_hot = static_cast<int>(i) == hot;
        const auto at = is_hot ? projection.at(grips[i].at) : gripPlace(grips[i], cage, projection);
        if (!at) continue;
        const double radius = (is_hot ? kHotRadius_px : kRadius_px) * scene.scale;
        const QPainterPath shape = shapeOf(grips[i], radius, *at, wayOnScreen(cage, grips[i], projection));
        painter.setPen(QPen(is_hot ? scene.palette.accent_ink : scene.palette.ink, 1.6 * scene.scale));
        painter.setBrush(is_hot ? scene.palette.accent : scene.palette.card);
        painter.drawPath(shape);
    }
    painter.restore();
}

void paintPull(QPainter& painter, const PullSign& pull, const std::vector<Grip>& grips,
               const OverlayScene& scene) {
    const Projection projection(scene.view, scene.size);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    QPolygonF track;
    for (const Vec3& place : pull.track)
        if (const auto at = projection.at(place)) track << *at;
    if (track.size() > 1) {
        QColor meets = scene.palette.meets;
        meets.setAlpha(150);
        painter.setPen(QPen(meets, 7 * scene.scale, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        painter.setBrush(Qt::NoBrush);
        painter.drawPolyline(track);
        const std::size_t last = pull.track.size() - 1;
        paintEnd(painter, projection, pull.low, pull.track[1], pull.low_why, scene);
        paintEnd(painter, projection, pull.high, pull.track[last - 1], pull.high_why, scene);
    }
    const QRectF place = pullPlace(pull, grips, scene);
    if (!place.isEmpty()) paintBlock(painter, pullBlock(pull, scene), place.topLeft(), scene.palette);
    painter.restore();
}

}  // namespace hoopwright
