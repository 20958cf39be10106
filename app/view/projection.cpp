#include "app/view/projection.h"

#include <algorithm>

namespace hoopwright {
namespace {

// Nearer than this to the eye a perspective picture says nothing useful.
constexpr double kNearest_mm = 5;

}  // namespace

std::optional<QPointF> Projection::at(const Vec3& p) const {
    const Vec3 seen = view_.project(p, size_.width(), size_.height());
    const bool behind = view_.orthographic_height_mm <= 0 && seen.z() < kNearest_mm;
    if (behind || !seen.allFinite()) return std::nullopt;
    return QPointF(seen.x(), seen.y());
}

double Projection::depth(const Vec3& p) const {
    return (p - view_.eye).dot(view_.forward());
}

double Projection::pixelsPerMm(const Vec3& p) const {
    if (view_.orthographic_height_mm > 0) return size_.height() / view_.orthographic_height_mm;
    return size_.height() / (2 * std::tan(view_.vertical_angle_rad / 2) * std::max(kNearest_mm, depth(p)));
}

std::pair<Vec3, Vec3> Projection::ray(const QPointF& pixel) const {
    return view_.ray(pixel.x(), pixel.y(), size_.width(), size_.height());
}

std::vector<Stroke> Projection::strokes(const std::vector<Vec3>& points, double half_mm) const {
    std::vector<Stroke> found;
    Stroke open;
    double thinnest = 0;
    const auto close = [&] {
        if (!open.points.empty()) found.push_back(std::move(open));
        open = {};
    };
    for (const auto& point : points) {
        const auto seen = at(point);
        if (!seen) {
            close();
            continue;
        }
        const double half = half_mm * pixelsPerMm(point);
        // A bar that runs towards the eye is wide at one end only: each stroke keeps about one width.
        const double thin = std::min(thinnest, half), thick = std::max(open.half_width, half);
        if (!open.points.empty() && thick > 1.3 * thin + 0.5) {
            const Stroke before = open;
            close();
            open.points.push_back(before.points.back());
            thinnest = half;
        }
        if (open.points.empty()) thinnest = half;
        thinnest = std::min(thinnest, half);
        open.points.push_back(*seen);
        open.half_width = std::max(open.half_width, half);
    }
    close();
    return found;
}

std::vector<Stroke> Projection::strokes(const ResolvedMember& member) const {
    if (member.line.empty()) return {};
    std::vector<Vec3> points;
    // Straights are cut too: their two ends are seen at different sizes.
    constexpr double kLongest_mm = 120;
    double before = 0;
    for (const double station : member.line.sampleStations(4)) {
        const int cuts = static_cast<int>((station - before) / kLongest_mm);
        for (int i = 1; i <= cuts; ++i)
            points.push_back(member.line.point(before + (station - before) * i / (cuts + 1)));
        points.push_back(member.line.point(station));
        before = station;
    }
    return strokes(points, member.radius_mm());
}

std::vector<Stroke> Projection::strokes(const ResolvedPlate& plate) const {
    std::vector<Vec3> points;
    for (const auto& corner : plate.outline)
        points.push_back(plate.at + plate.axes.col(0) * corner.x() + plate.axes.col(1) * corner.y());
    if (!points.empty()) points.push_back(points.front());
    return strokes(points, 0);
}

}  // namespace hoopwright
