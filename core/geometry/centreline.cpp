#include "core/geometry/centreline.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

using std::numbers::pi;

/// Two stations nearer than this are one place [mm].
constexpr double kSamePlace_mm = 1e-9;

/// Distance along a piece of its point nearest to p.
double nearestAlong(const Piece& piece, const Vec3& p) {
    const Vec3 to_p = p - piece.start;
    if (piece.kind == Piece::Kind::straight) return std::clamp(piece.tangent.dot(to_p), 0.0, piece.length_mm);
    const Vec3 spoke = piece.start - piece.centre;
    const Vec3 from_centre = p - piece.centre;
    double turned = std::atan2(piece.tangent.dot(from_centre) * piece.radius_mm, spoke.dot(from_centre));
    if (turned < 0) turned += 2 * pi;
    if (turned <= piece.angle_rad) return turned * piece.radius_mm;
    return (p - piece.start).squaredNorm() <= (p - piece.end()).squaredNorm() ? 0 : piece.length_mm;
}

/// Adds where a piece crosses the plane n.(x - p) = 0, as distances along it.
std::vector<double> pieceCrossings(const Piece& piece, const Vec3& p, const Vec3& n) {
    const bool straight = piece.kind == Piece::Kind::straight;
    const double radius = straight ? 1 : piece.radius_mm;
    // Height over the plane: straight: level + slope t; bend: level + spoke cos a + slope sin a.
    const double slope = radius * n.dot(piece.tangent);
    const double spoke = straight ? 0 : n.dot(piece.start - piece.centre);
    const double level = n.dot((straight ? piece.start : piece.centre) - p);
    const double swing = std::hypot(slope, spoke);
    if (swing <= kSamePlace_mm * (straight ? 1e-3 : 1)) {
        if (std::abs(level) > kSamePlace_mm) return {};
        return {0, piece.length_mm};
    }
    std::vector<double> found;
    if (straight) {
        found = {-level / slope};
    } else {
        const double ratio = -level / swing;
        if (std::abs(ratio) > 1 + 1e-12) return {};
        const double middle = std::atan2(slope, spoke);
        const double half = std::acos(std::clamp(ratio, -1.0, 1.0));
        for (double turned : {middle - half, middle + half}) {
            if (turned < -kSamePlace_mm / radius) turned += 2 * pi;
            found.push_back(turned * radius);
        }
    }
    std::erase_if(found, [&](double s) { return s < -kSamePlace_mm || s > piece.length_mm + kSamePlace_mm; });
    return found;
}

Piece reversedPiece(const Piece& piece) {
    Piece out = piece;
    out.start = piece.end();
    out.tangent = -piece.endTangent();
    out.axis = -piece.axis;
    return out;
}

Piece mirroredPiece(const Piece& piece) {
    Piece out = piece;
    out.start = mirrored(piece.start);
    out.tangent = mirrored(piece.tangent);
    out.centre = mirrored(piece.centre);
    out.axis = -mirrored(piece.axis);  // a mirror turns the sense of every turn
    return out;
}

}  // namespace

Centreline::Centreline(std::vector<Piece> pieces) : pieces_(std::move(pieces)) {
    piece_bounds_.reserve(pieces_.size());
    for (Piece& piece : pieces_) {
        piece.station_mm = length_;
        length_ += piece.length_mm;
        piece_bounds_.push_back(piece.bounds());
        bounds_.extend(piece_bounds_.back());
    }
}

const Piece& Centreline::pieceAt(double station_mm) const {
    const auto after = std::upper_bound(pieces_.begin(), pieces_.end(), station_mm,
                                        [](double s, const Piece& piece) { return s < piece.station_mm; });
    return after == pieces_.begin() ? *after : *(after - 1);
}

Vec3 Centreline::point(double station_mm) const {
    const double station = std::clamp(station_mm, 0.0, length_);
    const Piece& piece = pieceAt(station);
    return piece.point(station - piece.station_mm);
}

Vec3 Centreline::tangent(double station_mm) const {
    const double station = std::clamp(station_mm, 0.0, length_);
    const Piece& piece = pieceAt(station);
    return piece.tangentAt(station - piece.station_mm);
}

int Centreline::bendCount() const {
    return static_cast<int>(std::ranges::count(pieces_, Piece::Kind::bend, &Piece::kind));
}

Centreline Centreline::reversed() const {
    std::vector<Piece> pieces;
    pieces.reserve(pieces_.size());
    for (auto piece = pieces_.rbegin(); piece != pieces_.rend(); ++piece)
        pieces.push_back(reversedPiece(*piece));
    return Centreline(std::move(pieces));
}

Centreline Centreline::moved(const Vec3& by) const {
    std::vector<Piece> out = pieces_;
    for (Piece& piece : out) {
        piece.start += by;
        piece.centre += by;
    }
    return Centreline(std::move(out));
}

Centreline Centreline::mirrored() const {
    std::vector<Piece> pieces;
    pieces.reserve(pieces_.size());
    for (const Piece& piece : pieces_) pieces.push_back(mirroredPiece(piece));
    return Centreline(std::move(pieces));
}

double Centreline::nearestStation(const Vec3& p) const {
    double best = std::numeric_limits<double>::infinity();
    double station = 0;
    for (const Piece& piece : pieces_) {
        const double along = nearestAlong(piece, p);
        const double distance = (piece.point(along) - p).squaredNorm();
        if (distance >= best) continue;
        best = distance;
        station = piece.station_mm + along;
    }
    return station;
}

std::vector<double> Centreline::crossings(const Vec3& p, const Vec3& n) const {
    std::vector<double> stations;
    for (const Piece& piece : pieces_) {
        for (double along : pieceCrossings(piece, p, n)) {
            stations.push_back(piece.station_mm + std::clamp(along, 0.0, piece.length_mm));
        }
    }
    std::ranges::sort(stations);
    const auto same = [](double a, double b) { return b - a <= 2 * kSamePlace_mm; };
    stations.erase(std::unique(stations.begin(), stations.end(), same), stations.end());
    return stations;
}

std::vector<double> Centreline::sampleStations(double chord_error_mm) const {
    std::vector<double> stations;
    for (const Piece& piece : pieces_) {
        int steps = 1;
        if (piece.kind == Piece::Kind::bend) {
            // A chord over w strays R (1 - cos(w/2)) from its arc.
            const double least_cosine = std::clamp(1 - chord_error_mm / piece.radius_mm, -1.0, 1.0);
            const double widest = std::max(2 * std::acos(least_cosine), 1e-4);
            steps = static_cast<int>(std::ceil(piece.angle_rad / widest));
        }
        for (int i = 0; i < steps; ++i) stations.push_back(piece.station_mm + piece.length_mm * i / steps);
    }
    if (!stations.empty()) stations.push_back(length_);
    return stations;
}

}  // namespace hoopwright
