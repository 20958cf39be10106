// Where labels, cards and measurements of whole jobs come to stand: nothing lies on anything else.
#include <QLineF>
#include <cmath>

#include "app/view/flight.h"
#include "app/view/overlay.h"
#include "app/view/sight.h"
#include "demo_jobs.h"
#include "render/pick.h"

namespace hoopwright {
namespace {

/// Least distance from a box to a point; 0 inside.
double gapTo(const QRectF& box, const QPointF& at) {
    const double dx = std::max({box.left() - at.x(), 0.0, at.x() - box.right()});
    const double dy = std::max({box.top() - at.y(), 0.0, at.y() - box.bottom()});
    return std::hypot(dx, dy);
}

class OnJobs : public testing::TestWithParam<std::string> {
protected:
    OnJobs() : demo_(demoJob(GetParam())) {
        scene_.size = {1280, 800};
        scene_.palette = paletteOf(Tone::light);
        scene_.cage = &demo_.cage;
        scene_.driver = &demo_.job.drivers.front();
        scene_.taken = {QRectF(16, 16, 470, 34)};  // where the window has its bar of views
    }
    void look(std::string_view from) {
        const double aspect = double(scene_.size.width()) / scene_.size.height();
        scene_.view = viewNamed(from, demo_.job, demo_.cage, demo_.bounds, aspect);
    }
    /// What must hold of every picture, whatever it shows.
    void expectTidy(const Overlay& overlay) const {
        const QRectF picture(QPointF(0, 0), QSizeF(scene_.size));
        std::vector<QRectF> kept_free = signPlaces(scene_);
        kept_free.insert(kept_free.end(), scene_.taken.begin(), scene_.taken.end());
        const auto& all = overlay.shown();
        for (std::size_t i = 0; i < all.size(); ++i) {
            SCOPED_TRACE(all[i].key);
            const QRectF box = all[i].place.box;
            EXPECT_TRUE(picture.contains(box));
            for (const QRectF& place : kept_free) EXPECT_FALSE(box.intersects(place));
            for (std::size_t j = i + 1; j < all.size(); ++j)
                EXPECT_FALSE(box.intersects(all[j].place.box)) << all[j].key;
            EXPECT_EQ(box.size(), all[i].block.size);
        }
    }
    /// Walks along each named bar and asks how far the box is: a second way beside the layout's own.
    void expectBarsUncovered(const Overlay& overlay) const {
        const Projection projection(scene_.view, scene_.size);
        for (const auto& label : overlay.shown()) {
            const int at = demo_.cage.member(label.key);
            if (at < 0) continue;
            const auto& bar = demo_.cage.members[std::size_t(at)];
            for (int n = 0; n <= 400; ++n) {
                const Vec3 point = bar.line.point(bar.line.length_mm() * n / 400);
                const auto pixel = projection.at(point);
                if (!pixel) continue;
                const double half = bar.radius_mm() * projection.pixelsPerMm(point);
                ASSERT_GE(gapTo(label.place.box, *pixel), 0.9 * half) << label.key << " at " << n;
            }
        }
    }

    DemoJob demo_;
    OverlayScene scene_;
};

TEST_P(OnJobs, NoNameLiesOnAnotherOnASignOrOnItsBarFromAnyView) {
    for (const std::string& name : standardViews()) {
        SCOPED_TRACE(name);
        Overlay overlay;
        look(name);
        scene_.labels = barLabels(demo_.cage, LengthUnit::mm);
        overlay.arrange(scene_);
        if (name != "driver") {
            EXPECT_GE(overlay.shown().size(), 6u);
        }
        expectTidy(overlay);
        expectBarsUncovered(overlay);
    }
}

TEST_P(OnJobs, NamesStayTidyWhileTheViewTurnsAllRound) {
    Overlay overlay;
    look("three_quarter");
    scene_.labels = barLabels(demo_.cage, LengthUnit::in);
    for (int step = 0; step < 72; ++step) {
        scene_.moving = step % 8 != 7;  // now and then it stands still
        overlay.arrange(scene_);
        expectTidy(overlay);
        expectBarsUncovered(overlay);
        if (HasFailure()) FAIL() << "at step " << step;
        scene_.view = scene_.view.orbited(5 * 0.0174532925, step % 2 ? 0.01 : -0.01);
    }
}

TEST_P(OnJobs, ASmallPictureNamesFewerBarsAndStaysTidy) {
    std::size_t last = 1000;
    for (const QSize size : {QSize(1280, 800), QSize(683, 420), QSize(360, 240)}) {
        scene_.size = size;
        scene_.taken = {QRectF(16, 16, std::min(470, size.width() - 32), 34)};
        look("three_quarter");
        scene_.labels = barLabels(demo_.cage, LengthUnit::mm);
        Overlay overlay;
        overlay.arrange(scene_);
        expectTidy(overlay);
        EXPECT_LE(overlay.shown().size(), last) << size.width();
        last = overlay.shown().size();
    }
}

TEST_P(OnJobs, EveryFindingHasItsCardAndItsMeasuresBesideIt) {
    look("three_quarter");
    const View start = scene_.view;
    const double aspect = double(scene_.size.width()) / scene_.size.height();
    int cards = 0;
    for (const Finding& finding : demo_.report.findings) {
        if (finding.answer == Answer::does_not_apply) continue;
        SCOPED_TRACE(finding.rule + " " + finding.subject);
        scene_.view = viewOfFinding(finding, demo_.job, demo_.cage, start, aspect);
        scene_.finding = finding;
        scene_.labels = barLabels(demo_.cage, LengthUnit::mm, finding.evidence.members);
        Overlay overlay;
        overlay.arrange(scene_);
        expectTidy(overlay);
        const auto& all = overlay.shown();
        const auto card =
            std::find_if(all.begin(), all.end(), [](const auto& one) { return one.block.mark.has_value(); });
        ASSERT_NE(card, all.end()) << "the card is always read";
        EXPECT_EQ(card->block.mark->second, finding.answer);
        ++cards;
    }
    EXPECT_GE(cards, 15);
}

TEST_P(OnJobs, TheMeasuredShapesOfAFindingAreInThePictureOnceItIsFlownTo) {
    look("three_quarter");
    const double aspect = double(scene_.size.width()) / scene_.size.height();
    int measured = 0;
    for (const Finding& finding : demo_.report.findings) {
        SCOPED_TRACE(finding.rule + " " + finding.subject);
        if (finding.evidence.shapes.empty()) continue;
        const Projection projection(viewOfFinding(finding, demo_.job, demo_.cage, scene_.view, aspect),
                                    scene_.size);
        const QRectF picture(QPointF(0, 0), QSizeF(scene_.size));
        for (const ShownShape& shape : finding.evidence.shapes) {
            if (const auto* line = std::get_if<ShownLine>(&shape)) {
                for (const Vec3& end : {line->from, line->to}) {
                    const auto at = projection.at(end);
                    ASSERT_TRUE(at && picture.contains(*at));
                }
                ++measured;
            }
            if (const auto* angle = std::get_if<ShownAngle>(&shape)) {
                const auto at = projection.at(angle->apex);
                ASSERT_TRUE(at && picture.contains(*at));
                ++measured;
            }
        }
    }
    EXPECT_GE(measured, 5);
}

TEST_P(OnJobs, ALabelPointsAtAPartThatIsSeenAndNeverThroughTheDriver) {
    for (const char* from : {"three_quarter", "three_quarter_rear", "left"}) {
        look(from);
        scene_.labels = barLabels(demo_.cage, LengthUnit::mm);
        Overlay overlay;
        overlay.arrange(scene_);
        const Projection projection(scene_.view, scene_.size);
        for (const auto& label : overlay.shown()) {
            const auto [eye, way] = projection.ray(label.anchor);
            const Picked what = pick(demo_.cage, eye, way);
            ASSERT_GE(what.member, 0) << label.key << " from " << from;
            EXPECT_EQ(demo_.cage.members[std::size_t(what.member)].id, label.key) << from;
            EXPECT_FALSE(hiddenByDriver(*scene_.driver, eye, what.at)) << label.key << " from " << from;
        }
    }
}

TEST_P(OnJobs, ABarIsFlownToFromWhereTheDriverDoesNotHideIt) {
    const double aspect = double(scene_.size.width()) / scene_.size.height();
    const QRectF picture(QPointF(0, 0), QSizeF(scene_.size));
    for (const char* from : {"three_quarter", "three_quarter_rear"}) {
        look(from);
        for (const ResolvedMember& bar : demo_.cage.members) {
            SCOPED_TRACE(bar.id + " from " + from);
            const std::vector<Vec3> points = pointsAlong(bar.line);
            ASSERT_EQ(points.size(), 9u);
            EXPECT_EQ(points.front(), bar.line.start());
            EXPECT_NEAR((points.back() - bar.line.end()).norm(), 0, 1e-6);
            Box box = bar.line.bounds();
            const Vec3 room = Vec3::Constant(200);
            box = Box(box.min() - room, box.max() + room);
            const View view = viewOfLine(points, box, demo_.job, scene_.view, aspect);
            const Projection projection(view, scene_.size);
            int hidden = 0;
            for (const Vec3& point : points) {
                const auto at = projection.at(point);
                ASSERT_TRUE(at && picture.contains(*at));
                hidden += hiddenByDriver(demo_.job.drivers.front(), view.eye, point);
            }
            EXPECT_LE(hidden, 5) << "of nine points: more of it is seen than not";
            const auto a = projection.at(points.front()), b = projection.at(points.back());
            EXPECT_GT(QLineF(*a, *b).length(), 60) << "it is not looked along";
        }
    }
}

TEST_P(OnJobs, ACardAboutTheWholeCageStandsInACornerAndCoversNoBar) {
    look("three_quarter");
    for (const Finding& finding : demo_.report.findings) {
        const Evidence& seen = finding.evidence;
        if (!seen.shapes.empty() || !seen.members.empty() || !seen.plates.empty() || !seen.driver.empty())
            continue;
        scene_.finding = finding;
        Overlay overlay;
        overlay.arrange(scene_);
        ASSERT_EQ(overlay.shown().size(), 1u) << finding.rule;
        const auto& card = overlay.shown().front();
        EXPECT_FALSE(card.points);
        EXPECT_GT(card.place.box.center().x(), scene_.size.width() * 0.6) << finding.rule;
        EXPECT_LT(card.place.box.center().y(), scene_.size.height() * 0.4) << finding.rule;
    }
}

TEST_P(OnJobs, TextTwiceAsLargeIsTidyToo) {
    scene_.scale = 2;
    scene_.size = {1920, 1200};
    scene_.taken.clear();
    look("three_quarter");
    scene_.labels = barLabels(demo_.cage, LengthUnit::in);
    Overlay overlay;
    overlay.arrange(scene_);
    EXPECT_GE(overlay.shown().size(), 5u);
    expectTidy(overlay);
    expectBarsUncovered(overlay);
}

std::string wordOf(const testing::TestParamInfo<std::string>& info) {
    std::string word = info.param;
    std::replace(word.begin(), word.end(), '/', '_');
    return word;
}
INSTANTIATE_TEST_SUITE_P(Demo, OnJobs, testing::ValuesIn(demoNames()), wordOf);

}  // namespace
}  // namespace hoopwright
