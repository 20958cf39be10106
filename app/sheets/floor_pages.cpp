// A bent tube in full size as it lies on the floor: on one sheet as large as that takes, or on many.
#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "app/sheets/one_line.h"
#include "app/sheets/shop_sheets.h"
#include "core/base/text.h"
#include "core/shop/bend_checks.h"

namespace hoopwright {
namespace {

constexpr double kAround_mm = 20;  // of white round the tube
constexpr double kEdge_mm = 12, kTop_mm = 17, kLow_mm = 9, kOver_mm = 4;
constexpr double kTickHalf_mm = 4, kPlan_mm = 150;

/// The part of a step between two points that is inside the box; false: none.
bool clipStep(Vec2& a, Vec2& b, const Vec2& low, const Vec2& high) {
    // Liang and Barsky, 1984 (from memory).
    double from = 0, to = 1;
    const Vec2 d = b - a;
    for (const int axis : {0, 1}) {
        for (const bool lower : {true, false}) {
            const double p = lower ? -d[axis] : d[axis];
            const double q = lower ? a[axis] - low[axis] : high[axis] - a[axis];
            if (std::abs(p) < 1e-12) {
                if (q < 0) return false;
                continue;
            }
            if (p < 0) from = std::max(from, q / p);
            if (p > 0) to = std::min(to, q / p);
        }
    }
    if (from > to) return false;
    const Vec2 start = a;
    a = start + from * d;
    b = start + to * d;
    return true;
}

/// What of a path is inside the box, in pieces.
std::vector<DrawnPath> clipped(const DrawnPath& path, const Vec2& low, const Vec2& high) {
    std::vector<DrawnPath> out;
    std::vector<Vec2> points = path.points;
    if (path.closed && !points.empty()) points.push_back(points.front());
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        Vec2 a = points[i], b = points[i + 1];
        if (!clipStep(a, b, low, high)) continue;
        if (out.empty() || (out.back().points.back() - a).norm() > 1e-9)
            out.push_back({path.line, {a}, false});
        out.back().points.push_back(b);
    }
    return out;
}

double farFrom(const Vec2& p, const DrawnPath& path) {
    double least = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i + 1 < path.points.size(); ++i) {
        const Vec2 along = path.points[i + 1] - path.points[i];
        const double t = (p - path.points[i]).dot(along) / std::max(along.squaredNorm(), 1e-12);
        least = std::min(least, (p - path.points[i] - std::clamp(t, 0.0, 1.0) * along).norm());
    }
    return least;
}

/// Words about a point in the tube's middle.
struct FloorWords {
    Vec2 at = Vec2::Zero();  ///< on floorDrawing()'s page
    std::string words;
};

/// Where words lie, with the room they take.
Box boxOf(const DrawnText& text) {
    constexpr double kHighShare = 0.26, kLowShare = 0.08;  // of a letter over and under its line, mm a point
    const double width = wordsWidth_mm(text.words, text.points, text.strong);
    const double left = text.at.x() - (text.align == DrawnText::Align::left    ? 0
                                       : text.align == DrawnText::Align::right ? width
                                                                               : width / 2);
    return {Vec3(left, text.at.y() - kHighShare * text.points, 0),
            Vec3(left + width, text.at.y() + kLowShare * text.points, 0)};
}

/// The words on the side of the tube where they lie clearest of the drawing's lines and of its other words,
/// all of them inside `room`: the frame of a sheet, or the whole page.
DrawnText wordsBeside(const Drawing& drawing, const Box& room, const FloorWords& of, double radius_mm) {
    constexpr double kPoints = 14, kHigh_mm = 3.6, kOff_mm = 8, kBelow_mm = 2;
    const double width = wordsWidth_mm(of.words, kPoints), off = radius_mm + kOff_mm;
    // Middle of the words; pushed in from the edges of the room, along the tube or across it.
    const Vec3 inside(width / 2 + 1, kHigh_mm / 2 + kBelow_mm, 0);
    DrawnText best;
    double highest = -std::numeric_limits<double>::max();
    std::vector<Vec2> ways;
    for (const double farther : {0.0, 9.0, 18.0}) {
        const double across = off + farther + width / 2, along = off + farther + kHigh_mm / 2;
        for (const Vec2& way : {Vec2(across, 0), Vec2(-across, 0), Vec2(0, along), Vec2(0, -along)})
            ways.push_back(way);
    }
    for (const Vec2& way : ways) {
        const Vec2 wished = of.at + way;
        const Vec2 middle =
            wished.cwiseMax((room.min() + inside).head<2>()).cwiseMin((room.max() - inside).head<2>());
        const DrawnText tried{middle + Vec2(0, kHigh_mm / 2), kPoints, of.words, DrawnText::Align::centre};
        const Box box = boxOf(tried);
        double clear = std::numeric_limits<double>::max();
        for (int i = 0; i <= 8; ++i) {
            const Vec2 on(box.min().x() + i * width / 8, middle.y());
            for (const DrawnPath& path : drawing.paths) clear = std::min(clear, farFrom(on, path));
        }
        for (const DrawnText& other : drawing.texts)
            if (boxOf(other).intersects(box)) clear = -100;
        // Clear of the lines is clear enough; after that the words stand as near as they can.
        const double score = std::min(clear, kOff_mm) - 0.05 * (middle - wished).norm() - 0.02 * way.norm();
        if (score <= highest) continue;
        highest = score;
        best = tried;
    }
    return best;
}

/// Where end A's foot of the chalked line stands on floorDrawing()'s page.
Vec2 originOf(const BendSheet& sheet, const Box& box) {
    const double r = sheet.od_mm / 2;
    return {r + kAround_mm - box.min().x(), box.max().y() + r + kAround_mm};
}

/// What stands beside the points of the bent tube, and where they come out on the page.
std::vector<FloorWords> floorWords(const BendSheet& sheet, LengthUnit unit) {
    const Vec2 origin = originOf(sheet, floorLine(sheet).bounds());
    std::vector<FloorWords> out;
    for (const FloorPoint& point : sheet.floor) {
        if (point.what.find("corner") != std::string::npos || point.what.find("centre") != std::string::npos)
            continue;
        constexpr double kLevel_mm = 0.5;
        std::string words = point.what;
        if (std::abs(point.at.z()) > kLevel_mm)
            words +=
                ", " + showLength(std::abs(point.at.z()), {unit}) + (point.at.z() > 0 ? " up" : " under");
        out.push_back({origin + Vec2(point.at.x(), -point.at.y()), std::move(words)});
    }
    return out;
}

class Tiler {
public:
    Tiler(SheetPages& pages, const SheetHead& head, const Drawing& whole, std::vector<FloorWords> words,
          const BendSheet& sheet, std::string name)
        : pages_(pages),
          head_(head),
          whole_(whole),
          words_(std::move(words)),
          origin_(originOf(sheet, floorLine(sheet).bounds())),
          radius_mm_(sheet.od_mm / 2),
          name_(std::move(name)) {
        const QSizeF paper = paperSize_mm(head.paper);
        tile_ = Vec2(paper.width() - 2 * kEdge_mm, paper.height() - 2 * kEdge_mm - kTop_mm - kLow_mm);
        columns_ = static_cast<int>(std::ceil(whole.size_mm.x() / tile_.x()));
        rows_ = static_cast<int>(std::ceil(whole.size_mm.y() / tile_.y()));
        for (int row = 0; row < rows_; ++row)
            for (int column = 0; column < columns_; ++column)
                if (wanted(column, row)) sheets_.push_back({column, row});
    }

    void addPlan(const std::string& under) {
        pages_.page(name_ + ", full size", under);
        pages_.words(
            std::to_string(sheets_.size()) + " sheets follow. Print them at 100 %, not fitted to the page.",
            14, true);
        pages_.words(
            "Cut each along its frame on two sides, lay the crosses of one on those of the next, and tape "
            "them to a flat floor. Put a rule on the bars of each, and tape from end to end: what "
            "stands on the sheet is what the tape must read. Sheets the tube does not touch are left out.",
            11);
        const double scale =
            std::min(pages_.width() / (columns_ * tile_.x()), kPlan_mm / (rows_ * tile_.y()));
        const Vec2 at(pages_.left(), pages_.y() + 4);
        for (int row = 0; row < rows_; ++row)
            for (int column = 0; column < columns_; ++column)
                pages_.box(at + scale * Vec2(column * tile_.x(), row * tile_.y()), scale * tile_);
        for (std::size_t i = 0; i < sheets_.size(); ++i)
            pages_.text(at + scale * clearOf(sheets_[i]) + Vec2(0, 1.5), std::to_string(i + 1), 12,
                        DrawnText::Align::centre, true);
        for (const DrawnPath& path : whole_.paths) {
            DrawnPath small{path.line, {}, path.closed};
            for (const Vec2& p : path.points) small.points.push_back(at + scale * p);
            pages_.drawing().paths.push_back(std::move(small));
        }
        pages_.gap(4 + scale * rows_ * tile_.y() + 4);
    }

    std::vector<Drawing> tiles() const {
        std::vector<Drawing> out;
        for (std::size_t i = 0; i < sheets_.size(); ++i) out.push_back(tile(i));
        return out;
    }

private:
    struct Place {
        int column = 0, row = 0;
    };
    Vec2 lowOf(const Place& place) const { return {place.column * tile_.x(), place.row * tile_.y()}; }
    std::string tileName(std::size_t i) const {
        return "sheet " + std::to_string(i + 1) + " of " + std::to_string(sheets_.size()) + ", column " +
               std::to_string(sheets_[i].column + 1) + ", row " + std::to_string(sheets_[i].row + 1);
    }
    /// Where on a sheet its number is farthest from every line of the tube.
    Vec2 clearOf(const Place& place) const {
        constexpr int kSteps = 16;
        std::vector<DrawnPath> lines;
        for (const DrawnPath& path : whole_.paths)
            if (path.line == DrawnLine::part || path.line == DrawnLine::mark)
                std::ranges::move(clipped(path, lowOf(place), lowOf(place) + tile_),
                                  std::back_inserter(lines));
        Vec2 best = lowOf(place) + 0.5 * tile_;
        double farthest = -1;
        for (int i = 1; i < kSteps; ++i) {
            for (int k = 1; k < kSteps; ++k) {
                const Vec2 in(i / double{kSteps} * tile_.x(), k / double{kSteps} * tile_.y());
                const Vec2 p = lowOf(place) + in;
                double off = std::min(in.minCoeff(), (tile_ - in).minCoeff());
                for (const DrawnPath& path : lines) off = std::min(off, farFrom(p, path));
                if (off <= farthest) continue;
                farthest = off;
                best = p;
            }
        }
        return best;
    }
    /// Does the tube itself come onto it?
    bool wanted(int column, int row) const {
        const Vec2 low = lowOf({column, row});
        for (const DrawnPath& path : whole_.paths)
            if (path.line == DrawnLine::part && !clipped(path, low, low + tile_).empty()) return true;
        return false;
    }

    Drawing tile(std::size_t number) const {
        const QSizeF paper = paperSize_mm(head_.paper);
        const Vec2 low = lowOf(sheets_[number]), corner(kEdge_mm, kEdge_mm + kTop_mm),
                   over(kOver_mm, kOver_mm);
        const Vec2 shift = corner - low;
        Drawing out;
        out.title = "Floor layout: " + name_ + ", " + tileName(number);
        out.size_mm = {paper.width(), paper.height()};
        for (const DrawnPath& path : whole_.paths) {
            for (DrawnPath& piece : clipped(path, low - over, low + tile_ + over)) {
                for (Vec2& p : piece.points) p += shift;
                out.paths.push_back(std::move(piece));
            }
        }
        const auto add = [&](DrawnLine line, std::vector<Vec2> points, bool closed = false) {
            out.paths.push_back({line, std::move(points), closed});
        };
        add(DrawnLine::hair,
            {corner, corner + Vec2(tile_.x(), 0), corner + tile_, corner + Vec2(0, tile_.y())}, true);
        for (const int right : {0, 1}) {
            for (const int down : {0, 1}) {
                const Vec2 p = corner + Vec2(right * tile_.x(), down * tile_.y());
                add(DrawnLine::mark, {p - Vec2(kTickHalf_mm, 0), p + Vec2(kTickHalf_mm, 0)});
                add(DrawnLine::mark, {p - Vec2(0, kTickHalf_mm), p + Vec2(0, kTickHalf_mm)});
                const Vec2 floor = low + Vec2(right * tile_.x(), down * tile_.y()) - origin_;
                out.texts.push_back({p + Vec2(right == 0 ? 2 : -2, down == 0 ? 4.5 : -2.5), 7,
                                     "along " + length(floor.x()) + ", square " + length(-floor.y()),
                                     right == 0 ? DrawnText::Align::left : DrawnText::Align::right, false,
                                     true});
            }
        }
        addWords(out, number, shift);
        head(out, tileName(number));
        return out;
    }

    /// The words of the points that lie on this sheet, on this sheet whole.
    void addWords(Drawing& out, std::size_t number, const Vec2& shift) const {
        const Place& place = sheets_[number];
        const Vec2 corner = lowOf(place) + shift;
        const Box room(Vec3(corner.x(), corner.y(), 0),
                       Vec3(corner.x() + tile_.x(), corner.y() + tile_.y(), 0));
        const auto in = [](double along, double tile, int count) {
            return std::clamp(static_cast<int>(std::floor(along / tile)), 0, count - 1);
        };
        for (const FloorWords& each : words_)
            if (in(each.at.x(), tile_.x(), columns_) == place.column &&
                in(each.at.y(), tile_.y(), rows_) == place.row)
                out.texts.push_back(wordsBeside(out, room, {each.at + shift, each.words}, radius_mm_));
    }

    void head(Drawing& out, const std::string& where) const {
        constexpr double kHundred_mm = 100, kFourInches_mm = 101.6;
        const double right = out.size_mm.x() - kEdge_mm, room = right - kFourInches_mm - 3 - kEdge_mm;
        double points = 15;
        while (points > 9 && wordsWidth_mm(name_, points, true) > room) points -= 0.5;
        out.texts.push_back({{kEdge_mm, kEdge_mm + 3},
                             points,
                             onOneLine(name_, points, true, room),
                             DrawnText::Align::left,
                             true});
        out.texts.push_back({{kEdge_mm, kEdge_mm + 7.4}, 10, where, DrawnText::Align::left, true});
        const std::string rest = "  ·  revision " + head_.revision + "  ·  1:1, print at 100 %";
        out.texts.push_back({{kEdge_mm, kEdge_mm + 11},
                             7,
                             onOneLine(head_.job, 7, false, room - wordsWidth_mm(rest, 7)) + rest,
                             DrawnText::Align::left,
                             false,
                             true});
        const auto bar = [&](double y, double long_mm, const char* words) {
            for (const double x : {right - long_mm, right})
                out.paths.push_back({DrawnLine::part, {Vec2(x, y - 1.5), Vec2(x, y + 1.5)}, false});
            out.paths.push_back({DrawnLine::part, {Vec2(right - long_mm, y), Vec2(right, y)}, false});
            out.texts.push_back({{right - long_mm / 2, y + 3.4}, 8, words, DrawnText::Align::centre});
        };
        bar(kEdge_mm + 1, kHundred_mm, "100 mm");
        bar(kEdge_mm + 8.5, kFourInches_mm, "4 in");
        out.texts.push_back({{kEdge_mm, out.size_mm.y() - kEdge_mm},
                             7,
                             "It plans and certifies nothing. Measure before you cut; try the first one on "
                             "scrap.",
                             DrawnText::Align::left,
                             false,
                             true});
    }
    std::string length(double mm) const { return showLength(mm, {head_.unit}); }

    SheetPages& pages_;
    const SheetHead& head_;
    const Drawing& whole_;
    std::vector<FloorWords> words_;
    Vec2 origin_, tile_ = Vec2::Zero();
    double radius_mm_;
    std::string name_;
    int columns_ = 0, rows_ = 0;
    std::vector<Place> sheets_;  ///< those the tube comes onto
};

}  // namespace

Drawing floorDrawing(const ShopSheets& sheets, const BendSheet& sheet) {
    const Centreline line = floorLine(sheet);
    const double r = sheet.od_mm / 2;
    const Box box = line.bounds();
    const Vec2 origin = originOf(sheet, box);
    const auto on = [&](const Vec2& p) { return Vec2(origin.x() + p.x(), origin.y() - p.y()); };
    Drawing out;
    out.title =
        loudName(sheets.cage->members[static_cast<std::size_t>(sheet.member)].name) + ", on the floor, 1:1";
    out.size_mm = Vec2(box.sizes().x() + 2 * (r + kAround_mm), box.sizes().y() + 2 * (r + kAround_mm));
    DrawnPath middle{DrawnLine::mark, {}, false}, outline{DrawnLine::part, {}, true};
    std::vector<Vec2> back;
    const auto sideAt = [&](double station) {
        const Vec3 t = line.tangent(station);
        const Vec2 side(-t.y(), t.x());
        return side.norm() > 1e-9 ? Vec2(side.normalized()) : Vec2(0, 1);
    };
    for (const double station : line.sampleStations(0.01)) {
        const Vec3 p = line.point(station);
        const Vec2 flat = Vec2(p.x(), p.y()), side = sideAt(station);
        middle.points.push_back(on(flat));
        outline.points.push_back(on(flat + r * side));
        back.push_back(on(flat - r * side));
    }
    outline.points.insert(outline.points.end(), back.rbegin(), back.rend());
    out.paths.push_back(outline);
    out.paths.push_back(middle);
    // The chalked line, and the ends of each bend square across the tube.
    out.paths.push_back({DrawnLine::hair, {on({0, 0}), on({line.end().x(), 0})}, false});
    for (const SheetBend& bend : sheet.bends) {
        for (const double station : {bend.start_mm, bend.end_mm}) {
            const Vec3 p = line.point(station);
            const Vec2 flat(p.x(), p.y()), side = (r + 5) * sideAt(station);
            out.paths.push_back({DrawnLine::mark, {on(flat - side), on(flat + side)}, false});
        }
    }
    const Box page(Vec3::Zero(), Vec3(out.size_mm.x(), out.size_mm.y(), 0));
    for (const FloorWords& each : floorWords(sheet, sheets.job->cage.unit))
        out.texts.push_back(wordsBeside(out, page, each, r));
    return out;
}

std::vector<Drawing> floorPages(const SheetHead& head, const ShopSheets& sheets) {
    std::vector<Drawing> out;
    for (const BendSheet& sheet : sheets.bends) {
        const ResolvedMember& bar = sheets.cage->members[static_cast<std::size_t>(sheet.member)];
        const Drawing whole = floorDrawing(sheets, sheet);
        SheetPages pages(head, "Floor layout");
        Tiler tiler(pages, head, whole, floorWords(sheet, sheets.job->cage.unit), sheet, loudName(bar.name));
        tiler.addPlan(std::string("end A: ") + sheet.end_a + "  ·  end B: " + sheet.end_b +
                      (sheet.flat ? "" : "  ·  it does not lie flat: heights stand beside its points"));
        std::vector<Drawing> tiles = tiler.tiles();
        std::ranges::move(pages.take(), std::back_inserter(out));
        std::ranges::move(tiles, std::back_inserter(out));
    }
    return out;
}

}  // namespace hoopwright
