// Grips over the picture: where a bar can be taken hold of, and what is told while it is pulled.
#pragma once

#include <QPointF>
#include <QString>
#include <optional>
#include <vector>

#include "app/view/overlay.h"
#include "core/edit/grip.h"

namespace hoopwright {

/// What is told while a grip is in hand. Positions in car axes.
struct PullSign {
    int grip = -1;            ///< index into the grips shown
    QString number, why;      ///< "height 812.4 mm"; "level": what it snapped to, or empty
    QString refused;          ///< why it does not go there, or empty
    std::vector<Vec3> track;  ///< the stretch in which nothing gets worse; empty: not known, or none
    Vec3 low = Vec3::Zero(), high = Vec3::Zero();
    QString low_why, high_why;  ///< what is wrong beyond its ends; empty: nothing is
};

/// Nearer than this to its middle a grip is under the pointer, in logical pixels.
inline constexpr double kGripReach_px = 9;
/// Where a grip is seen; nothing where it could not be seen to move: a plane on edge, a host that comes at
/// the eye.
std::optional<QPointF> gripPlace(const Grip& grip, const CageGeometry& cage, const Projection& projection);
/// Index of the grip under the pointer, nearest first, of two in one place the first; -1: none.
int gripAt(const std::vector<Grip>& grips, const CageGeometry& cage, const Projection& projection,
           const QPointF& position);

/// @param hot  under the pointer; -1: none
void paintGrips(QPainter& painter, const std::vector<Grip>& grips, int hot, const CageGeometry& cage,
                const OverlayScene& scene);
/// Where the number and its reason stand; empty: nowhere.
QRectF pullPlace(const PullSign& pull, const std::vector<Grip>& grips, const OverlayScene& scene);
void paintPull(QPainter& painter, const PullSign& pull, const std::vector<Grip>& grips,
               const OverlayScene& scene);

}  // namespace hoopwright
