// A person as simple solids: how near a tube comes to each part is measured to these.
#pragma once

#include <span>
#include <string_view>
#include <variant>
#include <vector>

#include "core/geometry/distance.h"
#include "core/model/driver.h"

namespace hoopwright {

enum class BodyPart {
    helmet,
    shoulder,
    elbow,
    hand,
    knee,
    heel,
    eye,
    hip,
    torso,
    arm,
    thigh,
    shin,
    foot,
    wheel
};
/// "helmet", "shoulder", ...: what files and sheets say.
std::string_view partWord(BodyPart part);
const std::vector<BodyPart>& allBodyParts();

/// Everything within `radius_mm` of a line between two points; a ball where they are one, a point where the
/// radius is 0 as well.
struct Capsule {
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();
    double radius_mm = 0;
};
/// The rim of a steering wheel: a round bar bent to a ring.
struct Ring {
    Vec3 centre = Vec3::Zero();
    Vec3 axis = Vec3::UnitX();  ///< unit, square to the ring
    double radius_mm = 0;       ///< of the ring's middle line
    double thick_mm = 0;        ///< radius of the bar
    Centreline line() const;
};
using Solid = std::variant<Ellipsoid, Capsule, Ring>;

/// Side of the person, where a part comes in two.
struct BodySolid {
    BodyPart part = BodyPart::helmet;
    int side = 0;  ///< 1 left, -1 right, 0 in the middle
    Solid solid;
};

/// The solids of a part, left before right; none for the wheel where it is not measured.
/// Each touches the points measured on the person; the thickness of limbs is an ordinary suited adult's
/// (common practice, no source):
///   helmet    the measured ellipsoid, level
///   torso     two capsules of the student-formula circles' radius, 100, hip to under the shoulders
///   shoulder  capsule of 55 from under the strap point out to half the shoulder width (not measured: 120 out
///   from
///             the strap point)
///   arm       capsules of 45 shoulder to elbow and elbow to hand
///   elbow     ball of 45 whose outermost point is the measured one
///   hand      ball of 45 round the middle of the grip
///   hip       capsule of 100 across, as wide as the seat (no seat: 412, ANSUR 1988, 95th percentile man,
///   from memory) thigh     capsule of 75 hip to knee knee      ball of 55 whose point sticking out is the
///   measured one shin      capsule of 50 knee to ankle foot      capsule of 35 heel to toes, 190 long wheel
///   the rim, a ring of 14 radius eye, heel the measured points themselves
std::vector<BodySolid> solidsOf(const Driver& driver, BodyPart part);

/// The measured points of a part; both sides where there are two. Parts without one of their own have none.
bool hasPoint(BodyPart part);
std::vector<Vec3> bodyPoints(const Driver& driver, BodyPart part);

/// Farthest point of a solid in direction d (any length > 0).
Vec3 support(const Solid& solid, const Vec3& d);
/// A point inside, and how far the solid reaches from it at most.
Vec3 middleOf(const Solid& solid);
double reachOf(const Solid& solid);
/// From a tube's centreline to the surface of the solid; negative inside. on_a on the centreline, on_b on the
/// solid.
Nearest nearest(const Centreline& line, const Solid& solid);
/// The solid, moved.
Solid shifted(const Solid& solid, const Vec3& by);

/// Middles of the joints, for whoever bends a limb: from the measured points and the thicknesses above.
/// `side`: 1 left, -1 right.
Vec3 shoulderJoint(const Driver& driver, int side);
Vec3 elbowJoint(const Driver& driver, int side);
Vec3 hipJoint(const Driver& driver, int side);
Vec3 kneeJoint(const Driver& driver, int side);
/// Unit, from the hip up the back; straight up where the shoulders are not over the hip at all.
Vec3 backUp(const Driver& driver);

}  // namespace hoopwright
