#include "render/driver_figure.h"

#include <algorithm>
#include <cmath>

#include "core/driver/body.h"
#include "render/blend_field.h"

namespace hoopwright {
namespace {

constexpr Rgb kSuit{0.37f, 0.41f, 0.47f}, kGlove{0.15f, 0.155f, 0.17f}, kShoe{0.14f, 0.145f, 0.155f},
    kNeck{0.25f, 0.26f, 0.28f};

/// The person's own axes: up along the back, forward square to it, left.
struct Posture {
    Vec3 hip, shoulders, up, left, forward;
    double torso_mm, scale;
};

Posture postureOf(const Driver& d) {
    Posture p;
    p.hip = d.hip;
    p.shoulders = d.shoulders();
    const Vec3 back = p.shoulders - p.hip;
    p.torso_mm = std::max(200.0, back.norm());
    p.up = back.squaredNorm() > 1 ? back.normalized() : Vec3::UnitZ();
    Vec3 left = d.shoulder_left - d.shoulder_right;
    left -= left.dot(p.up) * p.up;
    p.left = left.squaredNorm() > 1 ? left.normalized() : Vec3::UnitY();
    p.forward = p.left.cross(p.up);
    p.scale = std::clamp(p.torso_mm / 540, 0.7,
                         1.25);  // 540 mm: about the middle of adults, common practice, no source
    return p;
}

/// One side's points and its sign (+1 left).
struct SideOf {
    Vec3 shoulder, elbow, hand, knee, heel;
    double sign;
};

class BodyBuilder {
public:
    explicit BodyBuilder(const Driver& driver) : driver_(driver), p_(postureOf(driver)) {}

    std::vector<Limb> limbs() {
        torso();
        for (const SideOf& side : {SideOf{driver_.shoulder_left, driver_.elbow_left, driver_.hand_left,
                                          driver_.knee_left, driver_.heel_left, 1},
                                   SideOf{driver_.shoulder_right, driver_.elbow_right, driver_.hand_right,
                                          driver_.knee_right, driver_.heel_right, -1}}) {
            arm(side);
            leg(side);
        }
        return std::move(limbs_);
    }

private:
    void add(const Vec3& from, const Vec3& to, double r0, double r1, double blend, Rgb colour = kSuit) {
        limbs_.push_back({from, to, r0 * p_.scale, r1 * p_.scale, blend, colour});
    }
    /// A point of the trunk: share of the way from hip to shoulders, then left and forward [mm].
    Vec3 trunk(double share, double left_mm, double forward_mm) const {
        return p_.hip + share * p_.torso_mm * p_.up +
               p_.scale * (left_mm * p_.left + forward_mm * p_.forward);
    }

    void torso() {
        add(trunk(0.0, -72, -8), trunk(0.0, 72, -8), 92, 92, 40);
        for (const double s : {-1.0, 1.0}) {
            add(trunk(0.05, s * 62, 2), trunk(0.38, s * 52, 8), 92, 84, 40);
            add(trunk(0.38, s * 52, 8), trunk(0.72, s * 72, 8), 84, 92, 40);
            add(trunk(0.72, s * 74, 6), trunk(0.88, s * 100, -8), 92, 62, 45);
        }
        add(trunk(0.2, 0, 22), trunk(0.62, 0, 22), 84, 86, 45);
        // The neck leans forward to the helmet.
        const Vec3 base = trunk(0.93, 0, -6);
        const Vec3 head = driver_.helmet.centre - 0.2 * driver_.helmet.height_mm * Vec3::UnitZ();
        add(base, base + 0.35 * (head - base), 74, 62, 60);
        add(base + 0.35 * (head - base), head, 60, 58, 25, kNeck);
    }

    void arm(const SideOf& side) {
        // The measured point is where the strap bears; the joint lies below it and farther out.
        const Vec3 joint = shoulderJoint(driver_, side.sign > 0 ? 1 : -1);
        add(trunk(0.86, side.sign * 60, -6), joint, 64, 62, 50);
        const Vec3 upper = side.elbow - joint, lower = side.hand - side.elbow;
        add(joint, joint + 0.45 * upper, 56, 50, 30);
        add(joint + 0.45 * upper, side.elbow, 50, 41, 24);
        add(side.elbow, side.elbow + 0.35 * lower, 42, 43, 24);
        add(side.elbow + 0.35 * lower, side.elbow + 0.80 * lower, 42, 31, 24);
        hand(side, lower.normalized());
    }

    void hand(const SideOf& side, const Vec3& along) {
        const Vec3 wrist = side.hand - 62 * p_.scale * along;
        add(wrist - 26 * p_.scale * along, wrist, 36, 32, 10, kGlove);
        const Vec3 down = (Vec3::UnitZ() - Vec3::UnitZ().dot(along) * along).normalized();
        const Vec3 inward = -side.sign * down.cross(along);
        add(wrist, side.hand - 12 * along + 8 * down, 31, 30, 18, kGlove);
        add(wrist + 20 * along, side.hand - 14 * down, 28, 26, 18, kGlove);
        // Fingers round the rim, and the thumb.
        for (const double step : {-27.0, -9.0, 9.0, 26.0})
            add(side.hand + step * down + 8 * along, side.hand + step * 0.9 * down + 14 * along + 26 * inward,
                14.5, 12, 7, kGlove);
        add(wrist + 30 * along + 24 * down, side.hand + 26 * down + 22 * inward + 6 * along, 15, 11, 10,
            kGlove);
    }

    void leg(const SideOf& side) {
        const Vec3 hip = trunk(0.02, side.sign * 86, 4);
        const Vec3 thigh = side.knee - hip, shin = side.heel - side.knee;
        add(hip, hip + 0.45 * thigh, 86, 76, 45);
        add(hip + 0.45 * thigh, side.knee, 74, 54, 30);
        const Vec3 along = shin.squaredNorm() > 1 ? shin.normalized() : -Vec3::UnitZ();
        Vec3 toes = Vec3::UnitX() - Vec3::UnitX().dot(along) * along;
        toes = toes.squaredNorm() > 1e-6 ? toes.normalized() : Vec3::UnitZ();
        toes = (toes + 0.12 * along).normalized();  // a foot on a pedal is stretched a little
        const Vec3 ankle = side.heel - 78 * along + 32 * toes;
        const Vec3 calf = side.knee + 0.32 * (ankle - side.knee) - 14 * p_.scale * toes;
        add(side.knee, calf, 54, 55, 26);
        add(calf, ankle, 52, 37, 26);
        add(ankle - 34 * along, ankle + 8 * along, 43, 40, 14, kShoe);
        // One long taper from heel to toe and one over the instep: more would bulge where they meet.
        add(side.heel - 33 * along + 28 * toes, side.heel - 24 * along + 214 * toes, 34, 25, 34, kShoe);
        add(ankle + 6 * along + 8 * toes, side.heel - 26 * along + 178 * toes, 38, 27, 34, kShoe);
    }

    const Driver& driver_;
    Posture p_;
    std::vector<Limb> limbs_;
};

}  // namespace

Mesh driverBody(const Driver& driver, double cell_mm) {
    return BlendField(BodyBuilder(driver).limbs()).mesh(cell_mm);
}

}  // namespace hoopwright
