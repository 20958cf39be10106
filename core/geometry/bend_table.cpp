#include <cmath>
#include <numbers>
#include <optional>

#include "core/geometry/centreline.h"

namespace hoopwright {
namespace {

using std::numbers::pi;

/// Turn about `feed`, right-handed, that brings `from` onto `to` (both square to feed), in (-pi, pi].
double rotationAbout(const Vec3& feed, const Vec3& from, const Vec3& to) {
    const double turn = std::atan2(from.cross(to).dot(feed), from.dot(to));
    return turn < -pi + 1e-12 ? turn + 2 * pi : turn;  // half a turn either way is the same: say plus
}

Vec3 turned(const Vec3& v, const Vec3& axis, double angle_rad) {
    return Eigen::AngleAxisd(angle_rad, axis) * v;
}

/// Corner between two pieces that meet without a bend: its axis and angle, if there is one.
struct SharpCorner {
    Vec3 axis;
    double angle_rad;
};
std::optional<SharpCorner> sharpCorner(const Vec3& in, const Vec3& out) {
    const Vec3 cross = in.cross(out);
    const double angle = std::atan2(cross.norm(), in.dot(out));
    if (angle < 1e-9 || pi - angle < 1e-9) return std::nullopt;
    return SharpCorner{cross.normalized(), angle};
}

/// Collects rows while walking along a centreline.
class TableWriter {
public:
    void addStraight(double length_mm) {
        straight_ += length_mm;
        station_ += length_mm;
    }
    void addBend(const Vec3& feed, const Vec3& axis, double angle_rad, double radius_mm) {
        BendRow row;
        row.straight_before_mm = straight_;
        row.rotation_rad = axis_ ? rotationAbout(feed, *axis_, axis) : 0;
        row.angle_rad = angle_rad;
        row.radius_mm = radius_mm;
        row.arc_mm = radius_mm * angle_rad;
        row.mark_start_mm = station_;
        station_ += row.arc_mm;
        row.mark_end_mm = station_;
        table_.rows.push_back(row);
        straight_ = 0;
        axis_ = axis;
    }
    BendTable finish() {
        table_.last_straight_mm = straight_;
        table_.developed_mm = station_;
        return table_;
    }

private:
    BendTable table_;
    double straight_ = 0;
    double station_ = 0;
    std::optional<Vec3> axis_;  ///< of the bend before
};

}  // namespace

BendTable bendTable(const Centreline& line) {
    TableWriter writer;
    const auto pieces = line.pieces();
    for (size_t i = 0; i < pieces.size(); ++i) {
        const Piece& piece = pieces[i];
        if (i > 0) {
            const auto corner = sharpCorner(pieces[i - 1].endTangent(), piece.tangent);
            if (corner) writer.addBend(pieces[i - 1].endTangent(), corner->axis, corner->angle_rad, 0);
        }
        if (piece.kind == Piece::Kind::straight) {
            writer.addStraight(piece.length_mm);
        } else {
            writer.addBend(piece.tangent, piece.axis, piece.angle_rad, piece.radius_mm);
        }
    }
    return writer.finish();
}

Centreline walkBendTable(const BendTable& table, const Vec3& start, const Vec3& feed, const Vec3& up) {
    std::vector<Piece> pieces;
    Vec3 at = start;
    Vec3 along = feed.normalized();
    Vec3 axis = along.cross(up).normalized();
    const auto addStraight = [&](double length_mm) {
        if (length_mm <= 1e-9) return;
        Piece piece;
        piece.start = at;
        piece.tangent = along;
        piece.length_mm = length_mm;
        pieces.push_back(piece);
        at = piece.end();
    };
    for (size_t i = 0; i < table.rows.size(); ++i) {
        const BendRow& row = table.rows[i];
        addStraight(row.straight_before_mm);
        axis = turned(axis, along, row.rotation_rad);
        if (row.radius_mm > 0) {
            Piece piece;
            piece.kind = Piece::Kind::bend;
            piece.start = at;
            piece.tangent = along;
            piece.axis = axis;
            piece.centre = at + row.radius_mm * axis.cross(along);
            piece.radius_mm = row.radius_mm;
            piece.angle_rad = row.angle_rad;
            piece.length_mm = row.radius_mm * row.angle_rad;
            piece.vertex = static_cast<int>(i) + 1;
            pieces.push_back(piece);
            at = piece.end();
        }
        along = turned(along, axis, row.angle_rad);
    }
    addStraight(table.last_straight_mm);
    return Centreline(std::move(pieces));
}

}  // namespace hoopwright
