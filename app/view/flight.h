// Moving a camera: a short smooth flight between two views, and the steps of hand and keys.
#pragma once

#include <QPointF>
#include <QSize>

#include "core/model/cage_geometry.h"
#include "render/view.h"
#include "rules/finding.h"

namespace hoopwright {

/// From one view to another. A flight between a perspective and an orthographic view is flown in perspective.
class Flight {
public:
    Flight(const View& from, const View& to);
    /// t from 0 (the start, as a perspective where the two differ in kind) to 1 (exactly `to`); slow at both
    /// ends.
    View at(double t) const;

private:
    View from_, to_, last_;
};

/// The same view without vanishing points, and back: what is at the target keeps its size in the picture.
View asOrthographic(View view);
View asPerspective(View view);

/// A drag by so many pixels of a picture of that size: half a turn for the picture's height.
View orbitedByPixels(const View& view, const QPointF& by, QSize size);
/// What lies as deep as the target follows the hand.
View pannedByPixels(const View& view, const QPointF& by, QSize size);

/// A view that shows what a finding measured on: near the current direction, but never along a measured line,
/// and rather from a side where the driver does not sit in front of it.
View viewOfFinding(const Finding& finding, const Job& job, const CageGeometry& cage, const View& now,
                   double aspect);
/// Points along a bar, from end to end.
std::vector<Vec3> pointsAlong(const Centreline& line);
/// A view that fills the picture with the box and shows the line well: chosen the same way.
View viewOfLine(const std::vector<Vec3>& line, const Box& box, const Job& job, const View& now,
                double aspect);
/// What a finding's shapes fill; its look_at where it has none.
Box boundsOf(const Finding& finding);
/// How thick its lines are drawn.
double evidenceWidth_mm(const Finding& finding);

}  // namespace hoopwright
