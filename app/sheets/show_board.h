// A page that is designed: one grid, one type, colours; drawn in millimetres straight into a PDF.
#pragma once

#include <QBuffer>
#include <QColor>
#include <QImage>
#include <QPainter>
#include <QPdfWriter>
#include <QString>
#include <memory>

#include "app/sheets/measuring_sheet.h"
#include "app/view/palette.h"

namespace hoopwright {

/// Colours of paper: text reaches 4.5:1 on white and on the pale ground, see tests/app/sheets.
struct PaperInk {
    QColor ink{0x1C, 0x20, 0x24}, soft{0x55, 0x5B, 0x63}, line{0xD5, 0xD1, 0xC8}, pale{0xF5, 0xF2, 0xEB},
        tape{0xF2, 0xB7, 0x05}, white{0xFF, 0xFF, 0xFF};
};
PaperInk paperInk();

/// Sizes of type [pt]: note, text, head, title, and the one on the cover.
enum class PaperType { note, text, head, title, cover };
double pointsOf(PaperType type);

/// How words stand.
struct Wording {
    PaperType type = PaperType::text;
    TypeWeight weight = TypeWeight::plain;
    QColor colour = {};  ///< not valid: ink
    Qt::Alignment align = Qt::AlignLeft;
};

/// Twelve columns between the margins, everything in millimetres from the top left corner.
class ShowBoard {
public:
    static constexpr double kMargin_mm = 18, kGutter_mm = 4;
    static constexpr int kColumns = 12;

    ShowBoard(Paper paper, const QString& title);
    ~ShowBoard();

    /// A new page, empty; the first is there.
    void page();
    int pages() const { return pages_; }
    double width() const { return size_.width(); }
    double height() const { return size_.height(); }
    /// Left edge of a column, 0 to 12, and the width of so many.
    double column(int index) const;
    double columns(int count) const;
    double right() const { return width() - kMargin_mm; }

    /// One line on a base line.
    void line(double x, double base, const QString& words, const Wording& how = {});
    /// Broken to a width, from `top` down; the height it took. Drawn or only measured.
    double words(double x, double top, double wide, const QString& words, const Wording& how = {});
    double heightOf(double wide, const QString& words, const Wording& how = {});
    double widthOf(const QString& words, const Wording& how = {});
    /// Fills the box, cut to its shape, middle kept; corners rounded by `round_mm`.
    void picture(const QRectF& box, const QImage& image, double round_mm = 1.5);
    /// Fits into the box, at its left.
    void mark(const QRectF& box, const QImage& image);
    void block(const QRectF& box, const QColor& colour, double round_mm = 0);
    void rule(double x, double y, double wide);
    QPainter& painter() { return painter_; }

    /// The file. Nothing more can be drawn.
    QByteArray take();

private:
    double paragraph(double x, double top, double wide, const QString& words, const Wording& how, bool drawn);

    QByteArray bytes_;
    QBuffer buffer_{&bytes_};
    std::unique_ptr<QPdfWriter> writer_;
    QPainter painter_;
    QSizeF size_;
    int pages_ = 1;
};

}  // namespace hoopwright
