#include "app/view/overlay.h"

#include <gtest/gtest.h>

#include <QImage>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "render/scene.h"
#include "test_cage.h"

namespace hoopwright {
namespace {

class OverlayOnTheTestCage : public testing::Test {
protected:
    OverlayOnTheTestCage() {
        scene_.view = standardView("three_quarter", Box(Vec3(-100, -620, 0), Vec3(1450, 620, 1170)), 1.6);
        scene_.size = QSize(1280, 800);
        scene_.palette = paletteOf(Tone::light);
        scene_.cage = &cage_;
    }

    const Overlay::Shown* shown(std::string_view key) const {
        const auto& all = overlay_.shown();
        const auto found = std::find_if(all.begin(), all.end(), [&](const auto& s) { return s.key == key; });
        return found == all.end() ? nullptr : &*found;
    }

    Finding heightFinding() const {
        Finding finding;
        finding.title = "Belt bar height";
        finding.answer = Answer::fails;
        finding.evidence.shapes = {ShownLine{{0, 100, 720}, {0, 100, 589}, true},
                                   ShownAngle{{0, 0, 720}, {300, 0, 720}, {0, 0, 1020}}};
        finding.evidence.look_at = {0, 100, 650};
        return finding;
    }

    CageGeometry cage_ = testCage();
    OverlayScene scene_;
    Overlay overlay_;
};

TEST_F(OverlayOnTheTestCage, OneBarOfAMirroredPairIsNamedTheNearerOne) {
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    overlay_.arrange(scene_);
    EXPECT_TRUE(shown("door_bar.left"));
    EXPECT_FALSE(shown("door_bar.right"));
    EXPECT_TRUE(shown("main_hoop"));
    scene_.view = scene_.view.orbited(-1.6, 0);  // round to the right side of the car
    overlay_.arrange(scene_);
    EXPECT_TRUE(shown("door_bar.right"));
    EXPECT_FALSE(shown("door_bar.left"));
}

TEST_F(OverlayOnTheTestCage, ALabelPointsAtAPartOfItsBarThatIsSeen) {
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    overlay_.arrange(scene_);
    const Projection projection(scene_.view, scene_.size);
    ASSERT_GE(overlay_.shown().size(), 5u);
    for (const auto& label : overlay_.shown()) {
        const auto [from, way] = projection.ray(label.anchor);
        const Picked what = pick(cage_, from, way);
        ASSERT_GE(what.member, 0) << label.key;
        EXPECT_EQ(cage_.members[static_cast<std::size_t>(what.member)].id, label.key);
    }
}

TEST_F(OverlayOnTheTestCage, ABarHiddenAltogetherIsNamedOnlyWhenAskedFor) {
    // Square from the left the belt bar runs straight away from the eye, behind the hoop.
    scene_.view = standardView("left", Box(Vec3(-100, -620, 0), Vec3(1450, 620, 1170)), 1.6);
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    for (auto& label : scene_.labels) label.one_of.clear();
    overlay_.arrange(scene_);
    EXPECT_FALSE(shown("belt_bar")) << "end on, behind the hoop";
    scene_.labels = barLabels(cage_, LengthUnit::mm, {"belt_bar"});
    overlay_.arrange(scene_);
    EXPECT_TRUE(shown("belt_bar"));
}

TEST_F(OverlayOnTheTestCage, WritesLengthsAndAnglesOfEvidenceInThePersonsUnit) {
    scene_.finding = heightFinding();
    scene_.lengths.unit = LengthUnit::in;
    overlay_.arrange(scene_);
    const auto* length = shown("measure 0");
    const auto* angle = shown("measure 1");
    ASSERT_TRUE(length && angle);
    EXPECT_EQ(length->block.runs[0].text, "5.157 in");  // 131 mm
    EXPECT_EQ(angle->block.runs[0].text, QString::fromUtf8("90.0°"));
    EXPECT_FALSE(length->points) << "it stands at its line";
    EXPECT_LT(QLineF(length->place.touch, length->anchor).length(), 61);
}

TEST_F(OverlayOnTheTestCage, TheCardIsReadEvenWhileItsPlaceIsOutOfThePicture) {
    scene_.finding = heightFinding();
    scene_.finding->evidence.look_at = scene_.view.eye - 500 * scene_.view.forward();
    overlay_.arrange(scene_);
    const auto& all = overlay_.shown();
    const bool card =
        std::any_of(all.begin(), all.end(), [](const auto& s) { return s.block.mark.has_value(); });
    EXPECT_TRUE(card);
}

TEST_F(OverlayOnTheTestCage, NothingStandsOnTheAxesTheScaleOrATakenPlace) {
    scene_.view = standardView("left", Box(Vec3(-100, -620, 0), Vec3(1450, 620, 1170)), 1.6);
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    scene_.prompt = "Click the bar it lands on";
    scene_.taken = {QRectF(500, 80, 300, 200)};
    ASSERT_EQ(signPlaces(scene_).size(), 3u);
    overlay_.arrange(scene_);
    auto places = signPlaces(scene_);
    places.push_back(scene_.taken[0]);
    for (const auto& label : overlay_.shown())
        for (const auto& place : places) EXPECT_FALSE(label.place.box.intersects(place)) << label.key;
}

TEST_F(OverlayOnTheTestCage, PaintsOnAPlainImage) {
    scene_.labels = barLabels(cage_, LengthUnit::mm);
    scene_.finding = heightFinding();
    overlay_.arrange(scene_);
    QImage image(scene_.size, QImage::Format_RGB32);
    image.fill(Qt::gray);
    QPainter painter(&image);
    overlay_.paint(painter, scene_);
    painter.end();
    for (const auto& label : overlay_.shown()) {
        const QRect box = label.place.box.toRect();
        const QColor paper = image.pixelColor(box.left() + 4, box.center().y());
        EXPECT_GT(paper.lightness(), 240) << label.key;
    }
}

TEST(ScaleBar, IsARoundLengthThatFits) {
    EXPECT_DOUBLE_EQ(scaleBarLength_mm(0.5, 170, LengthUnit::mm), 200);    // 340 mm would fit
    EXPECT_DOUBLE_EQ(scaleBarLength_mm(0.1, 170, LengthUnit::mm), 1000);   // 1700 mm
    EXPECT_DOUBLE_EQ(scaleBarLength_mm(3, 170, LengthUnit::mm), 50);       // 56 mm
    EXPECT_DOUBLE_EQ(scaleBarLength_mm(0.5, 170, LengthUnit::in), 304.8);  // 13.4 in: one foot
    for (const double per_mm : {0.003, 0.02, 0.4, 7.0, 60.0})
        for (const auto unit : {LengthUnit::mm, LengthUnit::in}) {
            const double px = scaleBarLength_mm(per_mm, 170, unit) * per_mm;
            EXPECT_LE(px, 170);
            EXPECT_GT(px, 34) << per_mm;
        }
}

TEST(Projection, CutsABarThatPassesBehindTheEye) {
    View view;
    view.eye = {0, 0, 0}, view.target = {1000, 0, 0};
    const Projection projection(view, QSize(800, 600));
    EXPECT_FALSE(projection.at({-100, 0, 0}));
    const auto strokes = projection.strokes({{1000, 50, 0}, {500, 50, 0}, {-500, 50, 0}, {600, -50, 0}}, 20);
    ASSERT_GE(strokes.size(), 2u);
    for (const auto& stroke : strokes)
        for (const auto& point : stroke.points)
            EXPECT_TRUE(std::isfinite(point.x()) && std::isfinite(point.y()));
}

TEST(Projection, ABarTowardsTheEyeIsWideOnlyWhereItIsNear) {
    View view;
    view.eye = {0, 0, 0}, view.target = {1000, 0, 0};
    const Projection projection(view, QSize(800, 600));
    std::vector<Vec3> points;
    for (int i = 0; i <= 20; ++i) points.push_back({200.0 + 100 * i, 40, 0});
    const auto strokes = projection.strokes(points, 20);
    EXPECT_NEAR(strokes.front().half_width, 20 * projection.pixelsPerMm(points.front()), 1e-9);
    EXPECT_LT(strokes.back().half_width, 1.4 * 20 * projection.pixelsPerMm(points.back()) + 0.6);
}

TEST_F(OverlayOnTheTestCage, WhereTheBeltBarMayBeIsDrawnOnItsUprightPlane) {
    scene_.view = standardView("left", Box(Vec3(-600, -620, 0), Vec3(1450, 620, 1170)), 1.6);
    BandSign band;
    band.y_mm = 300;
    band.outlines = {{{-300, 400}, {-100, 400}, {-100, 600}, {-300, 600}}};
    band.bar_at = {-200, 800};
    band.bar_radius_mm = 20;
    scene_.band = band;
    QImage picture(scene_.size, QImage::Format_RGB32);
    const auto drawn = [&] {
        picture.fill(Qt::white);
        QPainter painter(&picture);
        paintBand(painter, scene_);
    };
    const Projection projection(scene_.view, scene_.size);
    const auto at = [&](double x, double z) {
        return picture.pixelColor(projection.at({x, band.y_mm, z})->toPoint());
    };
    drawn();
    EXPECT_NE(at(-200, 500), QColor(Qt::white)) << "inside";
    EXPECT_EQ(at(-50, 500), QColor(Qt::white)) << "ahead of it";
    EXPECT_EQ(at(-200, 650), QColor(Qt::white)) << "above it";
    EXPECT_EQ(at(-180, 800), scene_.palette.fails) << "the bar's ring, where it may not be";
    scene_.band->allowed = true;
    drawn();
    EXPECT_EQ(at(-180, 800), scene_.palette.meets);
}

TEST_F(OverlayOnTheTestCage, MeasuresStandAloneToo) {
    scene_.measures = {ShownLine{{0, 100, 720}, {0, 100, 589}, true}};
    overlay_.arrange(scene_);
    EXPECT_TRUE(shown("measure 0"));
}

}  // namespace
}  // namespace hoopwright
