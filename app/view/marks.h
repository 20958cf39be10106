// The marks of the five answers, told apart by shape as well as by colour; and figures that stand in columns.
#pragma once

#include <QRectF>
#include <QString>
#include <Qt>

#include "app/view/palette.h"

class QPainter;

namespace hoopwright {

/// Meets: a tick in a disc. Fails: a triangle. Ask a person: a diamond. Can't tell: a dashed ring. Does not
/// apply: a dash. Drawn in the largest square in the middle of `box`; the painter's state is kept.
void paintMark(QPainter& painter, const QRectF& box, Answer answer, const Palette& palette);

/// Text in the painter's font with every digit as wide as the widest one, so that columns of numbers line up.
/// Alignment as for QPainter::drawText, one line only.
void drawFigures(QPainter& painter, const QRectF& box, Qt::Alignment alignment, const QString& text);
/// How wide drawFigures() draws it, in the font's own pixels.
double figuresWidth(const QFont& font, const QString& text);

}  // namespace hoopwright
