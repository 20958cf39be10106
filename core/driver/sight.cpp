#include "core/driver/sight.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>
#include <string_view>

namespace hoopwright {
namespace {

using std::numbers::pi;

/// Stations close enough that what lies between them makes no difference.
template <class Visit>
void along(const ResolvedMember& bar, double step_mm, Visit visit) {
    const double length = bar.line.length_mm();
    const int count = std::max(1, static_cast<int>(std::ceil(length / step_mm)));
    for (int i = 0; i <= count; ++i) visit(length * i / count);
}

/// Angle at the eye from a direction to the edge of the ball of the tube at a point.
double toEdge(const Vec3& eye, const Vec3& way, const Vec3& at, double radius_mm) {
    const Vec3 arm = at - eye;
    const double distance = arm.norm();
    if (distance <= radius_mm) return -pi;
    return std::atan2(arm.cross(way).norm(), arm.dot(way)) - std::asin(radius_mm / distance);
}

/// Least over a bar, between the eye and the place.
struct Edge {
    double rad = 1e300, station_mm = 0;
};
Edge nearestEdge(const ResolvedMember& bar, const Vec3& eye, const Vec3& way, double far_mm) {
    Edge best;
    const auto at = [&](double station) {
        const Vec3 p = bar.line.point(station);
        const double ahead = (p - eye).dot(way);
        return ahead <= 0 || ahead >= far_mm ? 1e300 : toEdge(eye, way, p, bar.radius_mm());
    };
    constexpr double kStep_mm = 10;
    along(bar, kStep_mm, [&](double station) {
        if (const double now = at(station); now < best.rad) best = {now, station};
    });
    for (double step = kStep_mm / 2; step > 1e-4 && best.rad < 1e300; step /= 2)
        for (const double station : {best.station_mm - step, best.station_mm + step}) {
            const double kept = std::clamp(station, 0.0, bar.line.length_mm());
            if (const double now = at(kept); now < best.rad) best = {now, kept};
        }
    return best;
}

bool startsWithAny(std::string_view name, std::initializer_list<std::string_view> words) {
    return std::any_of(words.begin(), words.end(),
                       [&](std::string_view word) { return name.starts_with(word); });
}

std::optional<SightAhead> lookAhead(const Vec3& eye, const Car& car) {
    std::optional<SightAhead> out;
    for (const CarLine& line : car.lines) {
        if (!startsWithAny(line.name, {"dash", "cowl", "bonnet"})) continue;
        const std::size_t n = line.points.size();
        for (std::size_t i = 0; i + (line.closed ? 0 : 1) < n; ++i) {
            const Vec3 &a = line.points[i], &b = line.points[(i + 1) % n];
            if ((a.y() - eye.y()) * (b.y() - eye.y()) > 0 || a.y() == b.y()) continue;
            const Vec3 at = a + (eye.y() - a.y()) / (b.y() - a.y()) * (b - a);
            if (at.x() <= eye.x()) continue;
            const double down = std::atan2(eye.z() - at.z(), at.x() - eye.x());
            if (!out || down < out->down_rad) out = SightAhead{line.name, at, down, {}};
        }
    }
    if (out && out->down_rad > 0 && eye.z() > car.ground_z_mm)
        out->ground_ahead_mm = (eye.z() - car.ground_z_mm) / std::tan(out->down_rad);
    return out;
}

/// At eye height each ball of the tube hides a stretch about its own azimuth; together they are the tube's.
void hiddenBy(const CageGeometry& cage, int index, const Vec3& eye, std::vector<HiddenStretch>& out) {
    const ResolvedMember& bar = cage.members[static_cast<std::size_t>(index)];
    const double r = bar.radius_mm();
    if (bar.line.bounds().min().z() > eye.z() + r || bar.line.bounds().max().z() < eye.z() - r) return;
    std::vector<HiddenStretch> mine;
    along(bar, 0.5, [&](double station) {
        const Vec3 arm = bar.line.point(station) - eye;
        const double wide = std::sqrt(std::max(0.0, r * r - arm.z() * arm.z())),
                     far = std::hypot(arm.x(), arm.y());
        if (wide <= 0 || far <= wide) return;
        const double middle = std::atan2(arm.y(), arm.x()), half = std::asin(wide / far);
        if (std::abs(middle) > kViewSide_rad + half) return;
        if (!mine.empty() && middle - half <= mine.back().to_rad && middle + half >= mine.back().from_rad) {
            mine.back().from_rad = std::min(mine.back().from_rad, middle - half);
            mine.back().to_rad = std::max(mine.back().to_rad, middle + half);
        } else {
            mine.push_back({index, middle - half, middle + half});
        }
    });
    for (HiddenStretch& one : mine) {
        one.from_rad = std::max(one.from_rad, -kViewSide_rad);
        one.to_rad = std::min(one.to_rad, kViewSide_rad);
        if (one.to_rad > one.from_rad) out.push_back(one);
    }
}

/// A grid of lines of sight through an outline, even in azimuth and elevation.
class WindshieldView {
public:
    WindshieldView(const Vec3& eye, const CarLine& outline) : eye_(eye) {
        const std::size_t n = outline.points.size();
        for (std::size_t i = 0; n >= 3 && i < n; ++i) {
            // A straight edge is bent when it is said in angles.
            for (int step = 0; step < kEdgeSteps; ++step) {
                const Vec3 p = outline.points[i] + static_cast<double>(step) / kEdgeSteps *
                                                       (outline.points[(i + 1) % n] - outline.points[i]);
                if (p.x() <= eye.x()) return;  // the eye is ahead of the glass: there is no such view
                corners_.push_back(anglesOf(p - eye));
                box_.extend(corners_.back());
            }
        }
        if (n < 3) return;
        columns_ = static_cast<int>(std::ceil(box_.sizes().x() / kStep));
        rows_ = static_cast<int>(std::ceil(box_.sizes().y() / kStep));
        cells_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
        for (int row = 0; row < rows_; ++row)
            for (int column = 0; column < columns_; ++column) {
                const Vec2 at = middle(row, column);
                if (!inside(at)) continue;
                cell(row, column).weight = std::cos(at.y());
                whole_ += std::cos(at.y());
            }
    }
    bool empty() const { return whole_ <= 0; }

    /// Marks what the bar hides; its share.
    double hide(const ResolvedMember& bar) {
        ++bar_;
        double sum = 0;
        along(bar, std::max(4.0, bar.radius_mm() / 3),
              [&](double station) { sum += hideBall(bar.line.point(station) - eye_, bar.radius_mm()); });
        return sum / whole_;
    }
    double hidden() const {
        double sum = 0;
        for (const Cell& one : cells_)
            if (one.last_bar > 0) sum += one.weight;
        return sum / whole_;
    }

private:
    struct Cell {
        double weight = 0;  ///< 0 outside the glass
        int last_bar = 0;   ///< that hides it; 0: none does
    };
    static constexpr double kStep = 0.5 * pi / 180;
    static constexpr int kEdgeSteps = 16;

    static Vec2 anglesOf(const Vec3& arm) {
        return {std::atan2(arm.y(), arm.x()), std::atan2(arm.z(), std::hypot(arm.x(), arm.y()))};
    }
    Vec2 middle(int row, int column) const { return box_.min() + kStep * Vec2(column + 0.5, row + 0.5); }
    Cell& cell(int row, int column) {
        return cells_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                      static_cast<std::size_t>(column)];
    }

    /// What a ball of the tube hides and no earlier one of the same bar did.
    double hideBall(const Vec3& arm, double radius_mm) {
        const double far = arm.norm();
        if (far <= radius_mm || arm.x() <= 0) return 0;
        const double half = std::asin(radius_mm / far), least = std::cos(half) * far;
        const Vec2 at = anglesOf(arm);
        const double steep = std::min(1.5, std::abs(at.y()) + half);
        const double aside = half / std::cos(steep);
        const auto first = [](double from, double low) {
            return static_cast<int>(std::floor((from - low) / kStep));
        };
        double sum = 0;
        for (int row = std::max(0, first(at.y() - half, box_.min().y()));
             row < rows_ && middle(row, 0).y() <= at.y() + half; ++row)
            for (int column = std::max(0, first(at.x() - aside, box_.min().x()));
                 column < columns_ && middle(row, column).x() <= at.x() + aside; ++column) {
                Cell& one = cell(row, column);
                if (one.weight <= 0 || one.last_bar == bar_) continue;
                const Vec2 look = middle(row, column);
                const Vec3 ray(std::cos(look.y()) * std::cos(look.x()),
                               std::cos(look.y()) * std::sin(look.x()), std::sin(look.y()));
                if (ray.dot(arm) < least) continue;
                one.last_bar = bar_;
                sum += one.weight;
            }
        return sum;
    }

    bool inside(const Vec2& p) const {
        bool in = false;
        for (std::size_t i = 0, last = corners_.size() - 1; i < corners_.size(); last = i++) {
            const Vec2 &a = corners_[last], &b = corners_[i];
            if ((a.y() > p.y()) == (b.y() > p.y())) continue;
            if (p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) in = !in;
        }
        return in;
    }

    Vec3 eye_;
    std::vector<Vec2> corners_;
    Eigen::AlignedBox2d box_;
    int columns_ = 0, rows_ = 0, bar_ = 0;
    std::vector<Cell> cells_;
    double whole_ = 0;
};

}  // namespace

SightTo sightTo(const Vec3& eye, const std::string& name, const Vec3& at, const CageGeometry& cage) {
    SightTo out{name, at, -1, pi, Vec3::Zero()};
    const double far = (at - eye).norm();
    if (far <= 0) return out;
    const Vec3 way = (at - eye) / far;
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const Edge edge = nearestEdge(cage.members[i], eye, way, far);
        if (edge.rad >= out.clear_rad) continue;
        out.member = static_cast<int>(i);
        out.clear_rad = edge.rad;
        out.on_bar = cage.members[i].line.point(edge.station_mm);
    }
    return out;
}

Sight sight(const Driver& driver, const Car& car, const CageGeometry& cage) {
    Sight out;
    for (const CarPoint& point : car.points)
        if (point.name.starts_with("mirror"))
            out.mirrors.push_back(sightTo(driver.eye, point.name, point.at, cage));
    out.ahead = lookAhead(driver.eye, car);
    for (std::size_t i = 0; i < cage.members.size(); ++i)
        hiddenBy(cage, static_cast<int>(i), driver.eye, out.hidden);
    std::sort(out.hidden.begin(), out.hidden.end(),
              [](const HiddenStretch& a, const HiddenStretch& b) { return a.from_rad < b.from_rad; });
    const CarLine* windshield = car.line("windshield");
    if (!windshield) return out;
    WindshieldView view(driver.eye, *windshield);
    if (view.empty()) return out;
    for (std::size_t i = 0; i < cage.members.size(); ++i)
        if (const double share = view.hide(cage.members[i]); share > 0)
            out.windshield_bars.push_back({static_cast<int>(i), share});
    std::stable_sort(out.windshield_bars.begin(), out.windshield_bars.end(),
                     [](const HiddenShare& a, const HiddenShare& b) { return a.share > b.share; });
    out.windshield_hidden = view.hidden();
    return out;
}

}  // namespace hoopwright
