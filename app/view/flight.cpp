#include "app/view/flight.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "app/view/sight.h"

namespace hoopwright {
namespace {

double armLength(const View& view) {
    return std::max(1.0, (view.eye - view.target).norm());
}

/// The camera's frame: right, up and back as columns.
Eigen::Quaterniond attitude(const View& view) {
    const Vec3 back = -view.sight();
    Vec3 right = view.up.cross(back);
    if (right.squaredNorm() < 1e-18) right = back.unitOrthogonal();
    right.normalize();
    Eigen::Matrix3d axes;
    axes.col(0) = right;
    axes.col(1) = back.cross(right);
    axes.col(2) = back;
    return Eigen::Quaterniond(axes);
}

double between(double a, double b, double t) {
    return a + (b - a) * t;
}

/// How well a camera looking along `forward` shows the shape: 1 face on, 0 edge on.
double seenFrom(const ShownShape& shape, const Vec3& forward) {
    if (const auto* line = std::get_if<ShownLine>(&shape)) {
        const Vec3 way = line->to - line->from;
        return way.norm() < 1e-9 ? 1 : way.normalized().cross(forward).norm();
    }
    if (const auto* angle = std::get_if<ShownAngle>(&shape)) {
        const Vec3 normal = (angle->from - angle->apex).cross(angle->to - angle->apex);
        return normal.norm() < 1e-9 ? 1 : std::abs(normal.normalized().dot(forward));
    }
    if (const auto* plane = std::get_if<ShownPlane>(&shape))
        return 0.4 + 0.6 * std::abs(plane->normal.dot(forward));
    if (const auto* band = std::get_if<ShownBand>(&shape)) {
        const Vec3 normal = (band->high - band->low).cross(band->across);
        return normal.norm() < 1e-9 ? 1 : std::abs(normal.normalized().dot(forward));
    }
    return 1;
}

double worstSeen(const std::vector<ShownShape>& shapes, const Vec3& forward) {
    double worst = 1;
    for (const auto& shape : shapes) worst = std::min(worst, seenFrom(shape, forward));
    return worst;
}

void extend(Box& box, const ShownShape& shape) {
    std::visit(
        [&](const auto& s) {
            using Shape = std::decay_t<decltype(s)>;
            if constexpr (std::is_same_v<Shape, ShownPoint>) box.extend(s.at);
            if constexpr (std::is_same_v<Shape, ShownLine>) box.extend(s.from), box.extend(s.to);
            if constexpr (std::is_same_v<Shape, ShownAngle>)
                box.extend(s.apex), box.extend(s.from), box.extend(s.to);
            if constexpr (std::is_same_v<Shape, ShownPlane>) box.extend(s.at);
            if constexpr (std::is_same_v<Shape, ShownBand>) box.extend(s.low), box.extend(s.high);
        },
        shape);
}

}  // namespace

std::vector<Vec3> pointsAlong(const Centreline& line) {
    constexpr int kPoints = 9;
    std::vector<Vec3> points;
    for (int n = 0; n < kPoints && !line.empty(); ++n)
        points.push_back(line.point(line.length_mm() * n / (kPoints - 1)));
    return points;
}

namespace {

std::vector<Vec3> pointsOf(const Finding& finding, const CageGeometry& cage) {
    std::vector<Vec3> points{finding.evidence.look_at};
    if (finding.evidence.shapes.empty())
        for (const auto& id : finding.evidence.members)
            if (const int i = cage.member(id); i >= 0)
                for (const auto& point : pointsAlong(cage.members[static_cast<std::size_t>(i)].line))
                    points.push_back(point);
    for (const auto& shape : finding.evidence.shapes) {
        if (const auto* point = std::get_if<ShownPoint>(&shape)) points.push_back(point->at);
        if (const auto* line = std::get_if<ShownLine>(&shape))
            points.insert(points.end(), {line->from, line->to});
        if (const auto* angle = std::get_if<ShownAngle>(&shape))
            points.insert(points.end(), {angle->apex, angle->from, angle->to});
    }
    return points;
}

/// Share of the points that the first driver's body hides from the eye.
double hiddenShare(const std::vector<Vec3>& points, const Job& job, const Vec3& eye) {
    if (job.drivers.empty()) return 0;
    const auto hidden = std::count_if(points.begin(), points.end(), [&](const Vec3& point) {
        return hiddenByDriver(job.drivers.front(), eye, point + 0.01 * (eye - point));
    });
    return static_cast<double>(hidden) / static_cast<double>(points.size());
}

/// What the finding is about with room round it, so that one sees where in the car one is.
Box aroundFinding(const Finding& finding, const CageGeometry& cage) {
    Box box = boundsOf(finding);
    // Without measured shapes the bars themselves say where it is.
    if (finding.evidence.shapes.empty())
        for (const auto& id : finding.evidence.members)
            if (const int i = cage.member(id); i >= 0)
                box.extend(cage.members[static_cast<std::size_t>(i)].line.bounds());
    const double half = std::max(330.0, 0.9 * box.sizes().maxCoeff());
    const Vec3 middle = box.center();
    return {middle - Vec3::Constant(half), middle + Vec3::Constant(half)};
}

/// Of the views round the one of now, the one that shows shapes face on and points past the driver, not far
/// from it and neither from below nor from straight above.
View bestView(const std::vector<ShownShape>& shapes, const std::vector<Vec3>& points, const Box& box,
              const Job& job, const View& now, double aspect) {
    View best = now;
    double best_worth = -1e9;
    for (const double turn : {0.0, 0.5, -0.5, 1.0, -1.0, 1.5, -1.5, 2.2, -2.2, 3.0})
        for (const double rise : {0.0, 0.3, -0.3, 0.6, -0.6, -1.0}) {
            const View view = fitted(asPerspective(now).orbited(turn, rise), box, aspect);
            const double down = -view.sight().z();
            const bool in_the_air = down > 0.05 && down < 0.9;
            const double worth = std::min(0.8, worstSeen(shapes, view.forward())) -
                                 0.6 * hiddenShare(points, job, view.eye) -
                                 0.12 * (std::abs(turn) + std::abs(rise)) - (in_the_air ? 0 : 0.3);
            if (worth > best_worth) best_worth = worth, best = view;
        }
    return best;
}

}  // namespace

View asOrthographic(View view) {
    if (view.orthographic_height_mm > 0) return view;
    view.orthographic_height_mm = 2 * std::tan(view.vertical_angle_rad / 2) * armLength(view);
    return view;
}

View asPerspective(View view) {
    if (view.orthographic_height_mm <= 0) return view;
    const double arm = view.orthographic_height_mm / (2 * std::tan(view.vertical_angle_rad / 2));
    view.eye = view.target - view.sight() * arm;
    view.orthographic_height_mm = 0;
    return view;
}

Flight::Flight(const View& from, const View& to) : from_(from), to_(to), last_(to) {
    const bool both_flat = from.orthographic_height_mm > 0 && to.orthographic_height_mm > 0;
    if (both_flat) return;
    from_ = asPerspective(from);
    to_ = asPerspective(to);
}

View Flight::at(double t) const {
    if (t >= 1) return last_;
    t = std::max(0.0, t);
    const double eased = t * t * (3 - 2 * t);
    const Eigen::Quaterniond turn = attitude(from_).slerp(eased, attitude(to_));
    const double arm = std::exp(between(std::log(armLength(from_)), std::log(armLength(to_)), eased));
    View view = from_;
    view.upright = to_.upright;
    view.target = from_.target + (to_.target - from_.target) * eased;
    view.eye = view.target + turn * Vec3::UnitZ() * arm;
    view.up = turn * Vec3::UnitY();
    view.vertical_angle_rad = between(from_.vertical_angle_rad, to_.vertical_angle_rad, eased);
    if (from_.orthographic_height_mm > 0)
        view.orthographic_height_mm = std::exp(
            between(std::log(from_.orthographic_height_mm), std::log(to_.orthographic_height_mm), eased));
    return view;
}

View orbitedByPixels(const View& view, const QPointF& by, QSize size) {
    const double per_pixel = std::numbers::pi / std::max(1, size.height());
    return view.orbited(-by.x() * per_pixel, by.y() * per_pixel);
}

View pannedByPixels(const View& view, const QPointF& by, QSize size) {
    const double seen = view.orthographic_height_mm > 0
                            ? view.orthographic_height_mm
                            : 2 * std::tan(view.vertical_angle_rad / 2) * armLength(view);
    const double mm = seen / std::max(1, size.height());
    return view.panned(-by.x() * mm, by.y() * mm);
}

Box boundsOf(const Finding& finding) {
    Box box;
    for (const auto& shape : finding.evidence.shapes) extend(box, shape);
    if (box.isEmpty()) box.extend(finding.evidence.look_at);
    return box;
}

double evidenceWidth_mm(const Finding& finding) {
    return std::clamp(0.008 * boundsOf(finding).diagonal().norm(), 4.0, 12.0);
}

View viewOfFinding(const Finding& finding, const Job& job, const CageGeometry& cage, const View& now,
                   double aspect) {
    return bestView(finding.evidence.shapes, pointsOf(finding, cage), aroundFinding(finding, cage), job, now,
                    aspect);
}

View viewOfLine(const std::vector<Vec3>& line, const Box& box, const Job& job, const View& now,
                double aspect) {
    std::vector<ShownShape> shapes;
    if (line.size() > 1) shapes.push_back(ShownLine{line.front(), line.back()});
    return bestView(shapes, line, box, job, now, aspect);
}

}  // namespace hoopwright
