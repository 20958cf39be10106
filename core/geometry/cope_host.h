// What one host does to the generators of a branch: where each first meets it. Used by cope.cpp.
//
// A branch end has its own frame: `inward` along the axis away from the host, `clock` and `side` across it.
// The generator at phi on radius r is the line  foot + r (clock cos phi + side sin phi) + s inward.  The tube
// has metal there for s beyond the host, so the meeting sought is the greatest s at which the line is on the
// host's outside.
#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "core/geometry/cope.h"
#include "core/geometry/station_table.h"

namespace hoopwright {

/// Tangent to within this counts as touching [mm].
inline constexpr double kTouching_mm = 1e-9;

/// Where a generator meets a host, or how far it misses.
struct Meeting {
    double s_mm = 0;
    double gap_mm = 0;   ///< 0: met; else how far it passes by, or how far past the host's end it lands
    double cosine = -2;  ///< of the angle between the walls on the weld's side; -2 if missed
    bool met() const { return gap_mm <= 0; }
};

/// The outer of two meetings; a meeting before a miss; of two misses the nearer.
const Meeting& outerOf(const Meeting& a, const Meeting& b);

/// The meetings of all stations.
struct MeetingRow {
    std::vector<double> s_mm, cosine;
    std::vector<double> gap_mm;  ///< empty while all are met
    explicit MeetingRow(size_t n) : s_mm(n), cosine(n) {}
    size_t size() const { return s_mm.size(); }
    bool allMet() const { return gap_mm.empty(); }
    bool met(size_t i) const { return gap_mm.empty() || gap_mm[i] <= 0; }
    Meeting at(size_t i) const { return {s_mm[i], gap_mm.empty() ? 0 : gap_mm[i], cosine[i]}; }
    void set(size_t i, const Meeting& m);
    /// Each station's outer meeting of the two rows.
    static MeetingRow outerOf(const MeetingRow& a, const MeetingRow& b);
};

/// How a coordinate of a generator's foot runs round the tube: mean + r (cos cos phi + sin sin phi).
struct Swing {
    double mean = 0, cos = 0, sin = 0;
    /// Of (foot - origin) . direction.
    static Swing of(const CopeEnd& end, const Vec3& origin, const Vec3& direction);
    double radial(const Turn& turn) const { return cos * turn.cos + sin * turn.sin; }
    double at(double radius, const Turn& turn) const { return mean + radius * radial(turn); }
};

/// A straight tube, in closed form. Past its ends it is carried on, as a saw would cut; what lands there is a
/// miss.
class StraightHost {
public:
    /// The tube reaches from `from_mm` to `to_mm` along `along` (unit) from `origin`; either may be infinite.
    StraightHost(const CopeEnd& end, const Vec3& origin, const Vec3& along, double radius_mm, double from_mm,
                 double to_mm);
    Meeting meet(double radius_mm, const Turn& turn) const;
    MeetingRow row(double radius_mm, const StationTable& table) const;

private:
    double rootSquare(double branch_radius_mm, double aside_radial, double crest_radial) const;
    bool comesTangent(double branch_radius_mm) const;
    bool endsWithin(double branch_radius_mm) const;
    double pastEnd(double branch_radius_mm, const Turn& turn, double s_mm) const;

    Swing level_;    ///< across the host, towards the branch
    Swing aside_;    ///< square to both axes
    Swing crest_;    ///< square to the branch and to aside
    Swing along_;    ///< along the host
    double cosine_;  ///< of the angle between the axes
    double sine_ = 1, per_sine_ = 1;
    double radius_, per_radius_;
    double from_, to_;
};

/// What is looked at of a bend, and whether the tube goes on beyond.
struct BendStretch {
    double from_mm = 0, to_mm = 0;  ///< along the bend; half a turn at most
    bool starts_tube = false;       ///< the tube's end is at from_mm
    bool ends_tube = false;         ///< the tube's end is at to_mm
};

/// A stretch of a bend, as a torus with a ball at either end. The balls lie inside the neighbouring pieces;
/// where there is no neighbour, what meets the ball is a miss. Met by quick steps with a proof that nothing
/// lies beyond; where the proof fails, by steps that cannot pass the surface: it is no nearer than its least
/// curvature allows, which makes them Newton's steps held back.
class BendHost {
public:
    BendHost(const CopeEnd& end, const Piece& bend, double radius_mm, const BendStretch& part);
    /// What makes it quicker, and nothing else.
    struct Hint {
        double guess_mm;  ///< where the meeting may be
        double met_mm;    ///< another piece is met here: what comes before it need not be found
    };
    Meeting meet(double radius_mm, const Turn& turn, const Hint& hint) const;

private:
    struct QuickRoot {
        double s_mm;
        bool crosses;  ///< else it is where the line comes nearest
    };
    std::optional<QuickRoot> quickRoot(const Vec3& foot, double guess_mm) const;
    std::optional<Meeting> quick(const Vec3& foot, const Turn& turn, const Hint& hint) const;
    Meeting search(const Vec3& foot, const Turn& turn, double met_mm) const;
    /// Height over the surface at a point of a line, its rate along the line, and the way out of the surface.
    struct Height {
        double value, rate;
        Vec3 outward;
        bool past_end;  ///< on a ball at the tube's end
    };
    Height height(const Vec3& p) const;
    double safeStep(const Height& at) const;
    double leavesRing(const Vec3& foot) const;
    double lowestBetween(const Vec3& foot, double below, double above) const;
    /// The meeting at s if the line touches there; else the miss.
    Meeting touching(const Vec3& foot, const Turn& turn, double s_mm) const;

    // In the bend's own frame: x to its start, y along its start, z along its axis, origin its centre.
    Swing x_, y_, z_;
    Vec3 inward_;
    double ring_radius_, tube_radius_;
    bool starts_tube_, ends_tube_;
    Vec2 last_;    ///< unit, to the end of the stretch
    Vec3 middle_;  ///< of a ball that holds it all
    double ball_radius_;
};

/// A flat face. @pre the branch comes from its front
class PlaneHost {
public:
    PlaneHost(const CopeEnd& end, const CopePlane& plane);
    Meeting meet(double radius_mm, const Turn& turn) const;

private:
    struct Rim {
        Swing off;
        double rate;  ///< per unit of s
    };
    Swing height_;
    double climb_;  ///< height gained per unit of s
    std::vector<Rim> rims_;
};

/// The pieces of a tube near the branch: the outermost meeting counts.
struct BentHost {
    std::vector<StraightHost> straights;
    std::vector<BendHost> bends;
    double usual_mm = 0;  ///< a place about where the meetings are
    Meeting meet(double radius_mm, const Turn& turn) const { return meet(radius_mm, turn, usual_mm); }
    Meeting meet(double radius_mm, const Turn& turn, double guess_mm) const;
    MeetingRow row(double radius_mm, const StationTable& table) const;
};

using PreparedHost = std::variant<StraightHost, BentHost, PlaneHost>;

/// The host ready to be asked; nothing if the branch runs along it, or comes from behind a plane.
std::optional<PreparedHost> prepared(const CopeEnd& end, const CopeHost& host);

Meeting meet(const PreparedHost& host, double radius_mm, const Turn& turn);
MeetingRow meetAll(const PreparedHost& host, double radius_mm, const StationTable& table);

}  // namespace hoopwright
