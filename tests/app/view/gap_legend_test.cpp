#include "app/view/gap_legend.h"

#include <gmock/gmock.h>

#include <QImage>
#include <QPainter>
#include <algorithm>
#include <set>

#include "app/view/picture.h"
#include "core/units/measure.h"
#include "test_cage.h"

namespace hoopwright {
namespace {

using testing::ElementsAre;

QColor colourOf(const Rgb& c) {
    return QColor::fromRgbF(c.r, c.g, c.b);
}

BarGaps someGaps(std::size_t bars) {
    BarGaps gaps;
    gaps.along.assign(bars, {{0, 1000}, {30, 30}});
    gaps.least_mm = 12.34;
    gaps.least_bar = "Main hoop";
    gaps.least_part = "shell";
    return gaps;
}

TEST(GapLegend, SaysEveryBandInThePersonsUnit) {
    EXPECT_THAT(gapBandWords(LengthUnit::mm),
                ElementsAre("touching, or through it", "up to 10 mm", "10 to 25 mm", "25 to 50 mm",
                            "50 to 100 mm", "100 to 200 mm", "over 200 mm"));
    EXPECT_THAT(gapBandWords(LengthUnit::in),
                ElementsAre("touching, or through it", "up to 3/8 in", "3/8 to 1 in", "1 to 2 in",
                            "2 to 4 in", "4 to 8 in", "over 8 in"));
    for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::in}) {
        // Each edge said is the edge meant: read back through the reader of measures.
        const auto words = gapBandWords(unit);
        for (std::size_t i = 0; i < gapScale(unit).edges_mm.size(); ++i) {
            const std::string upper = words[i + 1].section(QStringLiteral("to "), -1).toStdString();
            EXPECT_NEAR(*readMeasure(upper, baseUnit(Dimension::length)), gapScale(unit).edges_mm[i], 1e-9)
                << upper;
        }
    }
}

class GapLegendOnPaper : public testing::TestWithParam<std::tuple<Tone, LengthUnit, double>> {
protected:
    GapLegendOnPaper() {
        scene_.view = standardView("three_quarter", Box(Vec3(-100, -620, 0), Vec3(1450, 620, 1170)), 1.6);
        scene_.size = QSize(1280, 800);
        scene_.palette = paletteOf(std::get<0>(GetParam()));
        scene_.lengths.unit = std::get<1>(GetParam());
        scene_.scale = std::get<2>(GetParam());
        scene_.gaps = someGaps(3);
    }
    QImage painted() const {
        QImage image(scene_.size, QImage::Format_RGB32);
        image.fill(QColor(120, 120, 120));
        QPainter painter(&image);
        paintGapLegend(painter, scene_);
        return image;
    }
    OverlayScene scene_;
};

TEST_P(GapLegendOnPaper, ShowsTheVeryColoursAndStaysInItsPlace) {
    const QRectF place = gapLegendPlace(scene_);
    EXPECT_TRUE(QRectF(QPointF(0, 0), QSizeF(scene_.size)).contains(place));
    const QImage image = painted();
    std::set<QRgb> seen;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x) {
            const QRgb pixel = image.pixel(x, y);
            if (!place.adjusted(-6, -6, 6, 6).contains(QPointF(x, y))) {
                ASSERT_EQ(pixel, qRgb(120, 120, 120)) << x << " " << y;
            }
            seen.insert(pixel);
        }
    for (int band = 0; band < gapScale(scene_.lengths.unit).bands(); ++band)
        EXPECT_TRUE(seen.count(colourOf(gapColour(band)).rgb())) << band;
    EXPECT_TRUE(seen.count(colourOf(touchRingColour()).rgb()));
    EXPECT_FALSE(seen.count(colourOf(noGapColour()).rgb())) << "every bar is measured";
}

TEST_P(GapLegendOnPaper, GrowsByWhatItMustAlsoSay) {
    const double plain = gapLegendPlace(scene_).height();
    scene_.gaps->along.push_back({});
    const double unmeasured = gapLegendPlace(scene_).height();
    EXPECT_GT(unmeasured, plain);
    EXPECT_TRUE([&] {
        const QImage image = painted();
        for (int y = 0; y < image.height(); ++y)
            for (int x = 0; x < image.width(); ++x)
                if (image.pixel(x, y) == colourOf(noGapColour()).rgb()) return true;
        return false;
    }());
    scene_.gaps->missing = "scan 'cab.stl' is not loaded";
    EXPECT_GT(gapLegendPlace(scene_).height(), unmeasured);
    const double bottom = gapLegendPlace(scene_).bottom();
    scene_.view.orthographic_height_mm = 2000;  // the scale bar keeps its corner
    EXPECT_LT(gapLegendPlace(scene_).bottom(), bottom - 20 * scene_.scale);
}

INSTANTIATE_TEST_SUITE_P(Ways, GapLegendOnPaper,
                         testing::Combine(testing::Values(Tone::light, Tone::dark),
                                          testing::Values(LengthUnit::mm, LengthUnit::in),
                                          testing::Values(1.0, 1.8)));

TEST(GapLegend, LabelsKeepOffIt) {
    const CageGeometry cage = testCage();
    OverlayScene scene;
    scene.view = standardView("three_quarter", Box(Vec3(-100, -620, 0), Vec3(1450, 620, 1170)), 1.6);
    scene.size = QSize(700, 460);
    scene.palette = paletteOf(Tone::light);
    scene.cage = &cage;
    scene.labels = barLabels(cage, LengthUnit::mm);
    scene.gaps = someGaps(cage.members.size());
    Overlay overlay;
    overlay.arrange(scene);
    ASSERT_FALSE(overlay.shown().empty());
    for (const auto& label : overlay.shown())
        EXPECT_FALSE(label.place.box.intersects(gapLegendPlace(scene))) << label.key;
}

TEST(GapLegend, ABarIsNamedWithItsLeastGapAndTheColourOfThat) {
    const CageGeometry cage = testCage();
    OverlayScene scene;
    scene.cage = &cage;
    scene.gaps = someGaps(cage.members.size());
    scene.gaps->along[0] = {{0, 500, 1000}, {60, 12.5, 60}};
    scene.gaps->along[1] = {{0, 1000}, {-1, 60}};
    scene.gaps->along[2] = {};
    const auto labels = barLabels(cage, LengthUnit::mm);
    const ViewLabel near = withGap(labels[0], scene), touches = withGap(labels[1], scene),
                    none = withGap(labels[2], scene);
    EXPECT_EQ(near.sub_text, "12.5 mm");
    EXPECT_EQ(near.chip, colourOf(gapColour(2)));
    EXPECT_EQ(touches.sub_text, "touches");
    EXPECT_EQ(touches.chip, colourOf(gapColour(0)));
    EXPECT_EQ(none.sub_text, "");
    EXPECT_EQ(none.chip, colourOf(noGapColour()));
    scene.lengths.unit = LengthUnit::in;
    EXPECT_EQ(withGap(labels[0], scene).sub_text, "0.492 in");
    ViewLabel place;
    place.text = "B pillar top";
    place.sub_text = "kept";
    EXPECT_EQ(withGap(place, scene).sub_text, "kept");
}

TEST(BarGapsOfACage, HoldTheLeastPlaceOfEachBarAndOfAll) {
    const CageGeometry cage = testCage();
    // A pane 100 mm above the highest point of the cage.
    double top = -1e9;
    for (const ResolvedMember& member : cage.members)
        top = std::max(top, member.line.bounds().max().z() + member.radius_mm());
    TriangleMesh roof;
    roof.vertices = {{-3000, -3000, top + 100}, {3000, -3000, top + 100}, {0, 4000, top + 100}};
    roof.triangles = {{0, 1, 2}};
    CarSkin skin;
    skin.surfaces.push_back(
        {SurfaceKind::shell, PlacedMesh(std::make_shared<const MeshTree>(roof), {}), {{"roof", 0}}});
    const auto gaps = gapsToSkin(cage, skin);
    const BarGaps shown = barGaps(cage, skin, gaps);
    ASSERT_EQ(shown.along.size(), cage.members.size());
    EXPECT_NEAR(*shown.least_mm, 100, 0.02);
    EXPECT_EQ(shown.least_part, "roof");
    EXPECT_EQ(shown.missing, "");
    for (std::size_t i = 0; i < cage.members.size(); ++i) {
        const GapProfile& profile = shown.along[i];
        EXPECT_TRUE(std::ranges::is_sorted(profile.stations_mm));
        EXPECT_EQ(profile.stations_mm.size(), profile.gaps_mm.size());
        EXPECT_DOUBLE_EQ(*std::ranges::min_element(profile.gaps_mm), gaps[i]->gap.least_mm);
        EXPECT_DOUBLE_EQ(profile.stations_mm.back(), cage.members[i].line.length_mm());
    }
    EXPECT_FALSE(barGaps(cage, CarSkin{}, gapsToSkin(cage, CarSkin{})).missing.empty());
}

TEST(Picture, OfTheGapsHasItsLegend) {
    PictureOptions options;
    options.width_px = 640;
    options.height_px = 420;
    options.supersample = 1;
    options.labels = false;
    options.look.colouring = Colouring::by_gap;
    options.gaps = someGaps(testCage().members.size());
    const auto by_gap = composePicture(testJob(), testCage(), options);
    ASSERT_TRUE(by_gap) << by_gap.reason();
    std::set<QRgb> seen;
    for (int y = 0; y < by_gap->height(); ++y)
        for (int x = 0; x < by_gap->width(); ++x) seen.insert(by_gap->pixel(x, y));
    for (int band = 0; band < gapScale(LengthUnit::mm).bands(); ++band)
        EXPECT_TRUE(seen.count(colourOf(gapColour(band)).rgb())) << band;
}

}  // namespace
}  // namespace hoopwright
