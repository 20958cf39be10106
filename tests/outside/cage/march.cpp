#include "tests/outside/cage/march.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopwright {
namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();
constexpr int kMostSteps = 20'000;  ///< a tangent surface is neared ever slower

double toStraight(const Piece& piece, const Vec3& p, double from, double to) {
    const double along = std::clamp((p - piece.start).dot(piece.tangent), from, to);
    return (p - piece.start - along * piece.tangent).norm();
}

double toArc(const Piece& piece, const Vec3& p) {
    const Vec3 to_start = (piece.start - piece.centre) / piece.radius_mm;
    const Vec3 onward = piece.axis.cross(to_start);
    const Vec3 q = p - piece.centre;
    double turn = std::atan2(q.dot(onward), q.dot(to_start));
    // Off the arc, the nearer of its ends.
    if (turn < 0 || turn > piece.angle_rad) {
        const double past = std::abs(std::remainder(turn - piece.angle_rad, 2 * M_PI));
        turn = std::abs(std::remainder(turn, 2 * M_PI)) < past ? 0 : piece.angle_rad;
    }
    return (q - piece.radius_mm * (std::cos(turn) * to_start + std::sin(turn) * onward)).norm();
}

/// Over which side of the plate a flap is, in the plate's own length and width.
Vec2 overEdge(PlateEdge edge) {
    switch (edge) {
        case PlateEdge::ahead:
            return {1, 0};
        case PlateEdge::behind:
            return {-1, 0};
        case PlateEdge::left:
            return {0, 1};
        case PlateEdge::right:
            break;
    }
    return {0, -1};
}

/// The flat sheet and each flap turned up or down about the outer line of its fold, by what is said of them.
void addSheet(const ResolvedPlate& plate, std::vector<Obstacle>& out) {
    Vec2 half = Vec2::Zero();
    for (const Vec2& corner : plate.outline) half = half.cwiseMax(corner.cwiseAbs());
    const double t = plate.thickness_mm;
    const Vec3 normal = plate.axes.col(2);
    out.push_back(Obstacle::sheet(plate.at - t / 2 * normal, plate.axes, {half.x(), half.y(), t / 2}));
    for (const PlacedFlap& flap : plate.flaps) {
        const Vec2 over = overEdge(flap.edge), on(-over.y(), over.x());
        const Vec3 outward = plate.axes.leftCols<2>() * over, along_fold = plate.axes.leftCols<2>() * on;
        // The outside of a fold upwards is under the plate.
        const Vec3 edge = plate.at + over.cwiseAbs().dot(half) * outward - (flap.up() ? t : 0) * normal;
        const Vec3 middle = edge + ((flap.from + flap.to) / 2 - edge).dot(along_fold) * along_fold;
        // About that axis a positive turn lifts what lies outward.
        const Eigen::AngleAxisd turn(flap.angle_rad, outward.cross(normal));
        Eigen::Matrix3d axes;
        axes << turn * outward, along_fold, turn * normal;
        const double into = flap.up() ? 1 : -1;  // the metal is on the inside of the fold
        out.push_back(Obstacle::sheet(middle + flap.length_mm / 2 * axes.col(0) + into * t / 2 * axes.col(2),
                                      axes, {flap.length_mm / 2, flap.width_mm / 2, t / 2}));
    }
}

}  // namespace

Obstacle Obstacle::tube(const Centreline& line, double radius_mm) {
    Obstacle out;
    out.line_ = &line;
    out.radius_mm_ = radius_mm;
    return out;
}

Obstacle Obstacle::face(const Vec3& point, const Vec3& normal) {
    Obstacle out;
    out.point_ = point;
    out.normal_ = normal;
    return out;
}

Obstacle Obstacle::sheet(const Vec3& middle, const Eigen::Matrix3d& axes, const Vec3& half_mm) {
    Obstacle out;
    out.point_ = middle;
    out.axes_ = axes;
    out.half_mm_ = half_mm;
    return out;
}

Gap Obstacle::gap(const Vec3& p) const {
    if (half_mm_.x() > 0) {
        const Vec3 past = (axes_.transpose() * (p - point_)).cwiseAbs() - half_mm_;
        return {past.cwiseMax(0).norm() + std::min(past.maxCoeff(), 0.0), false};
    }
    if (!line_) return {normal_.dot(p - point_), false};
    double on_tube = kFar, beyond = kFar;
    const auto pieces = line_->pieces();
    for (const Piece& piece : pieces) {
        on_tube =
            std::min(on_tube, piece.kind == Piece::Kind::bend ? toArc(piece, p)
                                                              : toStraight(piece, p, 0, piece.length_mm));
    }
    const Piece &first = pieces.front(), &last = pieces.back();
    if (first.kind == Piece::Kind::straight) beyond = std::min(beyond, toStraight(first, p, -kFar, 0));
    if (last.kind == Piece::Kind::straight)
        beyond = std::min(beyond, toStraight(last, p, last.length_mm, kFar));
    return {std::min(on_tube, beyond) - radius_mm_, beyond < on_tube};
}

std::vector<Obstacle> obstaclesOf(const CageGeometry& cage, const ResolvedEnd& end) {
    std::vector<Obstacle> out;
    const auto add = [&](int member) {
        const ResolvedMember& host = cage.members[static_cast<std::size_t>(member)];
        out.push_back(Obstacle::tube(host.line, host.section.od_mm / 2));
    };
    if (end.on == ResolvedEnd::On::member) add(end.host);
    if (end.on == ResolvedEnd::On::plate) {
        const ResolvedPlate& plate = cage.plates[static_cast<std::size_t>(end.plate)];
        if (plate.flaps.empty())
            out.push_back(Obstacle::face(plate.at, plate.axes.col(2)));
        else
            addSheet(plate, out);
    }
    for (const int also : end.also) add(also);
    return out;
}

Generator generatorOf(const CopeEnd& end, double radius_mm, double phi_rad) {
    const Vec3 side = end.inward.cross(end.clock);
    return {end.foot + radius_mm * (std::cos(phi_rad) * end.clock + std::sin(phi_rad) * side), end.inward};
}

std::optional<double> march(const Generator& generator, const Obstacle& obstacle, double from_mm,
                            double to_mm) {
    double s = from_mm;
    for (int step = 0; step < kMostSteps && s > to_mm; ++step) {
        const Gap gap = obstacle.gap(generator.at(s));
        if (gap.distance_mm < kOnSurface_mm) return gap.past_end ? std::nullopt : std::optional(s);
        s -= gap.distance_mm;
    }
    if (s <= to_mm) return std::nullopt;
    return s;
}

std::optional<double> march(const Generator& generator, const std::vector<Obstacle>& obstacles,
                            double from_mm, double to_mm) {
    std::optional<double> first;
    for (const Obstacle& obstacle : obstacles) {
        const auto met = march(generator, obstacle, from_mm, to_mm);
        if (met && (!first || *met > *first)) first = met;
    }
    return first;
}

}  // namespace hoopwright
