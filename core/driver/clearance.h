// How near the bars come to a person.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/driver/body.h"
#include "core/geometry/envelope.h"
#include "core/model/cage_geometry.h"

namespace hoopwright {

/// The nearest bar to some solids.
struct NearestBar {
    int member = -1;    ///< index into CageGeometry::members; -1: there is no bar
    double gap_mm = 0;  ///< from the person to the metal, or to the padding; negative: they overlap
    Vec3 on_person = Vec3::Zero(),
         on_bar = Vec3::Zero();  ///< the two nearest points; on_bar on what was measured to
};
/// `padded`: each bar is as thick as its own padding makes it. `members`: indices; those alone are looked at.
NearestBar nearestBar(std::span<const BodySolid> body, const CageGeometry& cage, std::span<const int> members,
                      bool padded);
NearestBar nearestBar(std::span<const BodySolid> body, const CageGeometry& cage, bool padded);
/// The point of a bar's surface nearest to the person, from a pair of points centreline to person.
Vec3 onSurface(const Nearest& at, double radius_mm);

/// How near a part of a person is to the nearest bar.
struct Clearance {
    BodyPart part = BodyPart::helmet;
    int side = 0;       ///< 1 left, -1 right, 0 in the middle
    std::string name;   ///< "helmet", "shoulder_left" ...
    NearestBar bare;    ///< to the metal
    NearestBar padded;  ///< to the padding of the bar that is nearest with its padding on
    double inside_mm =
        0;  ///< how far inside a sheet stretched over all bars, to the sides or up; negative: pokes out
    Vec3 on_sheet = Vec3::Zero(), on_body = Vec3::Zero();  ///< the two points of that
};
/// Every part, helmet first; sided parts left before right. Parts with no bar at all are left out;
/// `enclosed` says whether the bars enclose a space at all: else inside_mm is not a number.
struct Clearances {
    std::vector<Clearance> parts;
    bool enclosed = false;
};
Clearances clearances(const Driver& driver, const CageGeometry& cage);

/// How far inside the sheet the bodies are, along an allowed direction (see Envelope). Depth 1e300 where no
/// side of the sheet faces that way.
EnvelopeDepth depthInside(const Envelope& sheet, std::span<const BodySolid> body,
                          bool (*allowed)(const Vec3&));
/// The sheet over these members, or over all of them.
Envelope envelopeOf(const CageGeometry& cage, std::span<const int> members);
/// Facing within 60 degrees of sideways or of up: the ways a person can be struck through the cage's outside.
bool facesSidesOrUp(const Vec3& normal);

/// How far a solid can go that way before it meets a bar.
struct Travel {
    Vec3 way = Vec3::UnitZ();           ///< unit
    int member = -1;                    ///< the bar it meets; -1: none within kTravelLimit_mm
    double bare_mm = 0, padded_mm = 0;  ///< <= 0: it is in it already; kTravelLimit_mm where it meets none
    int padded_member = -1;
    Vec3 on_person = Vec3::Zero(),
         on_bar = Vec3::Zero();  ///< bare: where they would touch, each where it is now
};
inline constexpr double kTravelLimit_mm = 3000;
Travel travel(const Solid& solid, const CageGeometry& cage, std::span<const int> members, const Vec3& way);

/// The helmet up, back, ahead, to the left and to the right.
struct HelmetRoom {
    Travel above, behind, ahead, left, right;
};
HelmetRoom helmetRoom(const Driver& driver, const CageGeometry& cage);

/// Where a straightedge laid fore and aft at `y` lies on a bar: the top of its outside there; nothing where
/// the bar does not reach that far across.
std::optional<Vec3> topAt(const ResolvedMember& bar, double y);
/// Half the height of the ring an upright fore-aft plane cuts out of a tube of that direction [unit].
double uprightHalfHeight(double radius_mm, const Vec3& tangent);

/// From a solid to a straightedge in its own fore-aft plane; over it: negative, how far it would have to go
/// to be clear below.
struct UnderEdge {
    double gap_mm = 0;
    Vec3 on_edge = Vec3::Zero(), on_person = Vec3::Zero();
};
UnderEdge underEdge(const Solid& solid, const Vec3& from, const Vec3& to);

/// The helmet under a straightedge from a hoop's top to the top of another across bar, seen from the side.
struct TopLine {
    int from = -1, to = -1;  ///< members
    Vec3 from_at = Vec3::Zero(), to_at = Vec3::Zero();
    UnderEdge helmet;
};
/// From each main hoop to each front hoop, or else windshield bar, and from the main hoop back to a second
/// one: as many as there are.
std::vector<TopLine> topLines(const Driver& driver, const CageGeometry& cage);

}  // namespace hoopwright
