// Pages of the pack: words and boxes of a sheet, and under them drawings in ink, tints and photographs.
#pragma once

#include <QColor>
#include <QImage>
#include <string>
#include <vector>

#include "app/sheets/sheet_page.h"
#include "core/base/progress.h"

namespace hoopwright {

/// A line, or a filled shape. Millimetres from the page's top left corner, y down.
struct InkPath {
    std::vector<Vec2> points;
    double width_mm = 0.2;  ///< 0: no line
    QColor colour = QColor(0x1C, 0x20, 0x24);
    bool closed = false;
    QColor fill = {};  ///< not valid: none
    bool dashed = false;
};
struct InkImage {
    Vec2 at = Vec2::Zero(), size = Vec2::Zero();
    QImage image;
};
struct PackPage {
    Drawing words;  ///< over the ink
    std::vector<InkPath> ink;
    std::vector<InkImage> images;
};

/// A column of a table: its share of the width (1 in all), how it stands.
struct PackColumn {
    std::string title;
    double share = 0;
    DrawnText::Align align = DrawnText::Align::left;
    bool box = false;  ///< to be written in
};

class PackPages {
public:
    explicit PackPages(const SheetHead& head) : pages_(head, "Inspector's pack") {}

    SheetPages& sheet() { return pages_; }
    void page(const std::string& about, const std::string& under) { pages_.page(about, under); }
    /// Begins a table: its head stands again on every page it runs on to.
    void table(std::vector<PackColumn> columns, double points = 8);
    /// One row; cells are broken into lines. `strong`: the columns' first. `mark`: colour of a bar at its
    /// left.
    void row(const std::vector<std::string>& cells, bool strong = false, const QColor& mark = {});
    /// Draws what takes several pages. Where no more than a few rows would stand on the last of them, all
    /// rows stand a little closer, if that brings them in on the pages before.
    template <class Draw>
    void closingUp(Draw draw) {
        const PackPages before = *this;
        draw();
        if (pages_.count() < before.pages_.count() + 2 || pages_.y() > kFewRows_mm) return;
        const PackPages apart = *this;
        for (const double air : {0.8, 0.6, 0.4, 0.2}) {
            *this = before;
            air_ = air;
            draw();
            air_ = 1;
            if (pages_.count() < apart.pages_.count()) return;
        }
        *this = apart;
    }
    /// A line across the table with words.
    void band(const std::string& words);

    void ink(InkPath path);
    void disc(const Vec2& at, double radius_mm, double width_mm, const QColor& colour, const QColor& fill);
    void image(const Vec2& at, const Vec2& size, const QImage& image);
    /// Moves on without a regard to the page's end.
    void moveOn(double mm) { pages_.gap(mm); }

    std::vector<PackPage> take();

private:
    /// Where a page ends that has its name, a table's head and four or five rows [mm].
    static constexpr double kFewRows_mm = 80;
    PackPage& extras();
    void head();
    double columnWidth(std::size_t i) const { return pages_.width() * columns_[i].share; }

    SheetPages pages_;
    std::vector<PackPage> extras_;
    std::vector<PackColumn> columns_;
    double points_ = 8, air_ = 1;  ///< air_: of the white between rows, against the usual
};

/// Words in lines no wider than `width_mm`.
std::vector<std::string> brokenInto(const std::string& words, double width_mm, double points,
                                    bool strong = false);

/// One PDF with its fonts in it. Empty: `progress` wanted no more. @pre there is a QGuiApplication
QByteArray packPdf(const std::vector<PackPage>& pages, const std::string& title,
                   const WorkProgress& progress);

}  // namespace hoopwright
