#include "app/view/frame_pace.h"

#include <gtest/gtest.h>

namespace hoopwright {
namespace {

TEST(FramePace, StartsAtFullResolution) {
    EXPECT_EQ(FramePace().draftScale(), 1);
}

TEST(FramePace, OneSlowFrameIsForgiven) {
    FramePace pace;
    pace.drewDraft(300);
    pace.drewDraft(10);
    pace.drewDraft(300);
    EXPECT_EQ(pace.draftScale(), 1);
}

TEST(FramePace, SlowFramesMakeDraftsCoarserDownToAHalf) {
    FramePace pace;
    pace.drewDraft(80);
    pace.drewDraft(80);
    EXPECT_EQ(pace.draftScale(), 0.75);
    for (int i = 0; i < 20; ++i) pace.drewDraft(80);
    EXPECT_EQ(pace.draftScale(), 0.5);
}

TEST(FramePace, SettlesOnAScaleThatKeepsTheAim) {
    // A machine that needs 50 ms for a whole picture, in proportion to its pixels, must not hunt between two
    // scales.
    FramePace pace;
    int changes = 0;
    for (int i = 0; i < 200; ++i) {
        const double before = pace.draftScale();
        pace.drewDraft(50 * before * before);
        if (i > 10) changes += pace.draftScale() != before;
    }
    EXPECT_EQ(changes, 0);
    EXPECT_LE(50 * pace.draftScale() * pace.draftScale(), FramePace::kDraftAim_ms);
}

TEST(FramePace, GoesBackUpWhenThereIsRoomAgain) {
    FramePace pace;
    for (int i = 0; i < 6; ++i) pace.drewDraft(80);
    for (int i = 0; i < 40; ++i) pace.drewDraft(4);
    EXPECT_EQ(pace.draftScale(), 1);
}

TEST(FramePace, TheFullPictureIsDueWithinAQuarterOfASecond) {
    for (const double full_ms : {5.0, 60.0, 120.0, 190.0}) {
        FramePace pace;
        for (int i = 0; i < 12; ++i) pace.drewFull(full_ms);
        EXPECT_GE(pace.stillness_ms(), 30) << "a hand that pauses between two events is not still";
        EXPECT_LE(pace.stillness_ms() + full_ms, 250) << full_ms;
    }
}

}  // namespace
}  // namespace hoopwright
