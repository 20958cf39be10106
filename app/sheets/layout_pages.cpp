// The cage in three views to scale, with the dimensions the builder pinned and a box for what was got.
#include <algorithm>
#include <array>
#include <cmath>

#include "app/sheets/shop_sheets.h"
#include "core/base/text.h"
#include "core/model/measure_dimension.h"

namespace hoopwright {
namespace {

/// Page axes of a view in car axes: the front of the car is on the left from the left and from above.
struct PaperView {
    const char* name;
    Vec3 right, down;
};
const std::array<PaperView, 3> kViews = {{{"From the left", -Vec3::UnitX(), -Vec3::UnitZ()},
                                          {"From the front", Vec3::UnitY(), -Vec3::UnitZ()},
                                          {"From above", -Vec3::UnitX(), Vec3::UnitY()}}};
constexpr std::array<double, 13> kLayoutScales = {5, 10, 12.5, 15, 16, 20, 25, 30, 40, 50, 75, 100, 200};
constexpr double kBetween_mm = 14, kWide_mm = 184, kHigh_mm = 215, kStep_mm = 15, kTick_mm = 1.6;

class LayoutPager {
public:
    LayoutPager(const SheetHead& head, const ShopSheets& sheets)
        : job_(*sheets.job), cage_(*sheets.cage), unit_(head.unit), pages_(head, "Layout") {}

    std::vector<Drawing> make() {
        measure();
        pages_.page(job_.cage.name, std::to_string(cage_.members.size()) + " tubes, " +
                                        showMass(cage_.totals.tube_mass_kg, unit_) +
                                        "; centrelines, 1:" + shortest(scale_));
        const std::string under = "centrelines, 1:" + shortest(scale_);
        draw(0);
        draw(1);
        pages_.page(job_.cage.name + ", from above", under);
        draw(2);
        table();
        return pages_.take();
    }

private:
    void measure() {
        low_ = Vec3::Constant(1e9);
        high_ = Vec3::Constant(-1e9);
        for (const ResolvedMember& member : cage_.members) {
            for (const Vec3& p : points(member.line)) {
                low_ = low_.cwiseMin(p);
                high_ = high_.cwiseMax(p);
            }
        }
        if (low_.x() > high_.x()) low_ = high_ = Vec3::Zero();
        const Vec3 span = high_ - low_;
        // From the left and from the front stand over each other on the first page, from above on the next.
        // A page's own width is known only once there is one; A4 and Letter leave about as much.
        for (const double scale : kLayoutScales) {
            scale_ = scale;
            if (std::max(span.x(), span.y()) / scale <= kWide_mm &&
                2 * (span.z() / scale + kBetween_mm) <= kHigh_mm &&
                span.y() / scale + kBetween_mm <= kHigh_mm)
                break;
        }
    }

    static std::vector<Vec3> points(const Centreline& line) {
        std::vector<Vec3> out;
        if (line.empty()) return out;
        for (const Piece& piece : line.pieces()) {
            const int steps = piece.kind == Piece::Kind::straight
                                  ? 1
                                  : std::max(2, static_cast<int>(std::ceil(piece.length_mm / kStep_mm)));
            for (int i = out.empty() ? 0 : 1; i <= steps; ++i)
                out.push_back(piece.point(piece.length_mm * i / steps));
        }
        return out;
    }

    Vec2 onPaper(const PaperView& view, const Vec3& p) const {
        return Vec2(view.right.dot(p), view.down.dot(p)) / scale_;
    }

    /// One view, at the left, with the dimensions that it shows longest.
    void draw(std::size_t v) {
        const PaperView& view = kViews[v];
        const Vec2 a = onPaper(view, low_), b = onPaper(view, high_);
        const Vec2 corner(pages_.left(), pages_.y() + 5);
        shift_ = corner - a.cwiseMin(b);
        for (const ResolvedMember& member : cage_.members) {
            DrawnPath path{DrawnLine::part, {}, false};
            for (const Vec3& p : points(member.line)) path.points.push_back(onPaper(view, p) + shift_);
            if (!path.points.empty()) pages_.drawing().paths.push_back(std::move(path));
        }
        const double high = std::abs(b.y() - a.y());
        pages_.text(corner + Vec2(0, high + 5), view.name, 10, DrawnText::Align::left, false, true);
        for (std::size_t i = 0; i < job_.cage.dimensions.size(); ++i) {
            const MeasuredDimension read = measureDimension(job_, cage_, job_.cage.dimensions[i]);
            if (read && longestIn(read) == v) drawDimension(view, i, read);
        }
        pages_.gap(5 + high + kBetween_mm - 5);
    }

    std::size_t longestIn(const MeasuredDimension& read) const {
        std::size_t best = 0;
        double longest = -1;
        for (std::size_t v = 0; v < kViews.size(); ++v) {
            const double length = (onPaper(kViews[v], read.to) - onPaper(kViews[v], read.from)).norm();
            if (length > longest + 1e-9) longest = length, best = v;
        }
        return best;
    }

    void drawDimension(const PaperView& view, std::size_t index, const MeasuredDimension& read) {
        const auto at = [&](const Vec3& p) { return Vec2(onPaper(view, p) + shift_); };
        const Vec2 from = at(read.from), to = at(read.to);
        Vec2 middle = (from + to) / 2;
        if (read.dimension == Dimension::angle) {
            pages_.line(at(read.apex), from, DrawnLine::mark);
            pages_.line(at(read.apex), to, DrawnLine::mark);
            middle = (at(read.apex) + middle) / 2;
        } else {
            pages_.line(from, to, DrawnLine::mark);
            const double length = (to - from).norm();
            const Vec2 way = length > 1e-6 ? Vec2((to - from) / length) : Vec2(1, 0);
            const Vec2 across(-way.y() * kTick_mm, way.x() * kTick_mm);
            for (const Vec2& end : {from, to}) pages_.line(end - across, end + across, DrawnLine::mark);
        }
        pages_.text(middle + Vec2(0, -0.8), std::to_string(index + 1), 10, DrawnText::Align::centre, true);
    }

    void table() {
        const std::vector<double> shares = {0.06, 0.54, 0.2, 0.2};
        pages_.need(30);
        pages_.heading("Dimensions");
        if (job_.cage.dimensions.empty()) {
            pages_.words(
                "None is pinned. Those that are pinned in the 3D view stand here, with room for what was "
                "got.",
                9.5);
            return;
        }
        pages_.row({"", "", "planned", "got"}, shares, true);
        for (std::size_t i = 0; i < job_.cage.dimensions.size(); ++i) {
            const PinnedDimension& pinned = job_.cage.dimensions[i];
            const MeasuredDimension read = measureDimension(job_, cage_, pinned);
            pages_.need(8);
            pages_.row(
                {std::to_string(i + 1), shownName(pinned, cage_), read ? value(read) : "not there", ""},
                shares, false, true, 12);
            if (!read) pages_.words(read.trouble, 9, false, true, 6);
        }
    }

    std::string value(const MeasuredDimension& read) const {
        return read.dimension == Dimension::angle
                   ? showAngle(read.value)
                   : showLength(read.value, {unit_, 1, unit_ == LengthUnit::in ? 16 : 0});
    }

    const Job& job_;
    const CageGeometry& cage_;
    LengthUnit unit_;
    SheetPages pages_;
    Vec3 low_, high_;
    double scale_ = 1;
    Vec2 shift_ = Vec2::Zero();  ///< of the view that is drawn
};

}  // namespace

std::vector<Drawing> layoutPages(const SheetHead& head, const ShopSheets& sheets) {
    return LayoutPager(head, sheets).make();
}

std::vector<std::vector<std::string>> layoutRows(const ShopSheets& sheets) {
    std::vector<std::vector<std::string>> rows = {{"id", "name", "kind", "value", "unit"}};
    for (const PinnedDimension& pinned : sheets.job->cage.dimensions) {
        const MeasuredDimension read = measureDimension(*sheets.job, *sheets.cage, pinned);
        const bool angle = read.dimension == Dimension::angle;
        rows.push_back({pinned.id, shownName(pinned, *sheets.cage),
                        std::string(dimensionKindWord(pinned.kind)),
                        read ? shortest(angle ? read.value * 180 / 3.14159265358979323846 : read.value) : "",
                        angle ? "deg" : "mm"});
    }
    return rows;
}

}  // namespace hoopwright
