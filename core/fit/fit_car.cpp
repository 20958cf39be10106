#include "core/fit/fit_car.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {
namespace {

constexpr double kThrough_mm = 1e-6;
constexpr double kOnLine_mm = 70;    // a pillar or rail is about so wide
constexpr double kMostlyThat = 0.7;  // cosine: within 45 degrees of a direction

double distanceToLine(const SmoothLine& line, const Vec3& p) {
    double least = 1e300;
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
        const Vec3 along = line.points[i + 1] - line.points[i];
        const double square = along.squaredNorm();
        const double share = square > 0 ? std::clamp((p - line.points[i]).dot(along) / square, 0.0, 1.0) : 0;
        least = std::min(least, (line.points[i] + share * along - p).norm());
    }
    return least;
}

bool isStructure(const SmoothLine& line) {
    return line.kind == CarLine::Kind::body &&
           (line.name.find("pillar") != std::string::npos || line.name.find("rail") != std::string::npos);
}

}  // namespace

std::string spokenName(std::string_view called) {
    std::string name(called), side;
    for (const std::string_view one : {".left", ".right"})
        if (called.ends_with(one)) {
            side = std::string(one.substr(1)) + " ";
            name.resize(name.size() - one.size());
        }
    std::ranges::replace(name, '_', ' ');
    return side + name;
}

FitCar::FitCar(const Car& car, const ScanMeshes& meshes, SurfaceKinds kinds) : lines_(smoothLines(car)) {
    CarSkin skin = carSkin(car, meshes);
    missing_ = skin.missing();
    for (SkinSurface& surface : skin.surfaces) {
        if (!(kinds & bitOf(surface.kind))) continue;
        meshes_.push_back(surface.mesh);
        surfaces_.push_back(std::move(surface));
    }
}

const SmoothLine* FitCar::line(std::string_view called) const {
    const auto found = std::ranges::find(lines_, called, &SmoothLine::name);
    return found == lines_.end() ? nullptr : &*found;
}

std::optional<FitCar::Near> FitCar::nearest(const Vec3& p, double within_mm) const {
    Near best;
    best.distance_mm = within_mm;
    for (std::size_t i = 0; i < meshes_.size(); ++i)
        if (const auto found = meshes_[i].nearest(p, best.distance_mm))
            best = {found->at, found->distance, static_cast<int>(i), found->triangle};
    return best.mesh < 0 ? std::nullopt : std::optional(best);
}

bool FitCar::isBetween(const Vec3& from, const Vec3& to) const {
    if ((to - from).squaredNorm() == 0) return false;
    return std::ranges::any_of(
        meshes_, [&](const PlacedMesh& mesh) { return mesh.nearest(from, to, kThrough_mm).has_value(); });
}

double FitCar::clearAlong(const Vec3& from, const Vec3& direction, double farthest_mm) const {
    double gone = 0;
    // The nearest place is no nearer than it is: go so far, look again.
    for (int i = 0; i < 200 && gone < farthest_mm; ++i) {
        const auto near = nearest(from + gone * direction);
        if (!near) return farthest_mm;
        if (near->distance_mm < 0.5) break;
        gone += near->distance_mm;
    }
    return std::min(gone, farthest_mm);
}

std::string FitCar::nameAt(const Near& place, const Vec3& from) const {
    const SkinSurface& surface = surfaces_[static_cast<std::size_t>(place.mesh)];
    if (surface.kind == SurfaceKind::scan) return "scan '" + surface.partAt(place.triangle) + "'";
    if (surface.kind != SurfaceKind::shell) return spokenName(surface.partAt(place.triangle));
    const SmoothLine* nearest_line = nullptr;
    double least = kOnLine_mm;
    for (const SmoothLine& line : lines_) {
        if (!isStructure(line)) continue;
        const double distance = distanceToLine(line, place.at);
        if (distance >= least) continue;
        least = distance;
        nearest_line = &line;
    }
    if (nearest_line) return spokenName(nearest_line->name);
    const Vec3 out = (place.at - from).normalized();
    if (out.z() > kMostlyThat) return "roof";
    if (out.z() < -kMostlyThat) return "floor";
    if (std::abs(out.y()) >= std::abs(out.x())) return place.at.y() > 0 ? "left side" : "right side";
    return out.x() > 0 ? "front" : "rear";
}

}  // namespace hoopwright
