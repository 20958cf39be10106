#include "app/view/busy_map.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace hoopwright {
namespace {

constexpr double kCell = 8;

int cellsIn(double length) {
    return std::clamp(static_cast<int>(std::ceil(length / kCell)), 1, 4096);
}

/// The part of a line inside a box, by clipping its parameter to each pair of sides (Liang and Barsky's
/// method).
std::optional<std::pair<QPointF, QPointF>> partInside(const QPointF& from, const QPointF& to,
                                                      const QRectF& box) {
    double first = 0, last = 1;
    const QPointF way = to - from;
    const auto clip = [&](double start, double step, double low, double high) {
        if (step == 0) return start >= low && start <= high;
        const double a = (low - start) / step, b = (high - start) / step;
        first = std::max(first, std::min(a, b));
        last = std::min(last, std::max(a, b));
        return first <= last;
    };
    if (!clip(from.x(), way.x(), box.left(), box.right())) return std::nullopt;
    if (!clip(from.y(), way.y(), box.top(), box.bottom())) return std::nullopt;
    return std::pair(from + way * first, from + way * last);
}

}  // namespace

BusyMap::BusyMap(const QRectF& view, const std::vector<Stroke>& strokes)
    : view_(view),
      columns_(cellsIn(view.width())),
      rows_(cellsIn(view.height())),
      sums_(static_cast<std::size_t>((columns_ + 1) * (rows_ + 1)), 0) {
    for (const auto& stroke : strokes) mark(stroke);
    sumUp();
}

void BusyMap::mark(const Stroke& stroke) {
    const double half = std::clamp(stroke.half_width, 0.0, 64 * kCell);
    const QRectF seen = view_.adjusted(-half, -half, half, half);
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i) {
        const auto part = partInside(stroke.points[i], stroke.points[i + 1], seen);
        if (!part) continue;
        const QPointF from = part->first - view_.topLeft(), way = part->second - part->first;
        // A step of half a cell leaves no hole.
        const int steps = static_cast<int>(std::hypot(way.x(), way.y()) / (kCell / 2)) + 1;
        const int reach = static_cast<int>(half / kCell);
        for (int s = 0; s <= steps; ++s) {
            const QPointF p = from + way * (static_cast<double>(s) / steps);
            markAround(static_cast<int>(std::floor(p.x() / kCell)),
                       static_cast<int>(std::floor(p.y() / kCell)), reach);
        }
    }
}

void BusyMap::markAround(int column, int row, int reach) {
    for (int r = std::max(0, row - reach); r <= std::min(rows_ - 1, row + reach); ++r)
        for (int c = std::max(0, column - reach); c <= std::min(columns_ - 1, column + reach); ++c)
            sums_[static_cast<std::size_t>((r + 1) * (columns_ + 1) + c + 1)] = 1;
}

void BusyMap::sumUp() {
    const auto at = [&](int column, int row) -> int& {
        return sums_[static_cast<std::size_t>(row * (columns_ + 1) + column)];
    };
    for (int row = 1; row <= rows_; ++row)
        for (int column = 1; column <= columns_; ++column)
            at(column, row) += at(column - 1, row) + at(column, row - 1) - at(column - 1, row - 1);
}

int BusyMap::sumAt(int column, int row) const {
    return sums_[static_cast<std::size_t>(std::clamp(row, 0, rows_) * (columns_ + 1) +
                                          std::clamp(column, 0, columns_))];
}

double BusyMap::share(const QRectF& box) const {
    const int left = static_cast<int>(std::floor((box.left() - view_.left()) / kCell));
    const int right = static_cast<int>(std::ceil((box.right() - view_.left()) / kCell));
    const int top = static_cast<int>(std::floor((box.top() - view_.top()) / kCell));
    const int bottom = static_cast<int>(std::ceil((box.bottom() - view_.top()) / kCell));
    const int busy = sumAt(right, bottom) - sumAt(left, bottom) - sumAt(right, top) + sumAt(left, top);
    return static_cast<double>(busy) / std::max(1, (right - left) * (bottom - top));
}

}  // namespace hoopwright
