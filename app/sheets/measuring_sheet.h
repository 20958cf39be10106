// The measuring sheet: what to tape on a car, in the order a person walks round it, on paper.
#pragma once

#include <QByteArray>
#include <QRectF>
#include <QString>
#include <vector>

#include "core/survey/measuring.h"

namespace hoopwright {

enum class Paper { a4, letter };
/// Of the sheet standing up [mm].
QSizeF paperSize_mm(Paper paper);

/// "Two-door saloon", "ladder frame": a kind as the sheet names it.
QString bodyTitle(Car::Body body);
QString frameTitle(Car::Frame frame);

struct MeasuringSheetOptions {
    Car::Body body = Car::Body::saloon;
    Car::Frame frame = Car::Frame::unibody;
    Paper paper = Paper::a4;
    LengthUnit unit = LengthUnit::mm;
    const Car* car =
        nullptr;  ///< if given, its name and the figures it has are printed small; outlives the call
};

/// One box for a figure, where it stands on which page; from the page's top left corner, mm.
struct SheetBox {
    int page = 0;    ///< from 0
    int number = 0;  ///< of the item
    int figure = 0;  ///< index into its figures
    QRectF box_mm;
};

struct MeasuringSheet {
    QByteArray pdf;
    int pages = 0;
    std::vector<SheetBox> boxes;  ///< every figure of the walk, in order
};
/// @pre there is a QGuiApplication, for its fonts
MeasuringSheet measuringSheet(const MeasuringSheetOptions& options);

}  // namespace hoopwright
