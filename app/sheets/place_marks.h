// Numbered badges beside the places they stand for, none over another.
#pragma once

#include <QPointF>
#include <QRectF>
#include <vector>

namespace hoopwright {

inline constexpr double kMarkRadius_mm = 2.6;

struct PlaceMark {
    int number = 0;
    QPointF at;          ///< the place, mm on the paper
    bool filled = true;  ///< hollow: only referred to here
    QPointF badge;       ///< middle of the badge; placeMarks() fills it
};
/// Puts each badge near its place, inside `panel`, clear of the other places, badges and leader lines as far
/// as that goes.
void placeMarks(std::vector<PlaceMark>& marks, const QRectF& panel);

}  // namespace hoopwright
