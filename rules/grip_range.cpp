#include "rules/grip_range.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <tuple>

#include "core/edit/bar_track.h"
#include "core/model/resolve.h"
#include "rules/failing.h"

namespace hoopwright {
namespace {

constexpr double kBarReach_mm = 300, kMostStep_mm = 40, kPulledTo_mm = 1e-4;
constexpr double kLeanReach_rad = 20 * std::numbers::pi / 180;
constexpr int kSteps = 12, kTrackParts = 48;

using Trouble = std::tuple<int, std::string, std::string>;  // kind, member, plate

Trouble troubleOf(const GeometryProblem& problem) {
    return {static_cast<int>(problem.kind), problem.member, problem.plate};
}

class Ranger {
public:
    Ranger(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& now, const Grip& grip)
        : tables_(tables), job_(job), now_(now), grip_(grip) {
        for (const GeometryProblem& problem : now.problems) troubles_.insert(troubleOf(problem));
        const CheckReport report = check(tables, job, now);
        failing_ = failing(report);
        for (const Finding& finding : report.findings)
            if (failsAnew(finding, {})) titles_[keyOf(finding)] = finding.title;
    }

    std::optional<GripRange> range() {
        if (!setOut()) return std::nullopt;
        GripRange out;
        const auto [low, why_low] = search(least_);
        const auto [high, why_high] = search(most_);
        out.low = {place(low), why_low};
        out.high = {place(high), why_high};
        for (int i = 0; i <= kTrackParts; ++i)
            out.track.push_back(place(std::lerp(low, high, double(i) / kTrackParts)));
        for (const auto& [rule, mended] : mends_) out.mends.push_back({place(mended), titles_.at(rule)});
        return out;
    }

private:
    /// The way it can go, in its own measure, and how far.
    bool setOut() {
        switch (grip_.kind) {
            case Grip::Kind::landing:
            case Grip::Kind::node: {
                const int host = now_.member(grip_.host);
                if (host < 0) return false;
                host_ = &now_.members[static_cast<std::size_t>(host)].line;
                here_ = host_->nearestStation(grip_.at);
                off_ = grip_.at - host_->point(here_);
                most_ = host_->length_mm();
                return true;
            }
            case Grip::Kind::bar: {
                across_ = acrossBar(now_, grip_);
                least_ = -kBarReach_mm;
                most_ = kBarReach_mm;
                return true;
            }
            case Grip::Kind::lean:
                radius_ = (grip_.at - grip_.pivot).norm();
                least_ = -kLeanReach_rad * radius_;
                most_ = kLeanReach_rad * radius_;
                return true;
            case Grip::Kind::corner:
            case Grip::Kind::plate:
                break;
        }
        return false;
    }

    Vec3 place(double t) const {
        if (host_) return host_->point(t) + off_;
        if (radius_ > 0)
            return grip_.pivot + Eigen::AngleAxisd(t / radius_, grip_.normal) * (grip_.at - grip_.pivot);
        return grip_.at + t * across_;
    }

    struct Look {
        std::string worse;  ///< than now, a title or sentence; empty: nothing
        Failing failing;    ///< only whole where nothing is worse
    };
    Look look(double t) const {
        const Expected<CageLayout> cage = pulled(job_, now_, grip_, place(t), kPulledTo_mm);
        if (!cage) return {cage.reason(), {}};
        Job job = job_;
        job.cage = *cage;
        const CageGeometry made = resolve(job);
        for (const GeometryProblem& problem : made.problems)
            if (!troubles_.contains(troubleOf(problem))) return {problem.text, {}};
        const CheckReport report = check(tables_, job, made);
        for (const Finding& finding : report.findings)
            if (failsAnew(finding, failing_)) return {finding.title, {}};
        return {{}, failing(report)};
    }

    /// The last good place on the way to `end`, and what is wrong beyond. Notes what is mended on the way.
    std::pair<double, std::string> search(double end) {
        const int steps = std::max(kSteps, static_cast<int>(std::ceil(std::abs(end - here_) / kMostStep_mm)));
        double good = here_;
        Failing before = failing_;  // at `good`
        for (int i = 1; i <= steps; ++i) {
            double bad = std::lerp(here_, end, double(i) / steps);
            Look there = look(bad);
            if (there.worse.empty()) {
                for (const auto& rule : before)
                    if (!there.failing.contains(rule)) mend(rule, good, bad);
                before = std::move(there.failing);
                good = bad;
                continue;
            }
            std::string why = std::move(there.worse);
            while (std::abs(bad - good) > kGripRange_mm) {
                const double middle = (good + bad) / 2;
                Look half = look(middle);
                if (half.worse.empty()) {
                    for (const auto& rule : before)
                        if (!half.failing.contains(rule)) mend(rule, good, middle);
                    before = std::move(half.failing);
                    good = middle;
                } else {
                    bad = middle;
                    why = std::move(half.worse);
                }
            }
            return {good, why};
        }
        return {end, {}};
    }

    /// A rule that fails at `fails` and holds at `holds`: where it turns, if no nearer place is known.
    void mend(const RuleKey& rule, double fails, double holds) {
        while (std::abs(holds - fails) > kGripRange_mm) {
            const double middle = (fails + holds) / 2;
            const Look there = look(middle);
            (there.worse.empty() && !there.failing.contains(rule) ? holds : fails) = middle;
        }
        const auto [known, is_new] = mends_.try_emplace(rule, holds);
        if (!is_new && std::abs(holds - here_) < std::abs(known->second - here_)) known->second = holds;
    }

    std::span<const RuleTableRef> tables_;
    const Job& job_;
    const CageGeometry& now_;
    const Grip& grip_;
    std::set<Trouble> troubles_;
    Failing failing_;
    std::map<RuleKey, std::string> titles_;  // of those
    std::map<RuleKey, double> mends_;
    const Centreline* host_ = nullptr;
    Vec3 off_ = Vec3::Zero(), across_ = Vec3::Zero();
    double here_ = 0, least_ = 0, most_ = 0, radius_ = 0;
};

}  // namespace

std::optional<GripRange> gripRange(std::span<const RuleTableRef> tables, const Job& job,
                                   const CageGeometry& now, const Grip& grip) {
    return Ranger(tables, job, now, grip).range();
}

}  // namespace hoopwright
