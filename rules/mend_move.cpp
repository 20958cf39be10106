// Something moved: the least way.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "core/base/text.h"
#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "rules/belt_band.h"
#include "rules/grip_track.h"
#include "rules/mend_trial.h"

namespace hoopwright {
namespace {

/// How far is looked, finer near by.
constexpr double kSteps_mm[] = {1, 3, 6, 10, 20, 30, 45, 60, 80, 100, 130, 160, 200, 250, 300};
constexpr double kExact_mm = 0.05, kLooked_mm = 1e-4;
constexpr std::size_t kMostWays = 3;

/// One way of one grip.
struct Way {
    const GripTrack* track = nullptr;
    double sign = 1, before = 0;
    bool open = true;  ///< it goes on
};

std::string shown(const GripNumber& number, const Job& job) {
    if (number.dimension == Dimension::angle) return showAngle(number.value);
    if (number.dimension == Dimension::length) return showLength(number.value, {job.cage.unit});
    return fixed(number.value, 3);
}

/// "height 812.0 mm in place of 790.0 mm"
std::string numbersChanged(const MendTrial& trial, const Grip& grip, const Vec3& to) {
    const Job& job = trial.job();
    const std::vector<GripNumber> before = numbersOf(job, trial.now(), grip, grip.at),
                                  after = numbersOf(job, trial.now(), grip, to);
    std::string out;
    for (std::size_t i = 0; i < after.size() && i < before.size(); ++i) {
        if (shown(after[i], job) == shown(before[i], job)) continue;
        out += (out.empty() ? "" : ", ") + after[i].name + " " + shown(after[i], job);
        if (grip.kind != Grip::Kind::bar) out += " in place of " + shown(before[i], job);
    }
    return out;
}

std::string whatMoves(const MendTrial& trial, const Grip& grip) {
    const CageGeometry& now = trial.now();
    const std::string name = partName(trial.job().cage, layoutId(grip.part));
    const int host = now.member(grip.host);
    const std::string on = host < 0 ? "" : now.members[static_cast<std::size_t>(host)].name;
    switch (grip.kind) {
        case Grip::Kind::landing:
            return name + ": its landing on " + on;
        case Grip::Kind::node:
            return "All that lands on " + on + " in one place";
        case Grip::Kind::corner:
            return name + ": its corner or end";
        case Grip::Kind::bar:
            return name + ": the whole bar";
        case Grip::Kind::lean:
            return name + ": its lean";
        case Grip::Kind::plate:
            return name;
    }
    return name;
}

/// Where the grip is once the cage is as it then is: values were rounded on the way.
Vec3 placeAfter(const MendTrial& trial, const Grip& grip, const CageLayout& cage, const Vec3& otherwise) {
    Job next = trial.job();
    next.cage = cage;
    for (const Grip& one : gripsOf(next, resolve(next), grip.part))
        if (one.kind == grip.kind && one.point == grip.point && one.host == grip.host &&
            (one.at - otherwise).norm() < 5)
            return one.at;
    return otherwise;
}

class Mover {
public:
    Mover(MendTrial& trial, const Finding& finding) : trial_(trial), key_(keyOf(finding)) {
        std::vector<std::string> parts;
        const auto add = [&](const std::string& id) {
            if (std::ranges::find(parts, id) == parts.end()) parts.push_back(id);
        };
        for (const std::string& id : finding.evidence.members) add(id);
        for (const std::string& id : finding.evidence.plates) add(id);
        const CageGeometry& now = trial.now();
        for (const std::string& id : finding.evidence.members) {
            const int member = now.member(id);
            if (member < 0) continue;
            for (const ResolvedEnd& end : now.members[static_cast<std::size_t>(member)].ends)
                if (end.plate >= 0) add(now.plates[static_cast<std::size_t>(end.plate)].id);
        }
        for (const std::string& part : parts)
            for (const Grip& grip : gripsOf(trial.job(), now, part))
                for (GripTrack& track : GripTrack::allOf(now, grip)) tracks_.push_back(std::move(track));
    }

    void addWays(Mends& out) {
        std::vector<Way> ways;
        for (const GripTrack& track : tracks_)
            for (const double sign : {1.0, -1.0}) ways.push_back({&track, sign});
        std::vector<Mend> found;
        for (const double step : kSteps_mm) {
            for (Way& way : ways) {
                if (!way.open) continue;
                const double t = way.track->here() + way.sign * step;
                way.open = t >= way.track->least() && t <= way.track->most();
                if (way.open && meetsAt(way, step)) {
                    if (std::optional<Mend> mend = least(way, step)) found.push_back(*std::move(mend));
                    way.open = false;
                }
                way.before = step;
            }
            if (!found.empty()) break;
        }
        std::ranges::stable_sort(found, {}, &Mend::moved_mm);
        for (Mend& mend : found) {
            const bool known =
                std::ranges::any_of(out.ways, [&](const Mend& one) { return one.cage == mend.cage; });
            if (known || out.ways.size() >= kMostWays) continue;
            mend.name = out.ways.empty() ? "Least move" : "Another move";
            out.ways.push_back(std::move(mend));
        }
    }

private:
    Expected<CageLayout> moved(const Way& way, double by, double grain) const {
        const Grip& grip = way.track->grip();
        return pulled(trial_.job(), trial_.now(), grip, way.track->place(way.track->here() + way.sign * by),
                      grain);
    }

    bool meetsAt(Way& way, double by) {
        const Expected<CageLayout> cage = moved(way, by, kLooked_mm);
        if (!cage) {
            way.open = false;
            return false;
        }
        return trial_.tryOut(*cage, key_).good;
    }

    /// The nearest place between the last that did not do and this one, in figures a tape can be set to.
    std::optional<Mend> least(Way& way, double by) {
        double bad = way.before, good = by;
        while (good - bad > kExact_mm) {
            const double middle = (bad + good) / 2;
            (meetsAt(way, middle) ? good : bad) = middle;
        }
        way.open = true;
        const double whole = trial_.job().cage.unit == LengthUnit::in ? 25.4 / 16 : 1;
        for (const double grain : {whole, whole / 10, kLooked_mm}) {
            for (const double more : {0.0, 0.5, 1.0}) {
                const Expected<CageLayout> cage = moved(way, good + more * grain, grain);
                if (!cage) continue;
                std::optional<Mend> mend = trial_.offer(*cage, key_);
                if (!mend) continue;
                const Grip& grip = way.track->grip();
                const Vec3 to =
                    placeAfter(trial_, grip, *cage,
                               way.track->place(way.track->here() + way.sign * (good + more * grain)));
                mend->kind = Mend::Kind::move;
                mend->moved_mm = (to - grip.at).norm();
                mend->parts = {layoutId(grip.part)};
                mend->at = to;
                mend->says = whatMoves(trial_, grip) + ", " + numbersChanged(trial_, grip, to);
                return mend;
            }
        }
        return std::nullopt;
    }

    MendTrial& trial_;
    RuleKey key_;
    std::vector<GripTrack> tracks_;
};

/// The belt bar up or down as it is built, both ends by as much.
void addBeltMove(MendTrial& trial, const Finding& finding, Mends& out) {
    if (finding.evidence.driver.empty()) return;
    const Expected<BeltSnap> snap = snapBeltBar(trial.tables(), trial.job(), finding.evidence.driver);
    if (!snap || snap->by_mm == 0) return;
    std::optional<Mend> mend = trial.offer(snap->layout, keyOf(finding));
    if (!mend) return;
    mend->kind = Mend::Kind::move;
    mend->name = "Belt bar";
    mend->moved_mm = std::abs(snap->by_mm);
    for (const Driver& driver : trial.job().drivers)
        if (driver.id == finding.evidence.driver) mend->parts = {layoutId(driver.belts.bar)};
    mend->at = finding.evidence.look_at;
    mend->says = std::string("The belt bar, both ends ") + (snap->by_mm > 0 ? "up " : "down ") +
                 showLength(mend->moved_mm, {trial.job().cage.unit}) + ": every rule about the belts is met";
    out.ways.push_back(*std::move(mend));
}

}  // namespace

void addMoves(MendTrial& trial, const Finding& finding, Mends& out) {
    addBeltMove(trial, finding, out);
    Mover(trial, finding).addWays(out);
    if (out.ways.empty())
        out.none = "No move of the bars and plates concerned, up to " +
                   showLength(kSteps_mm[std::size(kSteps_mm) - 1], {trial.job().cage.unit}) +
                   " either way, meets it and leaves everything else as good as it is.";
}

}  // namespace hoopwright
