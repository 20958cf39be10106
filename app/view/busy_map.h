// How much of a part of the picture is covered by bars: a coarse map with running sums.
#pragma once

#include <QRectF>
#include <vector>

#include "app/view/label_layout.h"

namespace hoopwright {

/// Cells of 8 pixels, each busy or not; any rectangle is answered in constant time.
class BusyMap {
public:
    BusyMap(const QRectF& view, const std::vector<Stroke>& strokes);
    /// Share of the box that lies on busy cells, 0 to 1; what is outside the view counts as free.
    double share(const QRectF& box) const;

private:
    void mark(const Stroke& stroke);
    void markAround(int column, int row, int reach);
    void sumUp();
    int sumAt(int column, int row) const;

    QRectF view_;
    int columns_, rows_;
    std::vector<int> sums_;  // (columns_ + 1) x (rows_ + 1), the first row and column are zero
};

}  // namespace hoopwright
