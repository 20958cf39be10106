// Puts words, boxes and tables on one page after the other.
#pragma once

#include <string>
#include <vector>

#include "app/sheets/drawing.h"
#include "app/sheets/measuring_sheet.h"

namespace hoopwright {

/// What stands on every sheet of a job.
struct SheetHead {
    std::string job;       ///< the cage's name
    std::string tables;    ///< rule tables and editions it is checked against; may be empty
    std::string revision;  ///< tells two prints of one job apart
    std::string shop;      ///< whose sheet it is; may be empty
    Paper paper = Paper::a4;
    LengthUnit unit = LengthUnit::mm;
    bool strip = false;  ///< wraps on pages as long as they take, for paper on a roll
    QImage mark = {};    ///< the shop's own, in the head of each page; null: none
};

class SheetPages {
public:
    SheetPages(const SheetHead& head, std::string kind) : head_(head), kind_(std::move(kind)) {}

    /// Begins a page about one thing, named large.
    void page(const std::string& about, const std::string& under);
    /// Words broken into lines, `indent` from the margin; moves on.
    void words(const std::string& text, double points = 10, bool strong = false, bool soft = false,
               double indent = 0);
    void heading(const std::string& text);
    /// One row of cells; `shares` of the width, 1 in all. Figures stand right. A box is drawn for an empty
    /// last cell named by `boxed`.
    void row(const std::vector<std::string>& cells, const std::vector<double>& shares, bool strong = false,
             bool boxed = false, double points = 10);
    /// Row of a table whose heads stand over it again on each page it goes on to; until endTable().
    void tableHead(const std::vector<std::string>& cells, const std::vector<double>& shares,
                   double points = 10);
    void endTable() { head_cells_.clear(); }
    /// A cell of two lines: what is read from afar, and what is to be known beside it.
    struct Figure {
        std::string large, small = {};
        bool box = false;  ///< to be written in; without words
    };
    /// One row of figures, the first one left, the others right; `points` of the large line. Never set
    /// smaller: it is what is read at arm's length.
    void figures(const std::vector<Figure>& cells, const std::vector<double>& shares, double points);
    void rule();
    void gap(double mm) { y_ += tight_ * mm; }
    /// The same, whatever the type is set to.
    void skip(double mm) { y_ += mm; }
    /// Room left on the page; begins a continued page if less than that is left.
    void need(double mm);

    /// Type and rows of words(), heading() and row() from now on, against their full size.
    void setTight(double tight) { tight_ = tight; }
    /// Draws one thing on one page: what does not go on it in full size is set smaller, down to 0.7.
    template <class Draw>
    void onOnePage(Draw draw) {
        const SheetPages before = *this;
        for (const double tight : {1.0, 0.94, 0.88, 0.82, 0.76, 0.7}) {
            *this = before;
            tight_ = tight;
            draw();
            if (pages_.size() <= before.pages_.size() + 1) break;
        }
        tight_ = 1;
    }

    /// Pages begun so far.
    std::size_t count() const { return pages_.size(); }
    Drawing& drawing() { return pages_.back(); }
    double y() const { return y_; }
    double left() const;
    double right() const;
    double bottom() const;
    double width() const { return right() - left(); }
    void text(const Vec2& at, const std::string& words, double points, DrawnText::Align align = {},
              bool strong = false, bool soft = false);
    void line(const Vec2& from, const Vec2& to, DrawnLine line = DrawnLine::hair);
    void box(const Vec2& at, const Vec2& size, DrawnLine line = DrawnLine::hair);

    /// Every page with its number; the end.
    std::vector<Drawing> take();

private:
    void foot();
    /// Soft words, set smaller where they are longer than the room; what still does not fit loses its end.
    void onOneLine(const Vec2& at, std::string words, double points, double room_mm);
    void mark();
    double markWidth_mm() const;  ///< of the shop's mark and the white beside it; 0: none
    SheetHead head_;
    std::string kind_, about_, under_;
    std::vector<Drawing> pages_;
    double y_ = 0, tight_ = 1;
    std::vector<std::string> head_cells_;
    std::vector<double> head_shares_;
    double head_points_ = 10;
};

/// What words of that size take [mm].
double wordsWidth_mm(const std::string& words, double points, bool strong = false);

}  // namespace hoopwright
