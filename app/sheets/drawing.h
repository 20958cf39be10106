// One sheet as lines, arcs and words in millimetres; every writer (PDF, SVG, DXF) draws the same.
#pragma once

#include <QByteArray>
#include <QFont>
#include <QImage>
#include <string>
#include <vector>

#include "core/geometry/vec.h"

class QPainter;

namespace hoopwright {

/// What a line is for; each is a layer of its own in DXF.
enum class DrawnLine {
    cut,    ///< to be cut along
    bore,   ///< where the bore comes out
    grind,  ///< to be ground back to
    mark,   ///< clock and register lines, middles of holes
    fold,   ///< where sheet is folded
    part,   ///< outline of a thing shown
    hair,   ///< rules and boxes of the sheet itself
};
std::string lineWord(DrawnLine line);

/// Points from the page's top left corner, x to the right, y down [mm].
struct DrawnPath {
    DrawnLine line = DrawnLine::hair;
    std::vector<Vec2> points;
    bool closed = false;
};
/// From `from_rad` on over `sweep_rad`, counted as the page is seen: from x to y, so clockwise.
struct DrawnArc {
    DrawnLine line = DrawnLine::part;
    Vec2 centre = Vec2::Zero();
    double radius_mm = 0, from_rad = 0, sweep_rad = 0;
};
struct DrawnText {
    enum class Align { left, centre, right };
    Vec2 at = Vec2::Zero();  ///< on the base line
    double points = 9;       ///< size of the type, 1/72 in
    std::string words;       ///< UTF-8, one line
    Align align = Align::left;
    bool strong = false, soft = false;
};
/// The accent strip of the head.
struct DrawnBlock {
    Vec2 at = Vec2::Zero(), size = Vec2::Zero();
};

/// An image, filling its box. A DXF has none.
struct DrawnPicture {
    Vec2 at = Vec2::Zero(), size = Vec2::Zero();
    QImage image = {};
};

struct Drawing {
    std::string title;
    Vec2 size_mm = Vec2(210, 297);
    std::vector<DrawnPath> paths;
    std::vector<DrawnArc> arcs;
    std::vector<DrawnText> texts;
    std::vector<DrawnBlock> blocks;
    std::vector<DrawnPicture> pictures;
};

/// The type of every sheet: each letter with its plain shape, so that what is copied out of a PDF is what was
/// written. (Inter sets signs between figures with others, which no reader finds the words of.)
QFont sheetFont(bool strong);
/// The painter's unit is a millimetre, its origin the page's top left corner; every writer that paints
/// (PDF, printer, preview) draws with it. @pre there is a QGuiApplication, for its fonts
void paintDrawing(QPainter& painter, const Drawing& drawing);

/// One page for each drawing. @pre there is a QGuiApplication, for its fonts
QByteArray pdfOf(const std::vector<Drawing>& pages, const std::string& title);
/// Width and height in millimetres, user units of one millimetre.
QByteArray svgOf(const Drawing& drawing);
/// AutoCAD R12 ASCII, millimetres, y up, the page's lower left corner at the origin. Layers by lineWord(),
/// words on TEXT.
QByteArray dxfOf(const Drawing& drawing);
/// Rows as RFC 4180 has them.
QByteArray csvOf(const std::vector<std::vector<std::string>>& rows);

}  // namespace hoopwright
