#include "app/view/label_layout.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "app/view/busy_map.h"

namespace hoopwright {
namespace {

constexpr double kGap = 4;

// Labels on bars strewn over a picture of 1280 x 800, as a cage of `count` named bars would have.
struct Picture {
    std::vector<LabelWish> wishes;
    LabelRoom room;
};

Picture pictureOf(unsigned seed, int count) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> x(100, 1180), y(80, 720), reach(-300, 300), width(60, 160),
        unit(0, 1);
    Picture p;
    p.room.view = QRectF(8, 8, 1264, 784);
    p.room.taken = {QRectF(8, 700, 120, 92), QRectF(500, 8, 300, 60)};
    p.room.middle = QPointF(640, 400);
    p.room.gap = kGap;
    for (int i = 0; i < count; ++i) {
        LabelWish wish;
        const QPointF from(x(random), y(random)), to = from + QPointF(reach(random), reach(random));
        const double t = unit(random);
        wish.anchor = from + (to - from) * t;
        wish.size = QSizeF(width(random), 24);
        wish.rank = i % 3;
        wish.things = {Stroke{{from, to}, 2 + 12 * unit(random)}};
        p.room.busy.push_back(wish.things.front());
        p.wishes.push_back(wish);
    }
    return p;
}

QRectF widened(const QRectF& box, double by) {
    return box.adjusted(-by, -by, by, by);
}

class Strewn : public testing::TestWithParam<unsigned> {};

TEST_P(Strewn, ShownBoxesNeverOverlap) {
    for (const int count : {5, 20, 45}) {
        const auto p = pictureOf(GetParam(), count);
        const auto places = layOutLabels(p.wishes, p.room);
        ASSERT_EQ(places.size(), p.wishes.size());
        for (std::size_t i = 0; i < places.size(); ++i)
            for (std::size_t j = i + 1; j < places.size(); ++j)
                ASSERT_FALSE(places[i].shown && places[j].shown &&
                             widened(places[i].box, kGap - 1e-6).intersects(places[j].box))
                    << i << ", " << j;
    }
}

// Second way: walk along the bar and ask of each point how far it is from the box.
TEST_P(Strewn, ABoxNeverCoversTheThingItNames) {
    const auto p = pictureOf(GetParam(), 30);
    const auto places = layOutLabels(p.wishes, p.room);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (!places[i].shown) continue;
        const auto& bar = p.wishes[i].things.front();
        const QRectF box = places[i].box;
        for (int s = 0; s <= 2000; ++s) {
            const QPointF at = bar.points[0] + (bar.points[1] - bar.points[0]) * (s / 2000.0);
            const double dx = std::max({box.left() - at.x(), 0.0, at.x() - box.right()});
            const double dy = std::max({box.top() - at.y(), 0.0, at.y() - box.bottom()});
            ASSERT_GE(std::hypot(dx, dy), bar.half_width) << "label " << i;
        }
    }
}

TEST_P(Strewn, BoxesStayInsideTheRoomAndOffWhatIsTaken) {
    const auto p = pictureOf(GetParam(), 45);
    int shown = 0, wished = 0;
    for (const auto& place : layOutLabels(p.wishes, p.room)) {
        if (!place.shown) continue;
        ++shown;
        EXPECT_TRUE(p.room.view.contains(place.box));
        for (const auto& taken : p.room.taken) EXPECT_FALSE(place.box.intersects(taken));
    }
    for (const auto& wish : p.wishes) wished += p.room.view.contains(wish.anchor);
    EXPECT_GE(shown, wished * 9 / 10) << "a picture this size has room for nearly all";
}

TEST_P(Strewn, TheSameWishesGiveTheSamePlaces) {
    const auto p = pictureOf(GetParam(), 25);
    const auto first = layOutLabels(p.wishes, p.room), second = layOutLabels(p.wishes, p.room);
    for (std::size_t i = 0; i < first.size(); ++i) {
        EXPECT_EQ(first[i].shown, second[i].shown);
        EXPECT_EQ(first[i].box, second[i].box);
    }
}

// A camera that turns a little: every anchor and bar moves by up to three pixels, each its own way.
TEST_P(Strewn, BoxesTravelWithTheirAnchors) {
    auto p = pictureOf(GetParam(), 20);
    auto places = layOutLabels(p.wishes, p.room);
    std::mt19937 random(GetParam() + 1000);
    std::uniform_real_distribution<double> nudge(-3, 3);
    int kept = 0, all = 0;
    for (int frame = 0; frame < 10; ++frame) {
        std::vector<QPointF> offsets(places.size());
        for (std::size_t i = 0; i < places.size(); ++i) {
            const QPointF by(nudge(random), nudge(random));
            offsets[i] = places[i].box.center() - p.wishes[i].anchor;
            p.wishes[i].before = places[i].shown ? std::optional(offsets[i]) : std::nullopt;
            p.wishes[i].anchor += by;
            for (auto& point : p.wishes[i].things.front().points) point += by;
        }
        const auto next = layOutLabels(p.wishes, p.room);
        for (std::size_t i = 0; i < next.size(); ++i) {
            if (!places[i].shown || !p.room.view.contains(p.wishes[i].anchor)) continue;
            ++all;
            const QPointF moved = next[i].box.center() - p.wishes[i].anchor - offsets[i];
            kept += next[i].shown && std::hypot(moved.x(), moved.y()) < 0.5;
        }
        places = next;
    }
    ASSERT_GT(all, 100);
    EXPECT_GE(kept, all * 9 / 10);
}

INSTANTIATE_TEST_SUITE_P(Seeds, Strewn, testing::Range(1u, 13u));

TEST(LabelLayout, StandsBesideALonelyAnchorOnTheFarSideFromTheMiddle) {
    LabelRoom room{QRectF(0, 0, 800, 600), {}, {}, QPointF(400, 300), kGap};
    LabelWish wish;
    wish.anchor = QPointF(600, 300);
    wish.size = QSizeF(80, 24);
    const auto places = layOutLabels({wish}, room);
    ASSERT_TRUE(places[0].shown);
    EXPECT_GT(places[0].box.left(), 600);
    EXPECT_LT(places[0].touch.x() - 600, 15) << "as near as the first ring";
}

TEST(LabelLayout, WhatHasNoPlaceIsNotShown) {
    LabelRoom room{QRectF(0, 0, 100, 40), {}, {}, QPointF(50, 20), kGap};
    LabelWish wish;
    wish.anchor = QPointF(50, 20);
    wish.size = QSizeF(120, 24);
    EXPECT_FALSE(layOutLabels({wish}, room)[0].shown);
    wish.size = QSizeF(40, 12);
    wish.anchor = QPointF(-5, 20);
    EXPECT_FALSE(layOutLabels({wish}, room)[0].shown) << "points at something out of the picture";
}

TEST(LabelLayout, WhileThingsMoveABoxHoldsEvenWhereABetterPlaceIsFree) {
    LabelRoom room{QRectF(0, 0, 800, 600), {}, {}, QPointF(400, 300), kGap, true};
    LabelWish wish;
    wish.anchor = QPointF(600, 300);
    wish.size = QSizeF(80, 24);
    wish.before = QPointF(-310, 40);  // far off, and on the inside
    const auto held = layOutLabels({wish}, room);
    ASSERT_TRUE(held[0].shown);
    EXPECT_EQ(held[0].box.center(), wish.anchor + *wish.before);
    room.hold = false;
    EXPECT_NE(layOutLabels({wish}, room)[0].box.center(), wish.anchor + *wish.before);
    room.hold = true;
    room.taken = {QRectF(250, 300, 100, 100)};
    EXPECT_FALSE(layOutLabels({wish}, room)[0].box.intersects(room.taken[0])) << "but never on what is taken";
}

TEST(LabelLayout, TheLowerRankChoosesFirst) {
    LabelRoom room{QRectF(0, 0, 140, 60), {}, {}, QPointF(70, 30), kGap};
    LabelWish plain, card;
    plain.anchor = card.anchor = QPointF(70, 4);
    plain.size = card.size = QSizeF(136, 40);
    plain.rank = 1;
    const auto places = layOutLabels({plain, card}, room);
    EXPECT_FALSE(places[0].shown);
    EXPECT_TRUE(places[1].shown);
}

TEST(BusyMap, AnswersTheShareOfABoxThatIsCovered) {
    const BusyMap map(QRectF(0, 0, 160, 160), {Stroke{{QPointF(4, 84), QPointF(156, 84)}, 0}});
    EXPECT_DOUBLE_EQ(map.share(QRectF(0, 80, 160, 8)), 1);
    EXPECT_DOUBLE_EQ(map.share(QRectF(0, 64, 160, 32)), 0.25);
    EXPECT_DOUBLE_EQ(map.share(QRectF(0, 0, 160, 40)), 0);
    EXPECT_DOUBLE_EQ(map.share(QRectF(400, 400, 40, 40)), 0);
}

TEST(BusyMap, TakesPointsFarOutsideThePicture) {
    const BusyMap map(QRectF(0, 0, 160, 160), {Stroke{{QPointF(-1e12, 80), QPointF(1e12, 80)}, 1e9}});
    EXPECT_GE(map.share(QRectF(0, 0, 160, 160)), 0);
}

}  // namespace
}  // namespace hoopwright
