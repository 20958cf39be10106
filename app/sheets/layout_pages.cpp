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
constexpr std::array<double, 12> kScales = {5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 200};
constexpr double kBetween_mm = 14, kMostHigh_mm = 150, kStep_mm = 15, kTick_mm = 1.6;

class LayoutPager {
public:
    LayoutPager(const SheetHead& head, const ShopSheets& sheets)
        : job_(*sheets.job), cage_(*sheets.cage), unit_(head.unit), pages_(head, "Layout") {}

    std::vector<Drawing> make() {
        measure();
        pages_.page(job_.cage.name, std::to_string(cage_.members.size()) + " tubes, " +
                                        showMass(cage_.totals.tube_mass_kg, unit_) +
                                        "; centrelines, 1:" + shortest(scale_));
        draw();
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
        // The page's own width is known only once there is one; A4 and Letter leave about as much.
        constexpr double kWide_mm = 180;
        for (const double scale : kScales) {
            scale_ = scale;
            if ((span.x() + span.y()) / scale + kBetween_mm <= kWide_mm &&
                (span.z() + span.y()) / scale + 2 * kBetween_mm <= kMostHigh_mm)
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

    void draw() {
        const Vec3 span = high_ - low_;
        const double top = pages_.y() + 4;
        const std::array<Vec2, 3> corners = {Vec2(pages_.left(), top),
                                             Vec2(pages_.left() + span.x() / scale_ + kBetween_mm, top),
                                             Vec2(pages_.left(), top + span.z() / scale_ + kBetween_mm)};
        for (std::size_t v = 0; v < kViews.size(); ++v) {
            const Vec2 a = onPaper(kViews[v], low_), b = onPaper(kViews[v], high_);
            shift_[v] = corners[v] - a.cwiseMin(b);
            for (const ResolvedMember& member : cage_.members) {
                DrawnPath path{DrawnLine::part, {}, false};
                for (const Vec3& p : points(member.line))
                    path.points.push_back(onPaper(kViews[v], p) + shift_[v]);
                if (!path.points.empty()) pages_.drawing().paths.push_back(std::move(path));
            }
            const double under = std::abs(b.y() - a.y()) + 4.5;
            pages_.text(corners[v] + Vec2(0, under), kViews[v].name, 8, DrawnText::Align::left, false, true);
        }
        for (std::size_t i = 0; i < job_.cage.dimensions.size(); ++i)
            drawDimension(i, measureDimension(job_, cage_, job_.cage.dimensions[i]));
        pages_.gap(8 + (span.z() + span.y()) / scale_ + 2 * kBetween_mm - 6);
    }

    /// In the view that shows it longest.
    void drawDimension(std::size_t index, const MeasuredDimension& read) {
        if (!read) return;
        std::size_t best = 0;
        double longest = -1;
        for (std::size_t v = 0; v < kViews.size(); ++v) {
            const double length = (onPaper(kViews[v], read.to) - onPaper(kViews[v], read.from)).norm();
            if (length > longest + 1e-9) longest = length, best = v;
        }
        const auto at = [&](const Vec3& p) { return Vec2(onPaper(kViews[best], p) + shift_[best]); };
        const Vec2 from = at(read.from), to = at(read.to);
        Vec2 middle = (from + to) / 2;
        if (read.dimension == Dimension::angle) {
            pages_.line(at(read.apex), from, DrawnLine::mark);
            pages_.line(at(read.apex), to, DrawnLine::mark);
            middle = (at(read.apex) + middle) / 2;
        } else {
            pages_.line(from, to, DrawnLine::mark);
            const Vec2 way = longest > 1e-6 ? Vec2((to - from) / (to - from).norm()) : Vec2(1, 0);
            const Vec2 across(-way.y() * kTick_mm, way.x() * kTick_mm);
            for (const Vec2& end : {from, to}) pages_.line(end - across, end + across, DrawnLine::mark);
        }
        pages_.text(middle + Vec2(0, -0.8), std::to_string(index + 1), 8, DrawnText::Align::centre, true);
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
                shares, false, true, 10);
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
    std::array<Vec2, 3> shift_;
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
