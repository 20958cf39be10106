// Pictures of the demo jobs against approved ones; and what a wrong one would look like.
#include <gtest/gtest.h>

#include <QPainter>

#include "app/view/picture.h"
#include "app/view/picture_pair.h"
#include "demo_jobs.h"
#include "tests/approved/approved.h"

namespace hoopwright {
namespace {

using testing_approved::expectApproved;
using testing_approved::kMostMean;
using testing_approved::kMostShare;
using testing_approved::unlike;

PictureOptions smallPicture() {
    PictureOptions options;
    options.width_px = 480;
    options.height_px = 300;
    options.supersample = 1;
    return options;
}

QImage pictureOf(const DemoJob& demo, const PictureOptions& options) {
    const Expected<QImage> made = composePicture(demo.job, demo.cage, options);
    EXPECT_TRUE(made) << made.reason();
    return made ? *made : QImage();
}

TEST(ApprovedPictures, OfTheDemosByPlaceAndInSteel) {
    for (const std::string name : {"hillclimb_saloon", "mile_pickup"}) {
        const DemoJob demo = demoJob(name);
        PictureOptions options = smallPicture();
        options.labels = false;
        expectApproved(QString::fromStdString(name) + "_place", pictureOf(demo, options));
        options.look.colouring = Colouring::steel;
        options.look.dark = true;
        options.written = false;
        options.view = "three_quarter_rear";
        expectApproved(QString::fromStdString(name) + "_steel", pictureOf(demo, options));
    }
}

TEST(ApprovedPictures, NumberedAndWithAndWithoutAnOption) {
    const DemoJob demo = demoJob("hillclimb_saloon");
    PictureOptions options = smallPicture();
    options.width_px = 640;
    options.height_px = 400;
    options.numbers = true;
    expectApproved("hillclimb_saloon_numbers", pictureOf(demo, options));
    options.width_px = 640;
    options.height_px = 240;
    const auto pair = composeWithAndWithout(demo.job, demo.cage, {"front_return"}, options);
    ASSERT_TRUE(pair) << pair.reason();
    expectApproved("hillclimb_saloon_option", *pair);
}

TEST(ApprovedPictures, AreNotMetByOneWithoutTheDriverNorWithABarLeftOutNorInOtherColours) {
    const DemoJob demo = demoJob("hillclimb_saloon");
    PictureOptions options = smallPicture();
    options.labels = false;
    const QImage good = pictureOf(demo, options);
    const auto passes = [&](const QImage& other) {
        const auto off = unlike(other, good);
        return off.mean <= kMostMean && off.share <= kMostShare;
    };
    EXPECT_TRUE(passes(good));
    PictureOptions other = options;
    other.look.show_drivers = false;
    EXPECT_FALSE(passes(pictureOf(demo, other)));
    other = options;
    other.look.hidden_members = {"main_hoop"};
    EXPECT_FALSE(passes(pictureOf(demo, other)));
    other = options;
    other.look.colouring = Colouring::steel;
    EXPECT_FALSE(passes(pictureOf(demo, other)));
}

// Another renderer rounds and dithers otherwise, and its edges fall a fraction of a pixel aside.
TEST(ApprovedPictures, AreMetByOneWithAnotherRenderersNoiseAndEdges) {
    const DemoJob demo = demoJob("hillclimb_saloon");
    PictureOptions options = smallPicture();
    options.labels = false;
    const QImage good = pictureOf(demo, options);
    QImage noisy = good.convertToFormat(QImage::Format_RGB32);
    unsigned seed = 20261126;
    for (int y = 0; y < noisy.height(); ++y)
        for (int x = 0; x < noisy.width(); ++x) {
            seed = seed * 1664525u + 1013904223u;
            const int by = static_cast<int>(seed >> 24) % 7 - 3;
            const QRgb p = noisy.pixel(x, y);
            const auto off = [&](int c) { return std::clamp(c + by, 0, 255); };
            noisy.setPixel(x, y, qRgb(off(qRed(p)), off(qGreen(p)), off(qBlue(p))));
        }
    QImage aside(noisy.size(), QImage::Format_RGB32);
    aside.fill(Qt::white);
    QPainter painter(&aside);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.drawImage(QPointF(0.3, 0.2), noisy);
    painter.end();
    const auto off = unlike(aside, good);
    EXPECT_LE(off.mean, kMostMean);
    EXPECT_LE(off.share, kMostShare);
}

}  // namespace
}  // namespace hoopwright
