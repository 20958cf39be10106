#include "core/shop/bend_checks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

constexpr double kQuarter_rad = 0.25 * std::numbers::pi / 180;
constexpr double kApart_mm = 10;  // ends nearer than this give no line to chalk

double fromLine(const Vec3& p, const Vec3& at, const Vec3& along) {
    return (p - at).cross(along).norm();
}

Vec3 skinAtMiddle(const Piece& bend, double radius_mm) {
    const Vec3 middle = bend.point(bend.length_mm / 2);
    return middle + radius_mm * (middle - bend.centre).normalized();
}

/// Where the two straights of a bend cross.
Vec3 corner(const Piece& bend) {
    return bend.start + bend.radius_mm * std::tan(bend.angle_rad / 2) * bend.tangent;
}

std::vector<Piece> bendsOf(const Centreline& line) {
    std::vector<Piece> out;
    for (const Piece& piece : line.pieces())
        if (piece.kind == Piece::Kind::bend) out.push_back(piece);
    return out;
}

/// Axes of the floor: columns along A to B, square to it, up.
struct Floor {
    Vec3 origin;
    Eigen::Matrix3d axes;
    Vec3 on(const Vec3& p) const { return axes.transpose() * (p - origin); }
};

Floor floorOf(const Centreline& line, const Piece& lies, const Piece& first) {
    Vec3 up = lies.axis;
    Vec3 along = line.end() - line.start();
    along -= along.dot(up) * up;
    if (along.norm() < kApart_mm) along = lies.tangent;
    along.normalize();
    if (up.cross(along).dot(corner(first) - line.start()) < 0) up = -up;
    Floor floor;
    floor.axes << along, up.cross(along), up;
    // In height from the plane that lies flat; on it from end A.
    floor.origin = line.start() + (lies.start - line.start()).dot(up) * up;
    return floor;
}

/// The bend that keeps the tube steadiest on a floor: the longest legs.
std::size_t flattest(const BendSheet& sheet) {
    std::size_t best = 0;
    double most = -1;
    for (std::size_t i = 0; i < sheet.bends.size(); ++i) {
        const double after =
            i + 1 < sheet.bends.size() ? sheet.bends[i + 1].straight_before_mm : sheet.last_straight_mm;
        const double legs = sheet.bends[i].straight_before_mm + after;
        if (legs > most + 1e-6) {
            most = legs;
            best = i;
        }
    }
    return best;
}

std::size_t liesOn(const BendSheet& sheet) {
    return sheet.flat ? 0 : flattest(sheet);
}

Centreline walked(const BendSheet& sheet) {
    return walkBendTable(sheet.table(), Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY());
}

void addFloor(BendSheet& sheet, const Centreline& line, const std::vector<Piece>& bends, const Floor& floor) {
    const auto add = [&](std::string what, const Vec3& p) {
        sheet.floor.push_back({std::move(what), floor.on(p)});
    };
    add("end A", line.start());
    for (std::size_t i = 0; i < bends.size(); ++i) {
        const std::string name = "bend " + std::to_string(i + 1);
        add(name + " starts", bends[i].start);
        add(name + ", middle", bends[i].point(bends[i].length_mm / 2));
        add(name + " ends", bends[i].end());
        add(name + ", corner of its legs", corner(bends[i]));
        add(name + ", centre of the die", bends[i].centre);
    }
    add("end B", line.end());
}

void addTapes(BendSheet& sheet, const Centreline& line, const std::vector<Piece>& bends, const Floor& floor,
              std::size_t lies) {
    const double r = sheet.od_mm / 2;
    const auto add = [&](std::string what, double value) {
        sheet.checks.push_back({std::move(what), value});
    };
    const Vec3 x = floor.axes.col(0), y = floor.axes.col(1);
    add("End A to end B, centre to centre", (line.end() - line.start()).norm());
    // One that is not flat has no one line from A to B to tape along: what is meant is that of the floor.
    const std::string above = "Legs of bend " + std::to_string(lies + 1) + " level, from above: ";
    add(sheet.flat ? "Widest along the line from A to B, outside to outside"
                   : above + "widest along A to B, outside to outside",
        reach_mm(line, r, x) + reach_mm(line, r, -x));
    add(sheet.flat ? "From that line to the farthest outside of the tube, square to it"
                   : above + "from line A to B to the farthest outside",
        reach_mm(line, r, y) - line.start().dot(y));
    const std::string last = std::to_string(bends.size());
    add("Centre of end A to the outside of bend " + last + ", at its middle",
        (skinAtMiddle(bends.back(), r) - line.start()).norm());
    add("Centre of end B to the outside of bend 1, at its middle",
        (skinAtMiddle(bends.front(), r) - line.end()).norm());
    for (std::size_t i = 0; i + 1 < bends.size(); ++i) {
        add("Outside of bend " + std::to_string(i + 1) + " to outside of bend " + std::to_string(i + 2) +
                ", at their middles",
            (skinAtMiddle(bends[i + 1], r) - skinAtMiddle(bends[i], r)).norm());
    }
    if (sheet.flat) {
        add("Twist: flat on a level floor, no part of it stands higher than", sheet.od_mm);
        return;
    }
    const std::string flat = "With both legs of bend " + std::to_string(lies + 1) + " level, centre of end ";
    add(flat + "A over the legs' middle", floor.on(line.start()).z());
    add(flat + "B over the legs' middle", floor.on(line.end()).z());
}

}  // namespace

double reach_mm(const Centreline& line, double radius_mm, const Vec3& way) {
    const auto at = [&](const Vec3& p, const Vec3& along) {
        const double c = along.dot(way);
        return p.dot(way) + radius_mm * std::sqrt(std::max(0.0, 1 - c * c));
    };
    double most = std::max(at(line.start(), line.tangent(0)), at(line.end(), line.tangent(line.length_mm())));
    for (const Piece& piece : line.pieces()) {
        most = std::max({most, at(piece.start, piece.tangent), at(piece.end(), piece.endTangent())});
        if (piece.kind != Piece::Kind::bend) continue;
        // Farthest where the radius points that way, if the bend gets there.
        const Vec3 from = (piece.start - piece.centre).normalized();
        double turn = std::atan2(way.dot(piece.tangent), way.dot(from));
        if (turn < 0) turn += 2 * std::numbers::pi;
        if (turn < piece.angle_rad)
            most = std::max(most,
                            at(piece.point(turn * piece.radius_mm), piece.tangentAt(turn * piece.radius_mm)));
    }
    return most;
}

void addChecks(BendSheet& sheet) {
    const Centreline line = walked(sheet);
    const std::vector<Piece> bends = bendsOf(line);
    for (std::size_t i = 0; i < bends.size(); ++i) {
        const Vec3 at = bends[i].end();
        sheet.bends[i].quarter_bend_mm = kQuarter_rad * fromLine(line.end(), at, bends[i].axis);
        sheet.bends[i].quarter_turn_mm =
            i == 0 ? 0 : kQuarter_rad * fromLine(line.end(), bends[i].start, bends[i].tangent);
    }
    sheet.flat = flat(sheet.table());
    const std::size_t lies = liesOn(sheet);
    const Floor floor = floorOf(line, bends[lies], bends.front());
    addFloor(sheet, line, bends, floor);
    addTapes(sheet, line, bends, floor, lies);
}

Centreline floorLine(const BendSheet& sheet) {
    const Centreline line = walked(sheet);
    const std::vector<Piece> bends = bendsOf(line);
    const Floor floor = floorOf(line, bends[liesOn(sheet)], bends.front());
    const Vec3 towards = (bends.front().centre - bends.front().start).normalized();
    return walkBendTable(sheet.table(), floor.on(line.start()), floor.axes.transpose() * line.tangent(0),
                         floor.axes.transpose() * towards);
}

}  // namespace hoopwright
