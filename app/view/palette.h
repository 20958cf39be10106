// Paper and steel: the colours and the type of the window, the pictures and the sheets, in a light and a dark
// set.
#pragma once

#include <QColor>
#include <QFont>

#include "rules/finding.h"

namespace hoopwright {

enum class Tone { light, dark };

/// One set of colours. Text colours reach 4.5:1 on paper, card and field, marks and the accent edge 3:1
/// (WCAG 2.2, success criteria 1.4.3 and 1.4.11). Colours of tubes are the scene's business, see
/// placeColour().
struct Palette {
    Tone tone = Tone::light;
    QColor paper;                                           ///< behind everything
    QColor card;                                            ///< panels, cards, labels in the view
    QColor field;                                           ///< where a value is typed
    QColor line;                                            ///< hairlines between parts; decoration only
    QColor ink;                                             ///< text
    QColor ink_soft;                                        ///< second text: units, captions
    QColor rail;                                            ///< the graphite rail with the steps
    QColor rail_ink;                                        ///< text on the rail
    QColor rail_soft;                                       ///< second text on the rail
    QColor accent;                                          ///< tape yellow: the one accent
    QColor accent_ink;                                      ///< text and ticks on the accent
    QColor accent_edge;                                     ///< focus ring and selection edge on paper
    QColor chosen;                                          ///< pale tape behind the chosen row
    QColor action;                                          ///< words that do something when clicked
    QColor meets, fails, ask, cannot_tell, does_not_apply;  ///< results; never without their mark

    QColor of(Answer answer) const;
};
Palette paletteOf(Tone tone);
/// What the person's desktop uses. @pre there is a QGuiApplication.
Tone desktopTone();

/// Four sizes, in logical pixels: captions, text, headings, the one big number.
enum class TypeSize { small = 12, body = 13, head = 16, big = 22 };
enum class TypeWeight { plain, medium, strong };
/// Inter where it is installed, else the desktop's own sans. `scale` enlarges for pictures.
QFont typeFont(TypeSize size, TypeWeight weight = TypeWeight::plain, double scale = 1);

}  // namespace hoopwright
