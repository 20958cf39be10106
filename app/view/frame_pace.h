// How coarse a draft picture may be drawn, and how soon the full one follows, learned from the frames drawn
// so far.
#pragma once

namespace hoopwright {

/// Plain arithmetic, no clock: the caller measures. Times in milliseconds.
class FramePace {
public:
    static constexpr double kDraftAim_ms = 30;  ///< a moving picture should take no longer
    /// The full picture is drawn this long after the last event. The window system takes some 20 ms more to
    /// show it, and a quarter of a second is promised.
    static constexpr double kFullDue_ms = 205;

    void drewDraft(double ms);
    void drewFull(double ms);
    /// Side of a draft picture as a share of the full one: 1, 0.75 or 0.5.
    double draftScale() const { return kScales[step_]; }
    /// How long nothing may have moved before the full picture is drawn.
    int stillness_ms() const;

private:
    static constexpr double kScales[] = {1, 0.75, 0.5};
    int step_ = 0, slow_ = 0, quick_ = 0;
    double full_ms_ = 150;
};

}  // namespace hoopwright
