#include "core/driver/seat_move.h"

#include <cmath>
#include <numbers>

#include "core/driver/body.h"
#include "core/model/two_link.h"

namespace hoopwright {
namespace {

using std::numbers::pi;
constexpr double kMostForward_rad = -5 * pi / 180, kMostReclined_rad = 85 * pi / 180;
constexpr double kShort_mm = 0.05;

class Mover {
public:
    Mover(const Driver& before, const SeatMove& move) : before_(before), move_(move), after_{before, {}} {}

    MovedDriver run() {
        trunk();
        for (const int side : {1, -1}) {
            arm(side);
            leg(side);
        }
        return std::move(after_);
    }

private:
    Vec3 withSeat(const Vec3& p) const { return p + Vec3(move_.slide_mm, 0, move_.lift_mm); }
    /// Back about a level line through the hip point, then with the seat.
    Vec3 withBack(const Vec3& p) const {
        const double c = std::cos(move_.recline_rad), s = std::sin(move_.recline_rad);
        const Vec3 r = p - before_.hip;
        return withSeat(before_.hip + Vec3(c * r.x() - s * r.z(), r.y(), s * r.x() + c * r.z()));
    }

    void trunk() {
        Driver& d = after_.driver;
        d.hip = withSeat(before_.hip);
        d.back_angle_rad += move_.recline_rad;
        d.shoulder_left = withBack(before_.shoulder_left);
        d.shoulder_right = withBack(before_.shoulder_right);
        d.helmet.centre = withBack(before_.helmet.centre);
        d.eye = before_.eye - before_.helmet.centre + d.helmet.centre;
        if (!d.seat) return;
        d.seat->slot_left = withBack(before_.seat->slot_left);
        d.seat->slot_right = withBack(before_.seat->slot_right);
    }

    void arm(int side) {
        const Vec3 was_root = shoulderJoint(before_, side), root = shoulderJoint(after_.driver, side);
        const Vec3& hand = side > 0 ? before_.hand_left : before_.hand_right;
        Vec3& elbow = side > 0 ? after_.driver.elbow_left : after_.driver.elbow_right;
        const Vec3 was = elbowJoint(before_, side);
        const MiddleJoint now = middleJoint(root, hand, (was - was_root).norm(), (hand - was).norm(),
                                            sticksOut(was_root, was, hand));
        elbow = now.at + side * kElbowRadius_mm * Vec3::UnitY();
        note(side, OutOfReach::Limb::arm, now.short_by_mm);
    }

    void leg(int side) {
        const Vec3 was_root = hipJoint(before_, side), root = hipJoint(after_.driver, side);
        const Vec3& heel = side > 0 ? before_.heel_left : before_.heel_right;
        Vec3& knee = side > 0 ? after_.driver.knee_left : after_.driver.knee_right;
        const Vec3 was = kneeJoint(before_, side), out = sticksOut(was_root, was, heel);
        const MiddleJoint now = middleJoint(root, heel, (was - was_root).norm(), (heel - was).norm(), out);
        const Vec3 way = now.short_by_mm > 0 ? out : sticksOut(root, now.at, heel);
        knee = now.at + kKneeRadius_mm * way;
        note(side, OutOfReach::Limb::leg, now.short_by_mm);
    }

    void note(int side, OutOfReach::Limb limb, double short_by_mm) {
        if (short_by_mm >= kShort_mm) after_.out_of_reach.push_back({limb, side, short_by_mm});
    }

    const Driver& before_;
    const SeatMove move_;
    MovedDriver after_;
};

}  // namespace

std::string sentence(const OutOfReach& what, LengthUnit unit) {
    const bool arm = what.limb == OutOfReach::Limb::arm;
    return std::string("The ") + (what.side > 0 ? "left " : "right ") + (arm ? "arm" : "leg") + " is " +
           showLength(what.short_by_mm, {unit}) + " short of the " + (arm ? "wheel." : "pedals.");
}

Expected<MovedDriver> seatMoved(const Driver& driver, const SeatMove& move) {
    if (move == SeatMove{}) return MovedDriver{driver, {}};
    const double back = driver.back_angle_rad + move.recline_rad;
    if (move.recline_rad != 0 && !(back >= kMostForward_rad && back <= kMostReclined_rad)) {
        return Reason{"the back would lean at " + showAngle(back) +
                      "; it leans from -5 degrees (forward) to 85 degrees back from vertical"};
    }
    return Mover(driver, move).run();
}

}  // namespace hoopwright
