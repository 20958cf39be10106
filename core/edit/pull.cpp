// What becomes of a cage when a grip is pulled.
#include <algorithm>
#include <cmath>
#include <set>

#include "core/edit/bar_track.h"
#include "core/edit/bought_edits.h"
#include "core/edit/cage_edits.h"
#include "core/edit/grip.h"
#include "core/edit/say_landing.h"
#include "core/geometry/distance.h"

namespace hoopwright {
namespace {

/// Of a bar's length, what belongs to one of its ends.
constexpr double kOwnHalf = 0.45;
constexpr double kTypedGrain_mm = 1e-6;

/// One pull, worked out on the left copy of a pair: what is pulled on the right is turned over first.
class Pull {
public:
    Pull(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& to, double grain_mm)
        : job_(job), now_(now), grip_(grip), cage_(job.cage), grain_(grain_mm) {
        if (const Member* member = job.cage.member(layoutId(grip.part)); member && member->mirrored)
            right_ = sideOf(grip.part) == Side::right;
        if (const Plate* plate = job.cage.plate(layoutId(grip.part)); plate && plate->mirrored)
            right_ = sideOf(grip.part) == Side::right;
        part_ = right_ ? otherSide(grip.part) : grip.part;
        at_ = own(grip.at);
        to_ = own(to);
    }

    Expected<CageLayout> done() {
        if (const Member* one = member(); one && one->bent && grip_.kind != Grip::Kind::node) {
            pullBought();
            if (!refused_.empty()) return Reason{refused_};
            return std::move(cage_);
        }
        switch (grip_.kind) {
            case Grip::Kind::landing:
                slide(*member(), grip_.point, to_);
                break;
            case Grip::Kind::node:
                slideNode();
                break;
            case Grip::Kind::corner:
                shift(member()->path[grip_.point].place, to_ - at_);
                break;
            case Grip::Kind::bar:
                slideBar();
                break;
            case Grip::Kind::lean:
                leanOver();
                break;
            case Grip::Kind::plate:
                shift(findPlate(cage_, layoutId(part_))->at, to_ - at_);
                keepBoughtFeet();
                break;
        }
        if (!refused_.empty()) return Reason{refused_};
        return std::move(cage_);
    }

private:
    Vec3 own(const Vec3& p) const { return right_ ? mirrored(p) : p; }
    Member* member() { return findMember(cage_, layoutId(part_)); }
    const ResolvedMember* bar(std::string_view id) const {
        const int at = now_.member(id);
        return at < 0 || now_.members[static_cast<std::size_t>(at)].line.empty()
                   ? nullptr
                   : &now_.members[static_cast<std::size_t>(at)];
    }

    void shift(Place3& place, const Vec3& by) const {
        const auto round = [&](Vec3& p) {
            for (double& x : p) x = std::round(x / grain_) * grain_;
        };
        if (by.norm() == 0) return;
        if (auto* fixed = std::get_if<FixedPoint>(&place)) round(fixed->at += by);
        if (auto* at = std::get_if<AtCarPoint>(&place)) round(at->offset += by);
    }

    /// A landing to the place of its host nearest to `to`, its offset kept.
    void slide(Member& which, std::size_t point, const Vec3& to) {
        auto& landing = std::get<Landing>(which.path[point].place);
        const std::string host = landingHost(now_, landing, which.mirrored ? Side::left : Side::centre);
        const ResolvedMember* on = bar(host);
        if (!on) {
            refused_ = "The bar " + landing.host + " it lands on is not there.";
            return;
        }
        slideTo(landing, *on, on->line.nearestStation(to - landing.offset));
    }

    void slideTo(Landing& landing, const ResolvedMember& host, double station) {
        const Expected<Landing> said = saidAt(landing, host.line, station, grain_, job_.cage.unit);
        if (said) {
            landing = *said;
        } else {
            refused_ = said.reason();
        }
    }

    void slideNode() {
        const ResolvedMember* host = bar(grip_.host);
        if (!host) return;
        const double by = host->line.nearestStation(own(to_)) - host->line.nearestStation(grip_.at);
        const int self = now_.member(grip_.host);
        std::set<std::pair<int, std::size_t>> moved;
        for (const int j : now_.nodes[grip_.point].joints) {
            const Joint& joint = now_.joints[static_cast<std::size_t>(j)];
            if (joint.host != self) continue;
            const ResolvedMember& branch = now_.members[static_cast<std::size_t>(joint.branch)];
            Member& which = cage_.members[static_cast<std::size_t>(branch.layout)];
            const std::size_t point = joint.end == 0 ? 0 : which.path.size() - 1;
            if (which.bent) {
                refused_ = branch.name + " is bought bent and would have to be bent anew: move it first.";
                return;
            }
            const auto* landing = std::get_if<Landing>(&which.path[point].place);
            if (!landing || !moved.emplace(branch.layout, point).second) continue;
            const Vec3 place = host->line.point(joint.host_station_mm + by);
            const bool turned = which.mirrored && branch.side == Side::right;
            slide(which, point, (turned ? mirrored(place) : place) + landing->offset);
        }
    }

    /// Each end where what it lands on is met by its own straight, moved over.
    void slideBar() {
        const ResolvedMember& line = *bar(part_);
        const Vec3 by = to_ - at_;
        Member& which = *member();
        for (std::size_t i = 0; i < which.path.size(); ++i) {
            Place3& place = which.path[i].place;
            auto* landing = std::get_if<Landing>(&place);
            if (!landing) {
                shift(place, by);
                continue;
            }
            const ResolvedMember* host =
                bar(landingHost(now_, *landing, which.mirrored ? Side::left : Side::centre));
            if (!host) continue;
            const Vec3 at = pathPointAt(job_, now_, part_, i) - landing->offset + by;
            // A hoop meets the line of a bar across it twice: only what is on this end's half counts.
            const double length = line.line.length_mm();
            const Vec3 inward = i == 0 ? line.line.tangent(0) : Vec3(-line.line.tangent(length));
            slideTo(*landing, *host,
                    nearestToSegment(host->line, at - length * inward, at + kOwnHalf * length * inward)
                        .station_a_mm);
        }
    }

    /// Its bends stay as they were bought: it moves as a whole, and its legs are sawn elsewhere.
    void pullBought() {
        Member& which = *member();
        const bool end = grip_.point == 0 || grip_.point + 1 == which.path.size();
        Eigen::Isometry3d by = Eigen::Isometry3d::Identity();
        switch (grip_.kind) {
            case Grip::Kind::bar:
                by.translation() = to_ - at_;
                break;
            case Grip::Kind::lean: {
                const Vec3 pivot = own(grip_.pivot);
                by.linear() = leaning().toRotationMatrix();
                by.translation() = pivot - by.linear() * pivot;
                break;
            }
            case Grip::Kind::corner:
                if (end) return sawAt(which);
                refused_ =
                    "It is bought bent: its bends stay where they are on the tube. Move the whole bar.";
                return;
            default:
                refused_ =
                    "It is bought bent: its ends are where its legs meet what they land on. Move the "
                    "whole bar.";
                return;
        }
        Expected<Member> laid = movedAsBought(job_, now_, part_, by);
        if (laid) {
            which = *std::move(laid);
        } else {
            refused_ = laid.reason();
        }
    }

    /// A free end, along its own leg.
    void sawAt(Member& which) {
        const ResolvedMember& line = *bar(part_);
        const bool first = grip_.point == 0;
        const Vec3 outward = line.ends[first ? 0 : 1].outward;
        double by = (to_ - at_).dot(outward);
        by = std::round(by / grain_) * grain_;
        const BendTable laid = bendTable(line.line);
        const double leg = first ? laid.rows.front().straight_before_mm : laid.last_straight_mm;
        const double taped = first ? which.bent->straights_mm.front() : which.bent->straights_mm.back();
        const auto length = [&](double mm) { return showLength(mm, {job_.cage.unit}); };
        if (leg + by > taped + 1e-6) {
            refused_ = "Its leg is " + length(taped) + " long as bought: it does not reach there.";
        } else if (leg + by < 0) {
            refused_ = "A bend is there: its leg ends before.";
        } else if (by != 0) {
            which.path[grip_.point].place = FixedPoint{at_ + by * outward};
        }
    }

    /// A plate goes; a tube bought bent that stands on it does not.
    void keepBoughtFeet() {
        for (const ResolvedPlate& plate : now_.plates) {
            if (layoutId(plate.id) != layoutId(part_)) continue;
            const Vec3 gone = plate.side == Side::right ? mirrored(to_ - at_) : Vec3(to_ - at_);
            const Vec3 by = plate.axes.transpose() * gone;
            for (const auto& [index, end] : plate.feet) {
                const ResolvedMember& tube = now_.members[static_cast<std::size_t>(index)];
                // The right one of a pair is said by the left one.
                if (tube.side == Side::right) continue;
                Member& which = cage_.members[static_cast<std::size_t>(tube.layout)];
                Place3& place = end == 0 ? which.path.front().place : which.path.back().place;
                if (auto* foot = std::get_if<OnPlate>(&place); foot && which.bent)
                    foot->offset -= by.head<2>();
            }
        }
    }

    Eigen::AngleAxisd leaning() const {
        const Vec3 pivot = own(grip_.pivot), axis = right_ ? Vec3(-mirrored(grip_.normal)) : grip_.normal;
        const auto flat = [&](const Vec3& p) { return Vec3(p - pivot - (p - pivot).dot(axis) * axis); };
        const Vec3 from = flat(at_), to = flat(to_);
        return Eigen::AngleAxisd(std::atan2(from.cross(to).dot(axis), from.dot(to)), axis);
    }

    void leanOver() {
        const Vec3 pivot = own(grip_.pivot);
        const Eigen::AngleAxisd turn = leaning();
        Member& which = *member();
        for (std::size_t i = 1; i + 1 < which.path.size(); ++i) {
            const Vec3 p = pathPointAt(job_, now_, part_, i);
            shift(which.path[i].place, pivot + turn * (p - pivot) - p);
        }
    }

    const Job& job_;
    const CageGeometry& now_;
    const Grip& grip_;
    CageLayout cage_;
    double grain_ = 0.1;
    bool right_ = false;
    std::string part_, refused_;
    Vec3 at_ = Vec3::Zero(), to_ = Vec3::Zero();
};

/// Angle of a lean to upright about its axis, to the rear positive.
double leanAngle(const Grip& grip, const Vec3& at) {
    const Vec3 axis = grip.normal.y() < 0 ? Vec3(-grip.normal) : grip.normal;
    Vec3 up = Vec3::UnitZ() - axis.z() * axis, out = at - grip.pivot;
    out -= out.dot(axis) * axis;
    return -std::atan2(up.cross(out).dot(axis), up.dot(out));
}

/// Which coordinate says best where along a bar something is; 3: none does.
int axisAlong(const Vec3& tangent) {
    constexpr double kRuns = 0.6;
    for (const int axis : {2, 0, 1})
        if (std::abs(tangent[axis]) > kRuns) return axis;
    return 3;
}

struct HostOfGrip {
    const Centreline* line = nullptr;
    Landing landing;
    bool turned = false;  ///< the grip is on the right copy: its landing is said for the left
};

HostOfGrip hostOfGrip(const Job& job, const CageGeometry& now, const Grip& grip) {
    HostOfGrip out;
    const Member* member = job.cage.member(layoutId(grip.part));
    if (!member || grip.point >= member->path.size()) return out;
    const auto* landing = std::get_if<Landing>(&member->path[grip.point].place);
    if (!landing) return out;
    out.landing = *landing;
    out.turned = member->mirrored && sideOf(grip.part) == Side::right;
    const int host = now.member(landingHost(now, *landing, member->mirrored ? Side::left : Side::centre));
    if (host >= 0) out.line = &now.members[static_cast<std::size_t>(host)].line;
    return out;
}

std::string nameOf(const Landing& landing) {
    switch (landing.by) {
        case Landing::By::height:
            return "height";
        case Landing::By::station_x:
            return "x";
        case Landing::By::across_y:
            return "y";
        case Landing::By::fraction:
            return "share";
        case Landing::By::distance:
        case Landing::By::end:
            break;
    }
    return landing.from_last_end ? "from the last end" : "from the first end";
}

}  // namespace

std::vector<GripNumber> numbersOf(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& at) {
    const auto coordinates = [&](int count) {
        std::vector<GripNumber> out;
        for (int i = 0; i < count; ++i) out.push_back({std::string(1, "xyz"[i]), Dimension::length, at[i]});
        return out;
    };
    switch (grip.kind) {
        case Grip::Kind::landing: {
            const HostOfGrip host = hostOfGrip(job, now, grip);
            if (!host.line) return {};
            const Vec3 place = (host.turned ? mirrored(at) : at) - host.landing.offset;
            const Landing said = saidExactly(host.landing, *host.line, host.line->nearestStation(place));
            const bool share = said.by == Landing::By::fraction;
            const bool turns = host.turned && said.by == Landing::By::across_y;
            return {{nameOf(said), share ? Dimension::none : Dimension::length,
                     turns ? -said.value : said.value}};
        }
        case Grip::Kind::node: {
            const int host = now.member(grip.host);
            if (host < 0) return {};
            const Centreline& line = now.members[static_cast<std::size_t>(host)].line;
            const double station = line.nearestStation(at);
            const int axis = axisAlong(line.tangent(station));
            if (axis == 3) return {{"from the first end", Dimension::length, station}};
            return {{axis == 2 ? "height" : std::string(1, "xyz"[axis]), Dimension::length, at[axis]}};
        }
        case Grip::Kind::corner:
            return coordinates(3);
        case Grip::Kind::plate:
            return coordinates(2);
        case Grip::Kind::bar:
            return {{"moved", Dimension::length, (at - grip.at).dot(acrossBar(now, grip))}};
        case Grip::Kind::lean:
            return {{"lean", Dimension::angle, leanAngle(grip, at)}};
    }
    return {};
}

Expected<CageLayout> pulled(const Job& job, const CageGeometry& now, const Grip& grip, const Vec3& to,
                            double grain_mm) {
    return Pull(job, now, grip, to, grain_mm).done();
}

namespace {

/// Where along a bar a coordinate has a value: the place nearest to where the grip is.
Expected<Vec3> whereOn(const Centreline& line, int axis, double value, const Vec3& near) {
    const Vec3 n = Vec3::Unit(axis);
    const std::vector<double> stations = line.crossings(value * n, n);
    if (stations.empty()) return Reason{"The bar it slides along does not get there."};
    const double here = line.nearestStation(near);
    return line.point(*std::ranges::min_element(stations, {}, [&](double s) { return std::abs(s - here); }));
}

Expected<Vec3> typedPlace(const Job& job, const CageGeometry& now, const Grip& grip, std::size_t number,
                          double value) {
    Vec3 to = grip.at;
    switch (grip.kind) {
        case Grip::Kind::landing: {
            const HostOfGrip host = hostOfGrip(job, now, grip);
            if (!host.line) return Reason{"The bar it lands on is not there."};
            Landing said = saidExactly(host.landing, *host.line, 0);
            if (host.landing.by != Landing::By::end) said = host.landing;
            said.value = host.turned && said.by == Landing::By::across_y ? -value : value;
            const Expected<double> station = stationSaid(said, *host.line, job.cage.unit);
            if (!station) return Reason{station.reason()};
            const Vec3 place = host.line->point(*station) + said.offset;
            return host.turned ? mirrored(place) : place;
        }
        case Grip::Kind::node: {
            const Centreline& line = now.members[static_cast<std::size_t>(now.member(grip.host))].line;
            const int axis = axisAlong(line.tangent(line.nearestStation(grip.at)));
            if (axis < 3) return whereOn(line, axis, value, grip.at);
            if (value < 0 || value > line.length_mm())
                return Reason{"The bar it slides along is not that long."};
            return line.point(value);
        }
        case Grip::Kind::corner:
            to[static_cast<int>(number)] = value;
            return to;
        case Grip::Kind::plate: {
            const int axis = static_cast<int>(number);
            const double by = value - to[axis];
            to[axis] = value;
            // Up or down with its own slope; a plate that stands upright goes straight.
            if (std::abs(grip.normal.z()) > 0.1) to.z() -= by * grip.normal[axis] / grip.normal.z();
            return to;
        }
        case Grip::Kind::bar:
            return Vec3(to + value * acrossBar(now, grip));
        case Grip::Kind::lean: {
            const Vec3 axis = grip.normal.y() < 0 ? Vec3(-grip.normal) : grip.normal;
            const Eigen::AngleAxisd turn(leanAngle(grip, grip.at) - value, axis);
            return Vec3(grip.pivot + turn * (grip.at - grip.pivot));
        }
    }
    return to;
}

}  // namespace

Expected<CageLayout> typed(const Job& job, const CageGeometry& now, const Grip& grip, std::size_t number,
                           double value) {
    if (!std::isfinite(value) || number >= numbersOf(job, now, grip, grip.at).size())
        return Reason{"That is not a number this can take."};
    const Expected<Vec3> to = typedPlace(job, now, grip, number, value);
    if (!to) return Reason{to.reason()};
    return pulled(job, now, grip, *to, kTypedGrain_mm);
}

}  // namespace hoopwright
