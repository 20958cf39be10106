#include "app/sheets/sheet_page.h"

#include <QFontMetricsF>
#include <QStringList>
#include <algorithm>
#include <ranges>

#include "app/sheets/one_line.h"

namespace hoopwright {
namespace {

constexpr double kMargin_mm = 13, kFoot_mm = 12;
constexpr double kSheetPoint_mm = 25.4 / 72, kLead = 1.32;
constexpr double kPageNumber_mm = 24, kLeastPoints = 5.5;  // room at the foot for the page's number
constexpr double kMarkWide_mm = 34, kMarkHigh_mm = 12.5, kMarkGap_mm = 4;  // room for the shop's mark

}  // namespace

double wordsWidth_mm(const std::string& words, double points, bool strong) {
    constexpr int kPixels = 100;
    QFont font = sheetFont(strong);
    font.setPixelSize(kPixels);
    return QFontMetricsF(font).horizontalAdvance(QString::fromStdString(words)) * points * kSheetPoint_mm /
           kPixels;
}

namespace {

std::vector<std::string> wrapped(const std::string& all, double points, bool strong, double room) {
    std::vector<std::string> lines;
    for (const QString& piece : QString::fromStdString(all).split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        const std::string word = piece.toStdString();
        if (lines.empty() || wordsWidth_mm(lines.back() + " " + word, points, strong) > room)
            lines.push_back(word);
        else
            lines.back() += " " + word;
    }
    return lines;
}

/// A little narrower where the last line would be a single word.
std::vector<std::string> wrappedWell(const std::string& all, double points, bool strong, double room) {
    const auto alone = [](const std::vector<std::string>& lines) {
        return lines.size() > 1 && lines.back().find(' ') == std::string::npos;
    };
    const std::vector<std::string> lines = wrapped(all, points, strong, room);
    if (!alone(lines)) return lines;
    for (const double share : {0.96, 0.92, 0.88, 0.84}) {
        std::vector<std::string> tried = wrapped(all, points, strong, share * room);
        if (tried.size() == lines.size() && !alone(tried)) return tried;
    }
    return lines;
}

}  // namespace

double SheetPages::left() const {
    return kMargin_mm;
}
double SheetPages::right() const {
    return pages_.back().size_mm.x() - kMargin_mm;
}
double SheetPages::bottom() const {
    return pages_.back().size_mm.y() - kMargin_mm - kFoot_mm;
}

void SheetPages::text(const Vec2& at, const std::string& words, double points, DrawnText::Align align,
                      bool strong, bool soft) {
    drawing().texts.push_back({at, points, words, align, strong, soft});
}
void SheetPages::line(const Vec2& from, const Vec2& to, DrawnLine line) {
    drawing().paths.push_back({line, {from, to}, false});
}
void SheetPages::box(const Vec2& at, const Vec2& size, DrawnLine line) {
    drawing().paths.push_back({line, {at, at + Vec2(size.x(), 0), at + size, at + Vec2(0, size.y())}, true});
}

double SheetPages::markWidth_mm() const {
    if (head_.mark.isNull()) return 0;
    const QSizeF size = QSizeF(head_.mark.size()).scaled({kMarkWide_mm, kMarkHigh_mm}, Qt::KeepAspectRatio);
    return size.width() + kMarkGap_mm;
}

void SheetPages::mark() {
    if (head_.mark.isNull()) return;
    const QSizeF size = QSizeF(head_.mark.size()).scaled({kMarkWide_mm, kMarkHigh_mm}, Qt::KeepAspectRatio);
    drawing().pictures.push_back(
        {{right() - size.width(), kMargin_mm}, {size.width(), size.height()}, head_.mark});
}

void SheetPages::page(const std::string& about, const std::string& under) {
    about_ = about;
    under_ = under;
    Drawing sheet;
    const QSizeF size = paperSize_mm(head_.paper);
    sheet.size_mm = {size.width(), size.height()};
    sheet.title = kind_ + ": " + about;
    pages_.push_back(std::move(sheet));
    drawing().blocks.push_back({{left(), kMargin_mm}, {3.2, 16}});
    mark();
    const double right_of_words = right() - markWidth_mm();
    const double room = right_of_words - left() - 8;
    const std::string shop = hoopwright::onOneLine(head_.shop, 9, false, room / 2);
    const double shop_room = shop.empty() ? 0 : wordsWidth_mm(shop, 9) + 4;
    text({left() + 6, kMargin_mm + 3.2},
         hoopwright::onOneLine(kind_ + "  ·  " + head_.job, 9, false, room - shop_room), 9,
         DrawnText::Align::left, false, true);
    if (!shop.empty()) text({right_of_words, kMargin_mm + 3.2}, shop, 9, DrawnText::Align::right);
    double points = 24;
    while (points > 12 && wordsWidth_mm(about, points, true) > room) points -= 1;
    text({left() + 6, kMargin_mm + 12}, hoopwright::onOneLine(about, points, true, room), points,
         DrawnText::Align::left, true);
    onOneLine({left() + 6, kMargin_mm + 16.6}, under, 8.5, right() - left() - 6);
    y_ = kMargin_mm + 20;
    rule();
    y_ += 2;
    foot();
}

void SheetPages::foot() {
    const double y = pages_.back().size_mm.y() - kMargin_mm - 7;
    line({left(), y}, {right(), y});
    text({left(), y + 3.6},
         "It plans and certifies nothing. Measure before you cut; try the first one on scrap.", 7,
         DrawnText::Align::left, false, true);
    std::string about = "Revision " + head_.revision;
    if (!head_.tables.empty()) about += "  ·  " + head_.tables;
    onOneLine({left(), y + 7}, about, 7, width() - kPageNumber_mm);
}

void SheetPages::onOneLine(const Vec2& at, std::string words, double points, double room_mm) {
    while (points > kLeastPoints && wordsWidth_mm(words, points) > room_mm) points -= 0.25;
    text(at, hoopwright::onOneLine(words, points, false, room_mm), points, DrawnText::Align::left, false,
         true);
}

void SheetPages::need(double mm) {
    if (y_ + mm <= bottom()) return;
    const std::string about = about_, under = under_;
    page(about.ends_with(", continued") ? about : about + ", continued", under);
    if (head_cells_.empty()) return;
    const std::vector<std::string> cells = head_cells_;
    head_cells_.clear();  // the head itself is no row of the table
    row(cells, head_shares_, true, false, head_points_);
    head_cells_ = cells;
}

void SheetPages::tableHead(const std::vector<std::string>& cells, const std::vector<double>& shares,
                           double points) {
    endTable();
    row(cells, shares, true, false, points);
    head_cells_ = cells;
    head_shares_ = shares;
    head_points_ = points;
}

void SheetPages::words(const std::string& all, double size, bool strong, bool soft, double indent) {
    const double points = tight_ * size, step = points * kSheetPoint_mm * kLead, room = width() - indent;
    for (const std::string& line : wrappedWell(all, points, strong, room)) {
        need(step);
        y_ += step;
        text({left() + indent, y_ - 0.28 * step}, line, points, DrawnText::Align::left, strong, soft);
    }
}

void SheetPages::heading(const std::string& what) {
    need(14);
    y_ += 3 * tight_;
    words(what, 12, true);
    y_ += 0.6 * tight_;
}

void SheetPages::rule() {
    line({left(), y_}, {right(), y_});
}

void SheetPages::row(const std::vector<std::string>& cells, const std::vector<double>& shares, bool strong,
                     bool boxed, double size) {
    const double points = tight_ * size;
    const double step =
        boxed ? std::max(tight_ * 8.4, points * kSheetPoint_mm * 1.5) : points * kSheetPoint_mm * 1.5;
    need(step);
    double x = left();
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const double w = width() * shares[i];
        const double base = y_ + step / 2 + points * kSheetPoint_mm * 0.36;
        const bool last = i + 1 == cells.size();
        if (boxed && last) {
            box({x + 1.5, y_ + 0.7}, {w - 1.5, step - 1.4});
        } else if (i == 0) {
            double fit = points;
            while (fit > 6 && wordsWidth_mm(cells[i], fit, strong) > w - 1) fit -= 0.25;
            text({x, base}, cells[i], fit, DrawnText::Align::left, strong);
        } else {
            double fit = points;
            while (fit > 6 && wordsWidth_mm(cells[i], fit, strong) > w - 1) fit -= 0.25;
            text({x + w, base}, cells[i], fit, DrawnText::Align::right, strong);
        }
        x += w;
    }
    y_ += step;
}

void SheetPages::figures(const std::vector<Figure>& cells, const std::vector<double>& shares, double points) {
    constexpr double kSmall = 0.62, kAir_mm = 2;
    const bool two = std::ranges::any_of(cells, [](const Figure& f) { return !f.small.empty(); });
    const double large = points * kSheetPoint_mm, small = two ? 1.2 * kSmall * large : 0;
    const double step = large + small + kAir_mm;
    need(step);
    double x = left();
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const double w = width() * shares[i];
        const auto put = [&](const std::string& words, double base, double size, bool strong) {
            if (words.empty()) return;
            while (size > 6 && wordsWidth_mm(words, size, strong) > w - 1) size -= 0.25;
            const DrawnText::Align align = i == 0 ? DrawnText::Align::left : DrawnText::Align::right;
            text({i == 0 ? x : x + w, base}, words, size, align, strong, !strong);
        };
        if (cells[i].box) {
            box({x + 1.5, y_ + 0.7}, {w - 1.5, step - 1.4});
        } else {
            // What has one line stands in the middle of a row of two.
            const double low = y_ + kAir_mm / 2 + 0.86 * large;
            put(cells[i].large, cells[i].small.empty() ? low + small / 2 : low, points, true);
            put(cells[i].small, low + small, kSmall * points, false);
        }
        x += w;
    }
    y_ += step;
}

std::vector<Drawing> SheetPages::take() {
    for (std::size_t i = 0; i < pages_.size(); ++i) {
        Drawing& page = pages_[i];
        page.texts.push_back({{page.size_mm.x() - kMargin_mm, page.size_mm.y() - kMargin_mm - 0.2},
                              7,
                              "Page " + std::to_string(i + 1) + " of " + std::to_string(pages_.size()),
                              DrawnText::Align::right,
                              false,
                              true});
    }
    return std::move(pages_);
}

}  // namespace hoopwright
