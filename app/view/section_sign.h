// The plane a picture is cut at: its frame, its handle and what it says.
#pragma once

#include <QPointF>
#include <QRectF>
#include <optional>

#include "app/view/projection.h"
#include "render/look.h"

class QPainter;

namespace hoopwright {

struct OverlayScene;

struct SectionSign {
    SectionCut cut;
    Box box;           ///< what the frame stands round
    bool hot = false;  ///< the pointer is on the handle
};

/// The handle, on the edge of the frame; nothing where it is not in the picture.
std::optional<QPointF> sectionHandle(const SectionSign& sign, const Projection& projection);
/// How far the plane goes for a drag of the handle from one pixel to another: along the axis as it is seen,
/// and where the axis points at the eye, up the picture. 0 where it cannot be told.
double sectionDrag_mm(const SectionSign& sign, const Projection& projection, const QPointF& from,
                      const QPointF& to);
inline constexpr double kSectionHandle_px = 15;

/// "Cut at x = 812 mm"
QString sectionText(const SectionCut& cut, const LengthStyle& style);
/// Where paintSectionHandle() writes; labels keep off.
std::optional<QRectF> sectionPlace(const OverlayScene& scene);
/// The frame lies under what is written in the picture, the handle on top of all.
void paintSectionFrame(QPainter& painter, const OverlayScene& scene);
void paintSectionHandle(QPainter& painter, const OverlayScene& scene);

}  // namespace hoopwright
