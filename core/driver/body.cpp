#include "core/driver/body.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

constexpr double kTorso_mm = 100, kShoulder_mm = 55, kUpperArm_mm = 45, kForearm_mm = 45, kHand_mm = 45,
                 kHip_mm = 100, kThigh_mm = 75, kShin_mm = 50, kFoot_mm = 35, kRim_mm = 14;
constexpr double kShoulderOut_mm = 120, kHipWidth_mm = 412, kFootLong_mm = 190, kAnkle_mm = 90;

const Vec3& pick(int side, const Vec3& left, const Vec3& right) {
    return side > 0 ? left : right;
}

/// Unit, the person's own left.
Vec3 leftOf(const Driver& d) {
    const Vec3 up = backUp(d);
    Vec3 left = d.shoulder_left - d.shoulder_right;
    left -= left.dot(up) * up;
    return left.norm() > 1 ? Vec3(left.normalized()) : Vec3(Vec3::UnitY());
}

double halfHip(const Driver& d) {
    return 0.5 * (d.seat && d.seat->width_mm > 0 ? d.seat->width_mm : kHipWidth_mm);
}

Capsule ball(const Vec3& at, double radius_mm) {
    return {at, at, radius_mm};
}

Capsule shoulderSolid(const Driver& d, int side) {
    const Vec3 under = pick(side, d.shoulder_left, d.shoulder_right) - kShoulder_mm * backUp(d);
    return {under, shoulderJoint(d, side), kShoulder_mm};
}

Vec3 ankle(const Driver& d, int side) {
    const Vec3 &heel = pick(side, d.heel_left, d.heel_right), knee = kneeJoint(d, side);
    const Vec3 shin = knee - heel;
    const double length = shin.norm();
    return length > 2 * kAnkle_mm ? Vec3(heel + kAnkle_mm / length * shin) : heel;
}

/// Heel to toes, square to the shin in the plane the leg bends in, the toes ahead.
Capsule footSolid(const Driver& d, int side) {
    const Vec3& heel = pick(side, d.heel_left, d.heel_right);
    const Vec3 shin = kneeJoint(d, side) - heel;
    const Vec3 along = shin.norm() > 1 ? Vec3(shin.normalized()) : Vec3(Vec3::UnitZ());
    Vec3 toes = Vec3::UnitX() - Vec3::UnitX().dot(along) * along;
    toes = toes.norm() > 1e-6 ? Vec3(toes.normalized()) : Vec3(Vec3::UnitZ());
    const Vec3 sole = heel + kFoot_mm * along;
    return {sole + kFoot_mm * toes, sole + (kFootLong_mm - kFoot_mm) * toes, kFoot_mm};
}

Solid sided(const Driver& d, BodyPart part, int side) {
    switch (part) {
        case BodyPart::torso: {
            const Vec3 aside = side * std::max(0.0, halfHip(d) - kTorso_mm) * leftOf(d);
            const double torso = (d.shoulders() - d.hip).dot(backUp(d));
            const Vec3 top = d.hip + std::max(0.0, torso - kTorso_mm) * backUp(d);
            return Capsule{d.hip + 0.7 * aside, top + 0.7 * aside, kTorso_mm};
        }
        case BodyPart::shoulder:
            return shoulderSolid(d, side);
        case BodyPart::elbow:
            return ball(elbowJoint(d, side), kElbowRadius_mm);
        case BodyPart::hand:
            return ball(pick(side, d.hand_left, d.hand_right), kHand_mm);
        case BodyPart::thigh:
            return Capsule{hipJoint(d, side), kneeJoint(d, side), kThigh_mm};
        case BodyPart::knee:
            return ball(kneeJoint(d, side), kKneeRadius_mm);
        case BodyPart::shin:
            return Capsule{kneeJoint(d, side), ankle(d, side), kShin_mm};
        case BodyPart::foot:
            return footSolid(d, side);
        default:
            return ball(pick(side, d.heel_left, d.heel_right), 0);
    }
}

struct Support {
    const Vec3& d;
    Vec3 operator()(const Ellipsoid& e) const { return e.support(d); }
    Vec3 operator()(const Capsule& c) const {
        return (c.from.dot(d) > c.to.dot(d) ? c.from : c.to) + c.radius_mm * d.normalized();
    }
    Vec3 operator()(const Ring& r) const {
        const Vec3 in_plane = d - d.dot(r.axis) * r.axis;
        const double length = in_plane.norm();
        const Vec3 out = length > 1e-12 ? Vec3(in_plane / length) : Vec3(r.axis.unitOrthogonal());
        return r.centre + r.radius_mm * out + r.thick_mm * d.normalized();
    }
};

/// A distance to a middle line, to the surface round it.
Nearest toSurface(Nearest near, double radius_mm) {
    const Vec3 way = near.on_a - near.on_b;
    const double distance = near.distance_mm;
    if (distance > 0) near.on_b += radius_mm / distance * way;
    near.distance_mm = distance - radius_mm;
    return near;
}

}  // namespace

std::string_view partWord(BodyPart part) {
    switch (part) {
        case BodyPart::helmet:
            return "helmet";
        case BodyPart::shoulder:
            return "shoulder";
        case BodyPart::elbow:
            return "elbow";
        case BodyPart::hand:
            return "hand";
        case BodyPart::knee:
            return "knee";
        case BodyPart::heel:
            return "heel";
        case BodyPart::eye:
            return "eye";
        case BodyPart::hip:
            return "hip";
        case BodyPart::torso:
            return "torso";
        case BodyPart::arm:
            return "arm";
        case BodyPart::thigh:
            return "thigh";
        case BodyPart::shin:
            return "shin";
        case BodyPart::foot:
            return "foot";
        case BodyPart::wheel:
            return "wheel";
    }
    return "";
}

const std::vector<BodyPart>& allBodyParts() {
    static const std::vector<BodyPart> kAll = {
        BodyPart::helmet, BodyPart::shoulder, BodyPart::elbow, BodyPart::hand,  BodyPart::knee,
        BodyPart::heel,   BodyPart::eye,      BodyPart::hip,   BodyPart::torso, BodyPart::arm,
        BodyPart::thigh,  BodyPart::shin,     BodyPart::foot,  BodyPart::wheel};
    return kAll;
}

Vec3 backUp(const Driver& d) {
    const Vec3 back = d.shoulders() - d.hip;
    return back.norm() > 1 ? Vec3(back.normalized()) : Vec3(Vec3::UnitZ());
}

Vec3 shoulderJoint(const Driver& d, int side) {
    const Vec3& top = pick(side, d.shoulder_left, d.shoulder_right);
    const Vec3 left = leftOf(d);
    const double strap = side * (top - d.shoulders()).dot(left);
    const double outer = d.shoulder_width_mm ? *d.shoulder_width_mm / 2 : strap + kShoulderOut_mm;
    const double out = std::max(0.0, outer - kShoulder_mm - strap);
    return top - kShoulder_mm * backUp(d) + side * out * left;
}

Vec3 elbowJoint(const Driver& d, int side) {
    return pick(side, d.elbow_left, d.elbow_right) - side * kElbowRadius_mm * Vec3::UnitY();
}

Vec3 hipJoint(const Driver& d, int side) {
    return d.hip + side * 0.4 * halfHip(d) * leftOf(d);
}

Vec3 kneeJoint(const Driver& d, int side) {
    const Vec3 &knee = pick(side, d.knee_left, d.knee_right), &heel = pick(side, d.heel_left, d.heel_right);
    return knee - kKneeRadius_mm * sticksOut(hipJoint(d, side), knee, heel);
}

Centreline Ring::line() const {
    const Vec3 u = axis.unitOrthogonal();
    std::vector<Piece> halves(2);
    for (int i = 0; i < 2; ++i) {
        Piece& piece = halves[static_cast<std::size_t>(i)];
        const Vec3 out = i == 0 ? u : Vec3(-u);
        piece.kind = Piece::Kind::bend;
        piece.length_mm = std::numbers::pi * radius_mm;
        piece.station_mm = i * piece.length_mm;
        piece.start = centre + radius_mm * out;
        piece.tangent = axis.cross(out);
        piece.centre = centre;
        piece.axis = axis;
        piece.radius_mm = radius_mm;
        piece.angle_rad = std::numbers::pi;
    }
    return Centreline(std::move(halves));
}

std::vector<BodySolid> solidsOf(const Driver& d, BodyPart part) {
    switch (part) {
        case BodyPart::helmet:
            return {{part, 0, d.helmet.ellipsoid()}};
        case BodyPart::eye:
            return {{part, 0, ball(d.eye, 0)}};
        case BodyPart::hip: {
            const Vec3 aside = std::max(0.0, halfHip(d) - kHip_mm) * leftOf(d);
            return {{part, 0, Capsule{d.hip + aside, d.hip - aside, kHip_mm}}};
        }
        case BodyPart::wheel:
            if (!d.steering_wheel) return {};
            return {{part, 0,
                     Ring{d.steering_wheel->centre, d.steering_wheel->facing(),
                          std::max(1.0, d.steering_wheel->diameter_mm / 2 - kRim_mm), kRim_mm}}};
        case BodyPart::arm: {
            std::vector<BodySolid> out;
            for (const int side : {1, -1}) {
                const Vec3 elbow = elbowJoint(d, side);
                out.push_back({part, side, Capsule{shoulderJoint(d, side), elbow, kUpperArm_mm}});
                out.push_back(
                    {part, side, Capsule{elbow, pick(side, d.hand_left, d.hand_right), kForearm_mm}});
            }
            return out;
        }
        default:
            return {{part, 1, sided(d, part, 1)}, {part, -1, sided(d, part, -1)}};
    }
}

bool hasPoint(BodyPart part) {
    return part != BodyPart::torso && part != BodyPart::arm && part != BodyPart::thigh &&
           part != BodyPart::shin && part != BodyPart::foot;
}

std::vector<Vec3> bodyPoints(const Driver& d, BodyPart part) {
    switch (part) {
        case BodyPart::helmet:
            return {d.helmet.centre};
        case BodyPart::shoulder:
            return {d.shoulder_left, d.shoulder_right};
        case BodyPart::elbow:
            return {d.elbow_left, d.elbow_right};
        case BodyPart::hand:
            return {d.hand_left, d.hand_right};
        case BodyPart::knee:
            return {d.knee_left, d.knee_right};
        case BodyPart::heel:
            return {d.heel_left, d.heel_right};
        case BodyPart::eye:
            return {d.eye};
        case BodyPart::hip:
            return {d.hip};
        case BodyPart::wheel:
            return d.steering_wheel ? std::vector<Vec3>{d.steering_wheel->centre} : std::vector<Vec3>{};
        default:
            return {};
    }
}

Vec3 support(const Solid& solid, const Vec3& d) {
    return std::visit(Support{d}, solid);
}

Vec3 middleOf(const Solid& solid) {
    if (const auto* e = std::get_if<Ellipsoid>(&solid)) return e->centre;
    if (const auto* c = std::get_if<Capsule>(&solid)) return 0.5 * (c->from + c->to);
    return std::get<Ring>(solid).centre;
}

double reachOf(const Solid& solid) {
    if (const auto* e = std::get_if<Ellipsoid>(&solid)) return e->half_mm.maxCoeff();
    if (const auto* c = std::get_if<Capsule>(&solid)) return 0.5 * (c->to - c->from).norm() + c->radius_mm;
    const Ring& r = std::get<Ring>(solid);
    return r.radius_mm + r.thick_mm;
}

Nearest nearest(const Centreline& line, const Solid& solid) {
    if (const auto* e = std::get_if<Ellipsoid>(&solid)) return nearest(line, *e);
    if (const auto* c = std::get_if<Capsule>(&solid)) {
        const bool ball = (c->to - c->from).norm() < 1e-9;
        return toSurface(ball ? nearest(line, c->from) : nearestToSegment(line, c->from, c->to),
                         c->radius_mm);
    }
    const Ring& r = std::get<Ring>(solid);
    return toSurface(nearest(line, r.line()), r.thick_mm);
}

Solid shifted(const Solid& solid, const Vec3& by) {
    Solid out = solid;
    if (auto* e = std::get_if<Ellipsoid>(&out)) e->centre += by;
    if (auto* c = std::get_if<Capsule>(&out)) {
        c->from += by;
        c->to += by;
    }
    if (auto* r = std::get_if<Ring>(&out)) r->centre += by;
    return out;
}

}  // namespace hoopwright
