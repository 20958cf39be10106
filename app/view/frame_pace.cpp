#include "app/view/frame_pace.h"

#include <algorithm>

namespace hoopwright {

void FramePace::drewDraft(double ms) {
    constexpr int kSteps = 3;
    // Coarser after two slow frames (one may have been loading), finer only after many quick ones with room
    // to spare: the next step up draws nearly twice as many pixels.
    slow_ = ms > kDraftAim_ms ? slow_ + 1 : 0;
    quick_ = ms < kDraftAim_ms * 0.4 ? quick_ + 1 : 0;
    if (slow_ >= 2 && step_ + 1 < kSteps) ++step_, slow_ = 0;
    if (quick_ >= 12 && step_ > 0) --step_, quick_ = 0;
}

void FramePace::drewFull(double ms) {
    full_ms_ = 0.5 * full_ms_ + 0.5 * ms;
}

int FramePace::stillness_ms() const {
    return static_cast<int>(std::clamp(kFullDue_ms - full_ms_, 30.0, 120.0));
}

}  // namespace hoopwright
