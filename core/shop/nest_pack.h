// Whether a given set of sticks holds all pieces, and how. Used by nest().
#pragma once

#include <string>
#include <unordered_set>
#include <vector>

#include "core/shop/nest_lp.h"
#include "core/shop/nest_quick.h"

namespace hoopwright::nesting {

/// First fills stick by stick. Then dives: takes whole sticks from the fractional plan, again and again.
/// Then, if that does not come out, looks through all ways to fill the stick that gets the longest piece
/// left, with the fractional plan of each rest and all cuts found so far to turn back early. Only full
/// fillings are looked at: one with room for another piece left over is never better.
class Packer {
public:
    Packer(const CutProblem& problem, CuttingLp& lp, FillingPool& pool, std::vector<Cut>& cuts);
    enum class Outcome { packed, impossible, undecided };
    Outcome pack(const StickCounts& counts, Effort& effort);
    /// One filling for each stick used, after `packed`.
    const std::vector<Filling>& plan() const { return plan_; }

private:
    bool dive(Rest rest, Effort& effort);
    Outcome search(const Rest& rest, Effort& effort);
    Outcome tryFilling(const Rest& rest, const Filling& filling, Effort& effort);
    Outcome tryAll(const Rest& rest, int stick, int longest, Effort& effort);
    Filling filledUp(const Filling& filling, const std::vector<int>& wanted) const;
    std::int64_t slack(const Rest& rest) const;
    bool tooFewFor(ApartBits list, const Rest& rest) const;
    bool ruledOut(const Rest& rest) const;
    void take(Rest& rest, const Filling& filling);

    const CutProblem& problem_;
    CuttingLp& lp_;
    FillingPool& pool_;
    std::vector<Cut>& cuts_;
    std::vector<ApartBits> lists_;
    std::vector<Filling> plan_;
    bool priced_out_ = false;
    std::unordered_set<std::string> hopeless_;  ///< rests known not to fit
};

}  // namespace hoopwright::nesting
