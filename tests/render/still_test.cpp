#include "render/still.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "render/evidence.h"
#include "tests/render/small_cage.h"

namespace hoopwright {
namespace {

using testing_render::smallCage;

constexpr int kStillWidth = 480, kStillHeight = 300;

Rgb pixel(const Pixels& picture, double x, double y) {
    const auto* p = &picture.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                       static_cast<std::size_t>(x))];
    return {p[0] / 255.0f, p[1] / 255.0f, p[2] / 255.0f};
}

View front() {
    return standardView("front", Box(Vec3(-100, -700, -50), Vec3(100, 700, 1050)),
                        static_cast<double>(kStillWidth) / kStillHeight);
}

class StillPicture : public ::testing::Test {
protected:
    void SetUp() override { scene_.set(Job(), cage_); }
    const CageGeometry cage_ = smallCage();
    CageScene scene_;
};

TEST_F(StillPicture, ShowsSomethingAndIsTheSameTwice) {
    const auto first = still(scene_, front(), kStillWidth, kStillHeight, 1),
               second = still(scene_, front(), kStillWidth, kStillHeight, 1);
    ASSERT_TRUE(first) << first.reason();
    ASSERT_TRUE(second);
    std::set<std::array<std::uint8_t, 3>> colours;
    for (std::size_t i = 0; i < first->rgba.size(); i += 4) {
        colours.insert({first->rgba[i], first->rgba[i + 1], first->rgba[i + 2]});
        ASSERT_EQ(first->rgba[i + 3], 255);
    }
    EXPECT_GT(colours.size(), 300u);
    EXPECT_EQ(first->rgba, second->rgba);
}

TEST_F(StillPicture, HasTheTubesColourWhereTheTubeIs) {
    const View view = front();
    SceneLook look;
    look.colouring = Colouring::by_result;
    scene_.setLook(look);
    scene_.setMarks({Mark::fails, Mark::meets, Mark::none});
    const auto picture = still(scene_, view, kStillWidth, kStillHeight, 2);
    ASSERT_TRUE(picture);
    const auto at = [&](const Vec3& p) {
        const Vec3 on = view.project(p, kStillWidth, kStillHeight);
        return pixel(*picture, on.x(), on.y());
    };
    const Rgb hoop = at({20, 600, 300}), bar = at({20, 300, 600});
    EXPECT_GT(hoop.r, hoop.g + 0.15f);  // brick
    EXPECT_GT(hoop.r, hoop.b + 0.15f);
    EXPECT_GT(bar.g, bar.r + 0.1f);  // green-teal
    const Rgb open = at({0, 300, 300});
    EXPECT_LT(std::abs(open.r - open.g), 0.08f);  // the backdrop is nearly grey
    EXPECT_EQ(
        pick(cage_, view.ray(kStillWidth / 2.0, 0, kStillWidth, kStillHeight).first, Vec3(0, 0, 1)).member,
        -1);
}

TEST_F(StillPicture, TheSelectionIsTapeYellow) {
    scene_.setSelected({"belt_bar"});
    const View view = front();
    const auto picture = still(scene_, view, kStillWidth, kStillHeight, 2);
    ASSERT_TRUE(picture);
    const Vec3 on = view.project({20, 100, 600}, kStillWidth, kStillHeight);
    const Rgb c = pixel(*picture, on.x(), on.y());
    EXPECT_GT(c.r, c.b + 0.25f);
    EXPECT_GT(c.g, c.b + 0.12f);
}

TEST_F(StillPicture, XRayShowsWhatIsBehind) {
    const View view = front();
    SceneLook look;
    const auto solid = still(scene_, view, kStillWidth, kStillHeight, 1);
    look.x_ray = true;
    scene_.setLook(look);
    const auto clear = still(scene_, view, kStillWidth, kStillHeight, 1);
    ASSERT_TRUE(solid && clear);
    const Vec3 on = view.project({20, 600, 300}, kStillWidth, kStillHeight);
    const Rgb was = pixel(*solid, on.x(), on.y()), is = pixel(*clear, on.x(), on.y());
    EXPECT_GT(is.r + is.g + is.b,
              was.r + was.g + was.b + 0.3f);  // the pale backdrop comes through the dark hoop
}

TEST_F(StillPicture, TheDarkLookIsDark) {
    SceneLook look;
    const auto mean = [](const Pixels& p) {
        double sum = 0;
        for (std::size_t i = 0; i < p.rgba.size(); i += 4) sum += p.rgba[i] + p.rgba[i + 1] + p.rgba[i + 2];
        return sum / static_cast<double>(p.rgba.size() / 4 * 3);
    };
    const auto light = still(scene_, front(), kStillWidth, kStillHeight, 1);
    look.dark = true;
    scene_.setLook(look);
    const auto dark = still(scene_, front(), kStillWidth, kStillHeight, 1);
    ASSERT_TRUE(light && dark);
    EXPECT_GT(mean(*light), 140);
    EXPECT_LT(mean(*dark), 80);
}

TEST_F(StillPicture, EvidenceIsDrawnOverWhatHidesIt) {
    // Behind the hoop's left leg, seen from the front.
    drawEvidence(*scene_.evidence(), {ShownPoint{{-200, 600, 300}}}, {0, 0, 1}, 20);
    const View view = front();
    const auto picture = still(scene_, view, kStillWidth, kStillHeight, 2);
    ASSERT_TRUE(picture);
    const Vec3 on = view.project({-200, 600, 300}, kStillWidth, kStillHeight);
    const Rgb c = pixel(*picture, on.x(), on.y());
    EXPECT_GT(c.b, 0.6f);
    EXPECT_LT(c.r, 0.3f);
}

TEST_F(StillPicture, ALargePictureInPartsIsTheSmallOneEnlarged) {
    // 4400 pixels wide needs two parts; no seam may show, and every place must be where the small picture has
    // it.
    const auto small = still(scene_, front(), 440, 275, 1), large = still(scene_, front(), 4400, 2750, 1);
    ASSERT_TRUE(small && large);
    double worst_mean = 0;
    for (int y = 10; y < 265; y += 5)
        for (int x = 4; x < 436; x += 4) {
            double sum = 0;
            for (int j = 0; j < 10; ++j)
                for (int i = 0; i < 10; ++i) sum += pixel(*large, 10 * x + i, 10 * y + j).g;
            worst_mean += std::abs(sum / 100 - pixel(*small, x, y).g);
        }
    EXPECT_LT(worst_mean / (51 * 108), 0.02);
}

TEST_F(StillPicture, ASizeThatCannotBeDrawnIsASentence) {
    for (const auto& [w, h] : {std::pair{0, 100}, {100, -1}, {20000, 100}}) {
        const auto picture = still(scene_, front(), w, h, 1);
        ASSERT_FALSE(picture);
        EXPECT_NE(picture.reason().find("16384 pixels a side"), std::string::npos);
    }
}

}  // namespace
}  // namespace hoopwright
