#include "core/edit/tie_edits.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/edit/cage_edits.h"
#include "core/edit/new_bar.h"
#include "core/edit/usual_sizes.h"
#include "core/model/resolve.h"

namespace hoopwright {
namespace {

constexpr double kFarthest_mm = 1000;
/// A plate's lower face so near to a rail's upper one lies on it: paint, sealer, a tape's error.
constexpr double kLiesOn_mm = 10;
// Common practice, no source: a plate about as long as one and a half hands, bolted with three M10.

struct OnRail {
    const FrameRail* rail = nullptr;
    Vec3 at = Vec3::Zero(), along = Vec3::UnitX(), up = Vec3::UnitZ();  ///< on its centreline
    double distance_mm = kFarthest_mm;
};

OnRail place(const FrameRail& rail, const Vec3& at, const Vec3& run) {
    OnRail out;
    out.rail = &rail;
    out.at = at;
    out.along = run.normalized();
    const Vec3 up = Vec3::UnitZ() - out.along.z() * out.along;
    out.up = up.norm() > 1e-6 ? Vec3(up.normalized()) : out.along.unitOrthogonal();
    return out;
}

/// The place of a rail nearest to `p`.
OnRail nearestOn(const FrameRail& rail, const Vec3& p) {
    OnRail best;
    for (std::size_t i = 0; i + 1 < rail.line.size(); ++i) {
        const Vec3 run = rail.line[i + 1] - rail.line[i];
        if (run.squaredNorm() < 1e-12) continue;
        const double share = std::clamp((p - rail.line[i]).dot(run) / run.squaredNorm(), 0.0, 1.0);
        const Vec3 at = rail.line[i] + share * run;
        if (const double away = (at - p).norm(); away < best.distance_mm) {
            best = place(rail, at, run);
            best.distance_mm = away;
        }
    }
    return best;
}

class Tying {
public:
    Tying(Job& job, const CageGeometry& now, Fixing fixing) : job_(job), now_(now), fixing_(fixing) {}

    Expected<MadeTie> from(std::string_view resolved) {
        if (std::string why = findFoot(resolved); !why.empty()) return Reason{std::move(why)};
        const OnRail rail = nearestRail(foot_->at);
        if (!rail.rail)
            return Reason{"There is no rail of the car within 1 m of " + foot_->name +
                          ": measure it in the car step."};
        const Vec3 off = foot_->at - rail.at;
        const bool over = std::abs(off.dot(rail.along.cross(rail.up))) <= rail.rail->width_mm / 2;
        const double above =
            off.dot(rail.up) - rail.rail->height_mm / 2 - foot_->thickness_mm - foot_->riser_height_mm;
        if (over && std::abs(above) <= kLiesOn_mm) return fixAsItIs(*rail.rail);
        return addReturn(rail);
    }

private:
    const UsualSizes& usual() const { return usualSizes(job_.cage.unit); }

    std::string findFoot(std::string_view resolved) {
        int plate = now_.plate(resolved);
        if (const int bar = now_.member(resolved); plate < 0 && bar >= 0)
            for (const ResolvedEnd& end : now_.members[static_cast<std::size_t>(bar)].ends)
                if (plate < 0 && end.on == ResolvedEnd::On::plate) plate = end.plate;
        if (plate < 0) return "Choose a foot plate, or a bar that stands on one.";
        foot_ = &now_.plates[static_cast<std::size_t>(plate)];
        if (foot_->feet.empty()) return "No bar stands on " + foot_->name + ": there is nothing to tie.";
        pair_ = job_.cage.plates[static_cast<std::size_t>(foot_->layout)].mirrored;
        // A pair is said by its left one.
        if (pair_ && foot_->side == Side::right)
            if (const int left = now_.plate(otherSide(foot_->id)); left >= 0)
                foot_ = &now_.plates[static_cast<std::size_t>(left)];
        return foot_->feet.empty() ? "No bar stands on " + foot_->name + ": there is nothing to tie." : "";
    }

    OnRail nearestRail(const Vec3& p) const {
        OnRail best;
        for (const FrameRail& rail : job_.car.rails) {
            if (job_.car.bodyLiftsOff() && !job_.car.isOfFrame(rail)) continue;
            const OnRail one = nearestOn(rail, p);
            if (one.rail && one.distance_mm < best.distance_mm) best = one;
        }
        return best;
    }

    void fix(Plate& plate, const FrameRail& rail) const {
        plate.rail = rail.name;
        plate.fixing = fixing_;
        if (fixing_ == Fixing::welded) plate.bolts = {};
        if (fixing_ == Fixing::bolted && plate.bolts == Bolts{}) plate.bolts = usual().tie_bolts;
    }

    Expected<MadeTie> fixAsItIs(const FrameRail& rail) {
        Plate& plate = job_.cage.plates[static_cast<std::size_t>(foot_->layout)];
        fix(plate, rail);
        return MadeTie{plate.id, "", rail.name};
    }

    Plate plateOn(const OnRail& rail) const {
        Plate plate;
        plate.id = freeId(job_.cage, layoutId(foot_->id) + "_tie");
        plate.mirrored = pair_;
        plate.length_mm = usual().tie_length_mm;
        plate.width_mm = std::min(usual().tie_width_mm, rail.rail->width_mm);
        plate.thickness_mm = usual().tie_thickness_mm;
        plate.material = job_.cage.plates[static_cast<std::size_t>(foot_->layout)].material;
        plate.normal = rail.up;
        plate.along = rail.along;
        Vec3 at = rail.at + (rail.rail->height_mm / 2 + plate.thickness_mm) * rail.up;
        for (double& x : at) x = std::round(x * 10) / 10;
        plate.at = FixedPoint{at};
        fix(plate, *rail.rail);
        return plate;
    }

    /// Both new parts, as they would be with the plate so far along the rail and the return so far up.
    CageLayout tried(const OnRail& rail, double up_mm, MadeTie& made) const {
        CageLayout cage = job_.cage;
        const auto& [index, end] = foot_->feet.front();
        const ResolvedMember& host = now_.members[static_cast<std::size_t>(index)];
        const Plate plate = plateOn(rail);
        Member bar;
        bar.id = freeId(cage, layoutId(foot_->id) + "_return");
        bar.role = "frame_return";
        bar.stock = usualStock(job_, bar.role);
        bar.mirrored = pair_;
        const double station = end == 0 ? up_mm : host.line.length_mm() - up_mm;
        Landing landing = landingNear(now_, host.id, host.line.point(station), pair_);
        bar.path = {{landing, std::nullopt}, {OnPlate{plate.id}, std::nullopt}};
        cage.plates.push_back(plate);
        cage.members.push_back(bar);
        made = {plate.id, bar.id, rail.rail->name};
        return cage;
    }

    Expected<MadeTie> addReturn(const OnRail& nearest) {
        std::set<std::string> known;
        for (const GeometryProblem& problem : now_.problems) known.insert(problem.text);
        std::size_t fewest = ~std::size_t{0};
        CageLayout best;
        MadeTie made;
        // Straight down first; a foot plate in the way is passed before it or behind it.
        for (const double up_mm : {100.0, 150.0, 60.0}) {
            for (const double along_mm : {0.0, -150.0, 150.0, -250.0, 250.0, -350.0, 350.0}) {
                const OnRail rail = nearestOn(*nearest.rail, nearest.at + along_mm * nearest.along);
                MadeTie one;
                CageLayout cage = tried(rail, up_mm, one);
                Job job = job_;
                job.cage = cage;
                const CageGeometry after = resolve(job);
                std::size_t against = passesPlate(after, one.bar);
                for (const GeometryProblem& problem : after.problems)
                    against += !known.contains(problem.text);
                if (against >= fewest) continue;
                fewest = against;
                best = std::move(cage);
                made = one;
                if (fewest == 0) break;
            }
            if (fewest == 0) break;
        }
        job_.cage = std::move(best);
        return made;
    }

    /// How many plates but its own the new bar goes through.
    static std::size_t passesPlate(const CageGeometry& cage, const std::string& bar) {
        std::size_t through = 0;
        for (const ResolvedMember& one : cage.members) {
            if (layoutId(one.id) != bar) continue;
            for (std::size_t p = 0; p < cage.plates.size(); ++p) {
                const ResolvedPlate& plate = cage.plates[p];
                if (one.ends[0].plate == static_cast<int>(p) || one.ends[1].plate == static_cast<int>(p))
                    continue;
                for (const double station : one.line.crossings(plate.at, plate.axes.col(2))) {
                    const Vec3 at = plate.axes.transpose() * (one.line.point(station) - plate.at);
                    Box box;
                    for (const Vec2& corner : plate.outline) box.extend(Vec3(corner.x(), corner.y(), 0));
                    const Vec3 room = Vec3::Constant(one.radius_mm());
                    through += (at - box.min() + room).head<2>().minCoeff() > 0 &&
                               (box.max() - at + room).head<2>().minCoeff() > 0;
                }
            }
        }
        return through;
    }

    Job& job_;
    const CageGeometry& now_;
    Fixing fixing_;
    const ResolvedPlate* foot_ = nullptr;
    bool pair_ = false;
};

}  // namespace

Expected<MadeTie> tieToRail(Job& job, const CageGeometry& now, std::string_view resolved, Fixing fixing) {
    return Tying(job, now, fixing).from(resolved);
}

void putOnRiser(Plate& plate, const std::optional<Riser>& riser) {
    const double was = plate.riser ? plate.riser->height_mm : 0, is = riser ? riser->height_mm : 0;
    const Vec3 by = (is - was) * plate.normal.normalized();
    if (auto* fixed = std::get_if<FixedPoint>(&plate.at)) fixed->at += by;
    if (auto* at = std::get_if<AtCarPoint>(&plate.at)) at->offset += by;
    plate.riser = riser;
}

}  // namespace hoopwright
