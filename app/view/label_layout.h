// Where the labels of a picture stand. Plain geometry in logical pixels, origin top left, y down; no widgets,
// no painter.
#pragma once

#include <QPointF>
#include <QRectF>
#include <QSizeF>
#include <optional>
#include <vector>

namespace hoopwright {

/// The picture of a bar or a line: a polyline and half its width.
struct Stroke {
    std::vector<QPointF> points;
    double half_width = 0;
};

/// A label that wants a place.
struct LabelWish {
    QPointF anchor;  ///< what it points at
    QSizeF size;
    int rank = 0;                   ///< lower numbers choose first
    std::vector<Stroke> things;     ///< what it names: never covered
    std::vector<Stroke> spared;     ///< covered only where all else is worse
    std::optional<QPointF> before;  ///< middle of the box from the anchor in the picture before this one
};

struct LabelRoom {
    QRectF view;                ///< boxes stay inside
    std::vector<QRectF> taken;  ///< and off these
    std::vector<Stroke> busy;   ///< better not covered
    QPointF middle;             ///< labels rather stand on the far side of their anchor from here
    double gap = 4;             ///< between two boxes, and between a box and the thing it names
    bool hold =
        false;  ///< while things move: a box that may stay where it was from its anchor stays, unasked
};

struct LabelPlace {
    bool shown = false;  ///< false: there is no place for it
    QRectF box;
    QPointF touch;  ///< where the leader from the anchor meets the box
};

/// One place for each wish. Properties, each a test of that name:
///  (1) ShownBoxesNeverOverlap, not even within the gap
///  (2) ABoxNeverCoversTheThingItNames
///  (3) BoxesStayInsideTheRoomAndOffWhatIsTaken
///  (4) TheSameWishesGiveTheSamePlaces
///  (5) BoxesTravelWithTheirAnchors: with `before` of the last layout, offsets stay while (1) to (3) allow it
/// A wish whose anchor lies outside the room, or that finds no place, is not shown. Cost about (labels)^2: 40
/// in < 5 ms.
std::vector<LabelPlace> layOutLabels(const std::vector<LabelWish>& wishes, const LabelRoom& room);

/// Does the stroke come within `gap` of the box?
bool comesNear(const Stroke& stroke, const QRectF& box, double gap);

}  // namespace hoopwright
