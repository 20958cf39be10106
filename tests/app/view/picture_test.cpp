#include "app/view/picture.h"

#include <gtest/gtest.h>

#include <cmath>

#include "test_cage.h"

namespace hoopwright {
namespace {

PictureOptions small() {
    PictureOptions options;
    options.width_px = 480;
    options.height_px = 320;
    options.supersample = 1;
    return options;
}

double unlikeGrey(const QImage& a, const QImage& b) {
    double sum = 0;
    for (int y = 0; y < a.height(); ++y)
        for (int x = 0; x < a.width(); ++x) sum += std::abs(qGray(a.pixel(x, y)) - qGray(b.pixel(x, y)));
    return sum / (a.width() * a.height());
}

TEST(Picture, HasTheSizeAskedForAndShowsTheCageWithItsLabels) {
    const auto labelled = composePicture(testJob(), testCage(), small());
    ASSERT_TRUE(labelled) << labelled.reason();
    EXPECT_EQ(labelled->size(), QSize(480, 320));
    PictureOptions plain = small();
    plain.labels = false;
    const auto bare = composePicture(testJob(), testCage(), plain);
    ASSERT_TRUE(bare);
    EXPECT_GT(unlikeGrey(*labelled, *bare), 1);
    const auto empty = composePicture(testJob(), CageGeometry{}, plain);
    ASSERT_TRUE(empty);
    EXPECT_GT(unlikeGrey(*bare, *empty), 1);
}

TEST(Picture, IsTheSameEveryTime) {
    const auto first = composePicture(testJob(), testCage(), small());
    const auto second = composePicture(testJob(), testCage(), small());
    ASSERT_TRUE(first && second);
    EXPECT_EQ(*first, *second);
}

TEST(Picture, TakesEveryStandardView) {
    for (const auto& name : standardViews()) {
        PictureOptions options = small();
        options.view = name;
        EXPECT_TRUE(composePicture(testJob(), testCage(), options)) << name;
    }
}

TEST(Picture, DrawsAFindingFromWhereItIsSeen) {
    PictureOptions options = small();
    options.view.clear();
    options.width_px = 960, options.height_px = 640;
    Finding finding;
    finding.title = "Belt bar height";
    finding.answer = Answer::fails;
    finding.evidence.shapes = {ShownLine{{0, 0, 720}, {0, 0, 589}, true}};
    finding.evidence.members = {"belt_bar"};
    finding.evidence.look_at = {0, 0, 650};
    options.finding = finding;
    const auto picture = composePicture(testJob(), testCage(), options);
    ASSERT_TRUE(picture) << picture.reason();
    const QColor wanted = paletteOf(Tone::light).fails;
    int red = 0;
    for (int y = 0; y < picture->height(); ++y)
        for (int x = 0; x < picture->width(); ++x) {
            const QColor c = picture->pixelColor(x, y);
            red += std::abs(c.hue() - wanted.hue()) < 8 && c.saturation() > 150;
        }
    EXPECT_GT(red, 200) << "the measured line and the card's edge";
}

TEST(Picture, SaysWhatIsWrongWithASizeOrAView) {
    PictureOptions options = small();
    options.width_px = 8;
    auto picture = composePicture(testJob(), testCage(), options);
    ASSERT_FALSE(picture);
    EXPECT_EQ(picture.reason(), "A picture of 8 x 320 pixels cannot be made: give 64 to 16384 a side.");
    options = small();
    options.view = "below";
    picture = composePicture(testJob(), testCage(), options);
    ASSERT_FALSE(picture);
    EXPECT_EQ(picture.reason().substr(0, 50), "There is no view 'below': give one of front, rear,");
}

}  // namespace
}  // namespace hoopwright
