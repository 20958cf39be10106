#include "core/fit/hoop_place.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/model/resolve.h"

namespace hoopwright {
namespace {

constexpr double kFarthestPlace_mm = 400, kPlaceStep_mm = 10, kPlace_mm = 0.1;
constexpr int kAroundWeld = 24;

/// A fit at one place, or what is wrong with it.
class HoopPlacer {
public:
    HoopPlacer(const Job& job, const CageGeometry& cage, const FitCar& car, MemberWish wish, double room_mm)
        : job_(job), cage_(cage), car_(car), wish_(std::move(wish)), room_(room_mm) {}

    Expected<HoopPlace> run() {
        const CarPoint* pillar = job_.car.point("b_pillar_top.left");
        if (!pillar)
            return Reason{"the car has no point b_pillar_top, so how near the hoop is to it is not known"};
        const int hoop = cage_.member(wish_.member);
        if (hoop < 0) return Reason{"there is no member '" + wish_.member + "' in this cage"};
        if (doorBars(cage_, hoop).empty())
            return Reason{"no door bar lands on " + cage_.members[static_cast<std::size_t>(hoop)].name};
        const double pillar_x = pillar->at.x();
        const double way = cage_.members[static_cast<std::size_t>(hoop)].ends[0].at.x() < pillar_x ? -1 : 1;
        std::string why = "It stands at the B-pillar.";
        double bad = pillar_x - way * kPlaceStep_mm;
        for (double off = 0; off <= kFarthestPlace_mm; off += kPlaceStep_mm) {
            const double x = pillar_x + way * off;
            Expected<MemberFit> fit = at(x);
            if (!fit) {
                why = fit.reason();
                bad = x;
                continue;
            }
            if (off == 0) return HoopPlace{x, why, *std::move(fit)};
            return halved(x, bad, *std::move(fit), std::move(why));
        }
        return Reason{"no place within " + length(kFarthestPlace_mm) + " of the B-pillar will do: " + why};
    }

private:
    HoopPlace halved(double good, double bad, MemberFit fit, std::string why) {
        while (std::abs(good - bad) > kPlace_mm) {
            const double middle = (good + bad) / 2;
            if (Expected<MemberFit> there = at(middle)) {
                good = middle;
                fit = *std::move(there);
            } else {
                bad = middle;
                why = there.reason();
            }
        }
        return {good, std::move(why), std::move(fit)};
    }

    std::string length(double mm) const { return showLength(mm, {job_.cage.unit}); }

    static std::vector<const Joint*> doorBars(const CageGeometry& cage, int hoop) {
        std::vector<const Joint*> out;
        for (const Joint& joint : cage.joints)
            if (joint.host == hoop && cage.members[static_cast<std::size_t>(joint.branch)].role == "door_bar")
                out.push_back(&joint);
        return out;
    }

    Expected<MemberFit> at(double x_mm) {
        wish_.x_mm = x_mm;
        Expected<MemberFit> fit = fitMember(job_, cage_, car_, wish_);
        if (!fit) return fit;
        if (!fit->bar.trouble.empty()) return Reason{fit->bar.trouble};
        Job job = job_;
        for (Member& member : job.cage.members)
            if (member.id == fit->member.id) member = fit->member;
        const CageGeometry cage = resolve(job);
        const int hoop = cage.member(fit->fitted);
        const std::vector<const Joint*> bars = hoop < 0 ? std::vector<const Joint*>() : doorBars(cage, hoop);
        if (bars.empty()) return Reason{"Its door bars would not reach it."};
        for (const Joint* joint : bars)
            if (std::string why = tightWeld(cage, *joint); !why.empty()) return Reason{std::move(why)};
        return fit;
    }

    /// The weld is taken as a ring round the branch where its axis comes out of the host: nearer to the skin
    /// than the true line by no more than it strays along the branch.
    std::string tightWeld(const CageGeometry& cage, const Joint& joint) const {
        const ResolvedMember& branch = cage.members[static_cast<std::size_t>(joint.branch)];
        const ResolvedMember& host = cage.members[static_cast<std::size_t>(joint.host)];
        const ResolvedEnd& end = branch.ends[static_cast<std::size_t>(joint.end)];
        const double out = host.radius_mm() / std::max(std::sin(joint.angle_rad), 0.2);
        const Vec3 middle = end.at - out * end.outward;
        const Vec3 u = end.outward.unitOrthogonal(), v = end.outward.cross(u);
        double least = room_;
        FitCar::Near tight;
        for (int i = 0; i < kAroundWeld; ++i) {
            const double turn = 2 * std::numbers::pi * i / kAroundWeld;
            const auto near =
                car_.nearest(middle + branch.radius_mm() * (std::cos(turn) * u + std::sin(turn) * v), least);
            if (!near) continue;
            least = near->distance_mm;
            tight = *near;
        }
        if (tight.mesh < 0) return "";
        return "Nearer, the weld of " + branch.name + " would stand " + length(least) + " off the " +
               car_.nameAt(tight, middle) + "; a torch needs " + length(room_) + ".";
    }

    const Job& job_;
    const CageGeometry& cage_;
    const FitCar& car_;
    MemberWish wish_;
    const double room_;
};

}  // namespace

Expected<HoopPlace> nearestToPillar(const Job& job, const CageGeometry& cage, const FitCar& car,
                                    const MemberWish& wish, double room_mm) {
    return HoopPlacer(job, cage, car, wish, room_mm).run();
}

}  // namespace hoopwright
