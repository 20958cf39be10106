#include "app/sheets/place_marks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

double distance(const QPointF& a, const QPointF& b) {
    return std::hypot(a.x() - b.x(), a.y() - b.y());
}

double toSegment(const QPointF& p, const QPointF& a, const QPointF& b) {
    const QPointF along = b - a;
    const double square = QPointF::dotProduct(along, along);
    const double t = square > 0 ? std::clamp(QPointF::dotProduct(p - a, along) / square, 0.0, 1.0) : 0;
    return distance(p, a + t * along);
}

/// How bad a spot is: 0 is clear.
double cost(const std::vector<PlaceMark>& marks, std::size_t which, const QPointF& spot, std::size_t placed,
            const QRectF& panel) {
    const PlaceMark& mark = marks[which];
    double out = 0.25 * distance(spot, mark.at);
    if (!panel.contains(spot)) out += 1000;
    const auto crowd = [&](double gap, double wanted, double weight) {
        out += weight * std::max(0.0, wanted - gap);
    };
    for (std::size_t i = 0; i < marks.size(); ++i) {
        if (i == which) continue;
        crowd(distance(spot, marks[i].at), kMarkRadius_mm + 1.6, 40);
        crowd(toSegment(marks[i].at, mark.at, spot), 1.4, 15);
        if (i >= placed) continue;
        crowd(distance(spot, marks[i].badge), 2 * kMarkRadius_mm + 0.7, 60);
        crowd(toSegment(spot, marks[i].at, marks[i].badge), kMarkRadius_mm + 0.5, 25);
        crowd(toSegment(marks[i].badge, mark.at, spot), kMarkRadius_mm + 0.5, 25);
    }
    return out;
}

}  // namespace

void placeMarks(std::vector<PlaceMark>& marks, const QRectF& panel) {
    for (std::size_t i = 0; i < marks.size(); ++i) {
        double best = HUGE_VAL;
        for (const double reach : {6.0, 8.0, 11.0, 15.0, 20.0, 26.0}) {
            for (int turn = 0; turn < 24; ++turn) {
                // Straight up and to the sides first: read like a label.
                const double angle = std::numbers::pi * (0.5 + turn / 12.0);
                const QPointF spot = marks[i].at + reach * QPointF(std::cos(angle), -std::sin(angle));
                const double bad = cost(marks, i, spot, i, panel);
                if (bad < best - 1e-9) {
                    best = bad;
                    marks[i].badge = spot;
                }
            }
        }
    }
}

}  // namespace hoopwright
