#include "core/starter/car_places.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace hoopwright::starting {
namespace {

constexpr double kOnTop_mm = 20;  ///< a point this far off a rail's upper face is on it

/// Point of a polyline at an x it reaches.
std::optional<Vec3> atX(const std::vector<Vec3>& line, double x) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Vec3 &a = line[i], &b = line[i + 1];
        if ((x - a.x()) * (x - b.x()) > 0 || a.x() == b.x()) continue;
        return Vec3(a + (x - a.x()) / (b.x() - a.x()) * (b - a));
    }
    return std::nullopt;
}

bool isInside(const std::vector<Vec3>& ring, double x, double y) {
    bool inside = false;
    for (std::size_t i = 0, last = ring.size() - 1; i < ring.size(); last = i++) {
        const Vec3 &a = ring[last], &b = ring[i];
        if ((a.y() > y) == (b.y() > y)) continue;
        if (x < a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) inside = !inside;
    }
    return inside;
}

/// Height of the plane through a ring, by least squares.
double heightOn(const std::vector<Vec3>& ring, double x, double y) {
    Eigen::MatrixXd m(static_cast<Eigen::Index>(ring.size()), 3);
    Eigen::VectorXd z(m.rows());
    for (Eigen::Index i = 0; i < m.rows(); ++i) {
        const Vec3& p = ring[static_cast<std::size_t>(i)];
        m.row(i) << p.x(), p.y(), 1;
        z[i] = p.z();
    }
    const Vec3 fit = m.completeOrthogonalDecomposition().solve(z);
    return fit.x() * x + fit.y() * y + fit.z();
}

bool isSill(const FrameRail& rail) {
    return rail.name.starts_with("sill");
}

bool isLeft(std::string_view name) {
    return name.ends_with(".left");
}

}  // namespace

CarPlaces::CarPlaces(const Car& car, const ScanMeshes& meshes) : car_(car), skin_(car, meshes) {
    std::string wanted;
    for (const char* name :
         {"sill_b.left", "sill_a.left", "b_pillar_top.left", "windshield_top.left", "a_pillar_foot.left"}) {
        if (!car.pointAt(name)) wanted += (wanted.empty() ? "" : ", ") + std::string(name);
    }
    if (!wanted.empty()) {
        missing_ =
            "A starter goes by points of the car that are not measured: " + wanted + ". Measure them first.";
        return;
    }
    if (car.body == Car::Body::open) {
        missing_ = "A starter goes by the roof, and this car is open. Lay the hoop out by hand.";
        return;
    }
}

std::optional<double> CarPlaces::floorAt(double x, double y, double under_z) const {
    std::optional<double> best;
    for (const CarLine& line : car_.lines) {
        if (line.kind != CarLine::Kind::floor || !line.closed || line.points.size() < 3) continue;
        const bool inside =
            isInside(line.points, x, y) || (car_.standsForBoth(line) && isInside(line.points, x, -y));
        if (!inside) continue;
        const double z = heightOn(line.points, x, y);
        if (z < under_z && (!best || z > *best)) best = z;
    }
    return best;
}

double CarPlaces::sillInner(double x) const {
    for (const FrameRail& rail : car_.rails) {
        if (!isSill(rail) || !isLeft(rail.name)) continue;
        if (const auto at = atX(rail.line, x)) return at->y() - rail.width_mm / 2;
    }
    const Vec3 b = point("sill_b.left"), a = point("sill_a.left");
    const double t = std::clamp((x - b.x()) / (a.x() - b.x()), 0.0, 1.0);
    return b.y() + t * (a.y() - b.y());
}

std::string CarPlaces::sillRail(double x) const {
    for (const FrameRail& rail : car_.rails)
        if (isSill(rail) && isLeft(rail.name) && atX(rail.line, x)) return rail.name;
    return "";
}

std::optional<RailTop> CarPlaces::topOf(const FrameRail& rail, double x) const {
    for (std::size_t i = 0; i + 1 < rail.line.size(); ++i) {
        const Vec3 &a = rail.line[i], &b = rail.line[i + 1];
        if ((x - a.x()) * (x - b.x()) > 0 || a.x() == b.x()) continue;
        const Vec3 way = (b - a) * (b.x() > a.x() ? 1 : -1);
        const Vec3 level(way.x(), 0, way.z());
        RailTop top;
        top.rail = rail.name;
        top.along = level.normalized();
        top.normal = Vec3(-top.along.z(), 0, top.along.x());
        const Vec3 middle = a + (x - a.x()) / (b.x() - a.x()) * (b - a);
        top.at = middle + Vec3(0, 0, rail.height_mm / 2 / top.normal.z());
        return top;
    }
    return std::nullopt;
}

std::vector<RailTop> CarPlaces::railTops(const std::vector<double>& at_x) const {
    std::vector<RailTop> tops;
    for (const FrameRail& rail : car_.rails) {
        if (isSill(rail) || !isLeft(rail.name)) continue;
        for (const CarPoint& point : car_.points) {
            if (!isLeft(point.name)) continue;
            auto top = topOf(rail, point.at.x());
            if (!top || std::abs((point.at - top->at).dot(top->normal)) > kOnTop_mm ||
                std::abs(point.at.y() - top->at.y()) > rail.width_mm / 2)
                continue;
            top->at = point.at;
            top->point = point.name;
            tops.push_back(*top);
        }
        for (const double x : at_x)
            if (const auto top = topOf(rail, x)) tops.push_back(*top);
    }
    return tops;
}

std::optional<Vec3> CarPlaces::lineAt(const std::string& name, double x) const {
    const CarLine* line = car_.line(name);
    return line ? atX(line->points, x) : std::nullopt;
}

std::optional<CarPlaces::TunnelFace> CarPlaces::tunnelAt(double x) const {
    const auto top = lineAt("tunnel.left", x), foot = lineAt("tunnel_foot.left", x);
    if (top && foot) {
        const Vec3 up = *top - *foot;
        return TunnelFace{0.5 * (*top + *foot), Vec3(0, up.z(), -up.y()).normalized()};
    }
    const auto side = car_.pointAt("tunnel_side");
    if (!side) return std::nullopt;
    return TunnelFace{Vec3(x, std::abs(side->y()), side->z()), Vec3::UnitY()};
}

double CarPlaces::beltAt(double x) const {
    if (const auto belt = lineAt("belt.left", x)) return belt->z();
    return point("a_pillar_foot.left").z();
}

AtCarPoint CarPlaces::anchorOf(const Vec3& at, bool right) const {
    AtCarPoint best;
    double least = 1e300;
    for (const CarPoint& point : car_.points) {
        if (!isLeft(point.name)) continue;
        const auto here = car_.pointAt(right ? otherSide(point.name) : point.name);
        if (!here) continue;
        const double away = (*car_.pointAt(point.name) - (right ? mirrored(at) : at)).norm();
        if (away >= least) continue;
        least = away;
        best = {right ? otherSide(point.name) : point.name, at - *here};
    }
    return best;
}

Vec3 CarPlaces::onTheRight(const Vec3& left) const {
    const AtCarPoint anchor = anchorOf(left);
    const auto right = car_.pointAt(otherSide(anchor.point));
    return right ? Vec3(*right + mirrored(anchor.offset)) : mirrored(left);
}

}  // namespace hoopwright::starting
