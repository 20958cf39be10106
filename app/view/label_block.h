// A label or a card: a few runs of text on a piece of paper, measured once, painted anywhere.
#pragma once

#include <QColor>
#include <QFont>
#include <QPointF>
#include <QRectF>
#include <QSizeF>
#include <QString>
#include <optional>
#include <vector>

#include "app/view/palette.h"
#include "core/units/measure.h"

class QPainter;

namespace hoopwright {

struct LabelBlock {
    struct Run {
        QPointF baseline;  ///< from the block's top left corner
        QString text;
        QFont font;
        QColor colour;
    };
    QSizeF size;
    std::vector<Run> runs;
    std::vector<std::pair<QRectF, QColor>> chips;  ///< small solid bars of colour
    std::optional<std::pair<QRectF, Answer>> mark;
    QColor edge;  ///< not valid: a hairline
    double edge_width = 1;
    double corner = 5;
};

/// A name with its second text, and a chip of the bar's colour where that is valid.
LabelBlock nameBlock(const QString& text, const QString& sub_text, const QColor& chip, const Palette& palette,
                     double scale);
/// A sentence, broken so that it is no wider than `widest` before scale; under a head where that is not
/// empty.
LabelBlock noteBlock(const QString& head, const QString& sentence, const QColor& chip, const Palette& palette,
                     double scale, double widest = 300);
/// A measurement at its line.
LabelBlock measureBlock(const QString& text, const Palette& palette, double scale);
/// A finding: mark, title, outcome, margin, clause, way out; at most `widest` wide before scale.
LabelBlock findingBlock(const Finding& finding, const LengthStyle& style, const Palette& palette,
                        double scale, double widest = 300);

/// A chip that would hardly show on the paper (less than 3 : 1, WCAG 2.2, 1.4.11) wears a ring that does.
void paintBlock(QPainter& painter, const LabelBlock& block, const QPointF& top_left, const Palette& palette);

}  // namespace hoopwright
