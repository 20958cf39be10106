#include "rules/grip_range.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/model/resolve.h"
#include "rules/failing.h"
#include "rules/grip_track.h"

namespace hoopwright {
namespace {

constexpr double kMostStep_mm = 40, kPulledTo_mm = 1e-4;
constexpr int kSteps = 12, kTrackParts = 48;

class Ranger {
public:
    Ranger(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& now, const Grip& grip)
        : tables_(tables), job_(job), now_(now), grip_(grip), track_(GripTrack::of(now, grip)) {
        if (track_) here_ = track_->here();
        troubles_ = troublesOf(now);
        const CheckReport report = check(tables, job, now);
        failing_ = failing(report);
        for (const Finding& finding : report.findings)
            if (failsAnew(finding, {})) titles_[keyOf(finding)] = finding.title;
    }

    std::optional<GripRange> range() {
        if (!track_) return std::nullopt;
        GripRange out;
        const auto [low, why_low] = search(track_->least());
        const auto [high, why_high] = search(track_->most());
        out.low = {track_->place(low), why_low};
        out.high = {track_->place(high), why_high};
        for (int i = 0; i <= kTrackParts; ++i)
            out.track.push_back(track_->place(std::lerp(low, high, double(i) / kTrackParts)));
        for (const auto& [rule, mended] : mends_)
            out.mends.push_back({track_->place(mended), titles_.at(rule)});
        return out;
    }

private:
    struct Look {
        std::string worse;  ///< than now, a title or sentence; empty: nothing
        Failing failing;    ///< only whole where nothing is worse
    };
    Look look(double t) const {
        const Expected<CageLayout> cage = pulled(job_, now_, grip_, track_->place(t), kPulledTo_mm);
        if (!cage) return {cage.reason(), {}};
        Job job = job_;
        job.cage = *cage;
        const CageGeometry made = resolve(job);
        if (const GeometryProblem* problem = newTrouble(made, troubles_)) return {problem->text, {}};
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
    Troubles troubles_;
    Failing failing_;
    std::map<RuleKey, std::string> titles_;  // of those
    std::map<RuleKey, double> mends_;
    std::optional<GripTrack> track_;
    double here_ = 0;
};

}  // namespace

std::optional<GripRange> gripRange(std::span<const RuleTableRef> tables, const Job& job,
                                   const CageGeometry& now, const Grip& grip) {
    return Ranger(tables, job, now, grip).range();
}

}  // namespace hoopwright
