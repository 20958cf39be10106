// Pinned dimensions, groups and sections as they are drawn over a picture.
#include <gtest/gtest.h>

#include <QImage>
#include <QPainter>
#include <cmath>
#include <set>

#include "app/view/overlay.h"
#include "demo_jobs.h"
#include "render/scene.h"

namespace hoopwright {
namespace {

class SeeSigns : public testing::Test {
protected:
    SeeSigns() {
        scene_.view = standardView("three_quarter", Box(Vec3(-1900, -700, -100), Vec3(1500, 700, 1200)), 1.6);
        scene_.size = QSize(1280, 800);
        scene_.palette = paletteOf(Tone::light);
        scene_.cage = &cage_;
    }
    void pin(PinnedDimension::Kind kind, const std::string& a, const std::string& b, double share = 0.4) {
        PinnedDimension one;
        one.id = "d" + std::to_string(job_.cage.dimensions.size());
        one.kind = kind;
        one.bar_a = a;
        one.bar_b = b;
        Landing from, to;
        from.host = a;
        to.host = b;
        from.by = to.by = Landing::By::fraction;
        from.value = to.value = share;
        one.from = from;
        one.to = to;
        job_.cage.dimensions.push_back(one);
    }

    Job job_ = demoJob("hillclimb_saloon").job;
    CageGeometry cage_ = resolve(job_);
    OverlayScene scene_;
    Overlay overlay_;
};

TEST_F(SeeSigns, EveryDimensionHasItsFigureAndNoLabelStandsOnAnother) {
    using Kind = PinnedDimension::Kind;
    pin(Kind::distance, "main_hoop", "door_bar.left");
    pin(Kind::gap, "belt_bar", "rear_brace.left");
    pin(Kind::centres, "main_hoop", "side_bar.left");
    pin(Kind::angle, "main_hoop", "rear_brace.right");
    pin(Kind::height, "belt_bar", "belt_bar");
    pin(Kind::height, "main_hoop", "main_hoop", 0.5);
    pin(Kind::gap, "belt_bar", "no_such_bar");
    scene_.dimensions = dimensionSigns(job_, cage_);
    ASSERT_EQ(scene_.dimensions.size(), 6u) << "what reads nothing is not drawn";
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    overlay_.arrange(scene_);
    std::set<std::string> found;
    const auto& all = overlay_.shown();
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t k = i + 1; k < all.size(); ++k)
            EXPECT_FALSE(all[i].place.box.intersects(all[k].place.box)) << all[i].key << " " << all[k].key;
        for (const DimensionSign& sign : scene_.dimensions)
            if (all[i].key == "dimension " + sign.id) {
                found.insert(sign.id);
                EXPECT_EQ(all[i].block.runs[0].text, dimensionText(sign.read, scene_.lengths));
                for (const auto& line : dimensionLines(sign, scene_))
                    EXPECT_FALSE(comesNear({line, 0}, all[i].place.box, 0)) << "covers its own line";
            }
    }
    EXPECT_GE(found.size(), 5u);
    for (const Tone tone : {Tone::light, Tone::dark}) {
        scene_.palette = paletteOf(tone);
        QImage image(scene_.size, QImage::Format_RGB32);
        image.fill(scene_.palette.paper);
        QPainter painter(&image);
        overlay_.paint(painter, scene_);
        painter.end();
        // The ink of a dimension is on its line, wherever no label lies over it.
        const auto line = dimensionLines(scene_.dimensions[0], scene_);
        ASSERT_EQ(line.size(), 1u);
        int inked = 0, bare = 0;
        for (const double share : {0.15, 0.3, 0.4, 0.5, 0.65, 0.8, 0.9}) {
            const QPointF p = (1 - share) * line[0][0] + share * line[0][1];
            if (std::ranges::any_of(
                    all, [&](const auto& each) { return each.place.box.adjusted(-6, -6, 6, 6).contains(p); }))
                continue;
            ++bare;
            bool here = false;
            for (int dy = -2; dy <= 2; ++dy)
                for (int dx = -2; dx <= 2; ++dx) {
                    const QColor c = image.pixelColor(p.toPoint() + QPoint(dx, dy));
                    here |= std::abs(c.red() - scene_.palette.action.red()) < 60 &&
                            std::abs(c.blue() - scene_.palette.action.blue()) < 60;
                }
            inked += here;
        }
        ASSERT_GE(bare, 2);
        EXPECT_GE(inked, bare - 1) << "one may lie under a leader";
    }
}

TEST_F(SeeSigns, EveryBarIsInOneGroupAndTheLegendTellsThem) {
    for (const Colouring by : {Colouring::by_place, Colouring::by_role, Colouring::by_state,
                               Colouring::by_stock, Colouring::by_result}) {
        ASSERT_TRUE(hasGroups(by));
        const std::vector<Mark> marks(cage_.members.size(), Mark::meets);
        const BarGroups groups = barGroups(by, job_, cage_, marks);
        ASSERT_EQ(groups.of_member.size(), cage_.members.size());
        std::set<std::string> keys;
        std::vector<int> count(groups.groups.size());
        for (const int group : groups.of_member) ++count.at(std::size_t(group));
        for (std::size_t i = 0; i < groups.groups.size(); ++i) {
            EXPECT_TRUE(keys.insert(groups.groups[i].key).second);
            EXPECT_GT(count[i], 0);
            for (std::size_t k = 0; k < i; ++k)
                EXPECT_FALSE(groups.groups[i].paint == groups.groups[k].paint) << "told apart";
        }
        EXPECT_EQ(groups.paints().size(), cage_.members.size());
        scene_.groups = groups;
        const QRectF place = groupLegendPlace(scene_);
        EXPECT_TRUE(QRectF(QPointF(), QSizeF(scene_.size)).contains(place));
        bool taken = false;
        for (const QRectF& sign : signPlaces(scene_)) taken |= sign == place;
        EXPECT_TRUE(taken);
    }
    EXPECT_FALSE(hasGroups(Colouring::by_gap));
    const BarGroups roles = barGroups(Colouring::by_role, job_, cage_, {});
    for (std::size_t i = 0; i < cage_.members.size(); ++i)
        EXPECT_EQ(roles.groupOf(i).key, cage_.members[i].role);
    job_.cage.members[0].optional_bar = true;
    const BarGroups states = barGroups(Colouring::by_state, job_, cage_, {});
    EXPECT_EQ(states.groupOf(0).key, "may_be_left_out");
}

// Colours for every eye: the same measure and the same matrices for missing cones as for places of the car.
// Machado, Oliveira, Fernandes, IEEE TVCG 15 (2009): severity 1.0 of protan, deutan and tritan.
TEST(GroupColours, StayApartForEveryKindOfColourSight) {
    using Matrix = Eigen::Matrix3d;
    Matrix protan, deutan, tritan;
    protan << 0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998;
    deutan << 0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881;
    tritan << 1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900;
    const auto linear = [](double v) {
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    const auto lab = [&](const Rgb& c, const Matrix& sight) {
        Vec3 rgb = sight * Vec3(linear(double(c.r)), linear(double(c.g)), linear(double(c.b)));
        rgb = rgb.cwiseMax(0).cwiseMin(1);
        Matrix to_xyz;  // IEC 61966-2-1, D65
        to_xyz << 0.4124, 0.3576, 0.1805, 0.2126, 0.7152, 0.0722, 0.0193, 0.1192, 0.9505;
        const Vec3 xyz = to_xyz * rgb;
        const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116; };
        const double x = f(xyz.x() / 0.9505), y = f(xyz.y()), z = f(xyz.z() / 1.089);
        return Vec3(116 * y - 16, 500 * (x - y), 200 * (y - z));
    };
    for (const Matrix& sight : {Matrix(Matrix::Identity()), protan, deutan, tritan})
        for (int a = 0; a < 8; ++a)
            for (int b = a + 1; b < 8; ++b)
                EXPECT_GT((lab(groupPaint(a).colour, sight) - lab(groupPaint(b).colour, sight)).norm(), 20)
                    << a << " and " << b;
}

TEST_F(SeeSigns, TheFrameOfASectionNeverCrossesWords) {
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    overlay_.arrange(scene_);
    const OverlayScene bare = scene_;
    const auto painted = [&](const OverlayScene& what) {
        QImage image(scene_.size, QImage::Format_ARGB32_Premultiplied);
        image.fill(scene_.palette.paper);
        QPainter painter(&image);
        overlay_.paint(painter, what);
        return image;
    };
    const auto inLabels = [&](const auto& counts) {
        int count = 0;
        for (const auto& label : overlay_.shown()) {
            const auto handle = sectionPlace(scene_);
            if (handle && handle->intersects(label.place.box)) continue;
            const QRect box = label.place.box.toRect().adjusted(3, 3, -3, -3);
            for (int y = box.top(); y <= box.bottom(); ++y)
                for (int x = box.left(); x <= box.right(); ++x) count += counts(x, y);
        }
        return count;
    };
    const QImage without = painted(bare);
    int most_behind = 0;
    for (double at_mm = -1800; at_mm <= 1400; at_mm += 50) {
        scene_.section =
            SectionSign{{0, at_mm, false}, Box(Vec3(-1900, -700, -100), Vec3(1500, 700, 1200)), false};
        QImage frame(scene_.size, QImage::Format_ARGB32_Premultiplied);
        frame.fill(Qt::transparent);
        QPainter painter(&frame);
        paintSectionFrame(painter, scene_);
        painter.end();
        const int behind = inLabels([&](int x, int y) { return qAlpha(frame.pixel(x, y)) > 60; });
        if (behind == 0) continue;
        most_behind = std::max(most_behind, behind);
        const QImage with = painted(scene_);
        EXPECT_EQ(inLabels([&](int x, int y) {
                      return std::abs(qRed(with.pixel(x, y)) - qRed(without.pixel(x, y))) > 40;
                  }),
                  0)
            << at_mm;
    }
    EXPECT_GT(most_behind, 10) << "it does pass behind words somewhere";
}

TEST_F(SeeSigns, ASectionIsDraggedAlongItsAxisByWhatTheHandMoves) {
    const Box box(Vec3(-1900, -700, -100), Vec3(1500, 700, 1200));
    const Projection projection(scene_.view, scene_.size);
    for (int axis = 0; axis < 3; ++axis) {
        SectionSign sign{{axis, box.center()[axis], false}, box, false};
        const auto handle = sectionHandle(sign, projection);
        ASSERT_TRUE(handle);
        Vec3 middle = box.center();
        const QPointF from = *projection.at(middle);
        const QPointF to = *projection.at(middle + 5 * Vec3::Unit(axis));
        EXPECT_NEAR(sectionDrag_mm(sign, projection, from, to), 5, 0.05);
        EXPECT_NEAR(sectionDrag_mm(sign, projection, to, from), -5, 0.05);
        scene_.section = sign;
        const auto place = sectionPlace(scene_);
        ASSERT_TRUE(place);
        EXPECT_TRUE(place->contains(*handle));
    }
    EXPECT_EQ(sectionText({0, 812.4, false}, scene_.lengths), QStringLiteral("Cut at x = 812.4 mm"));
}

// The places of the bars by the camera alone, at the sizes the view has in windows of 1366 x 768 and
// 1920 x 1080.
TEST_F(SeeSigns, WhatIsAskedStandsAtTheFootAndCoversNoBar) {
    EXPECT_TRUE(promptPlace(scene_).isEmpty());
    CageScene all;
    all.set(job_, cage_);
    const Box box = all.bounds();
    for (const QSize size : {QSize(683, 496), QSize(1190, 740)}) {
        scene_.size = size;
        for (const char* name : {"three_quarter", "three_quarter_rear", "left"}) {
            scene_.view = standardView(name, box, double(size.width()) / size.height());
            for (const char* words : {"Click where it ends",
                                      "Click where it bends, or the bar or plate it ends on. Enter ends it, "
                                      "Backspace takes back"}) {
                scene_.prompt = QString::fromLatin1(words);
                const std::vector<QRectF> signs = signPlaces(scene_);
                const QRectF prompt = promptPlace(scene_);
                EXPECT_EQ(signs.back(), prompt);
                EXPECT_TRUE(QRectF(QPointF(0, 0), QSizeF(size)).contains(prompt)) << name << words;
                for (std::size_t i = 0; i + 1 < signs.size(); ++i)
                    EXPECT_FALSE(signs[i].intersects(prompt)) << name << i;
                EXPECT_LT(prompt.height(), 0.2 * size.height()) << "thin";
                for (const ResolvedMember& bar : cage_.members)
                    for (double s = 0; s <= bar.line.length_mm(); s += 20) {
                        const Vec3 at = scene_.view.project(bar.line.point(s), size.width(), size.height());
                        EXPECT_FALSE(prompt.contains(QPointF(at.x(), at.y()))) << bar.id << name;
                    }
            }
        }
    }
}

}  // namespace
}  // namespace hoopwright
