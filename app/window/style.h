// The window's clothes: one style sheet and one Qt palette from the set of colours.
#pragma once

#include <QPalette>
#include <QString>

#include "app/view/palette.h"

class QSize;
class QStyle;
class QWidget;

namespace hoopwright {

/// Everything stands on a grid of 8 logical pixels.
inline constexpr int kGrid = 8;

QString styleSheetOf(const Palette& palette);
QPalette qtPaletteOf(const Palette& palette);
/// The style of the program's controls: its ticks have an outline that is seen in both tones. The caller owns
/// it.
QStyle* newStyle();
/// As large as wished, and never larger than the screen it opens on leaves room for.
void resizeOnScreen(QWidget* window, QSize wished);
/// The one button of a dialog that most people want.
void makePrimary(QWidget* button);

}  // namespace hoopwright
