#include "app/view/smooth_picture.h"

#include <gtest/gtest.h>

#include <QImage>
#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QOpenGLFramebufferObject>
#include <QSurfaceFormat>
#include <cmath>
#include <memory>
#include <osg/GL>
#include <utility>
#include <vector>

namespace hoopwright {
namespace {

class SmoothPictureOn : public testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(context_.create());
        surface_.setFormat(context_.format());
        surface_.create();
        ASSERT_TRUE(context_.makeCurrent(&surface_));
        picture_ = std::make_unique<SmoothPicture>();
    }

    void TearDown() override {
        picture_.reset();
        context_.doneCurrent();
    }

    // White left of `edge_px`, black right of it, taken aside as the scene would be.
    void drawPass(double edge_px) {
        auto& buffer = picture_->next(kSize);
        const double aside = picture_->aside().x();
        buffer.bind();
        glViewport(0, 0, kSize.width(), kSize.height());
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT);
        const double right = 2 * (edge_px + aside) / kSize.width() - 1;
        glColor4d(1, 1, 1, 0.2);  // the scene leaves any alpha behind
        glBegin(GL_QUADS);
        for (const auto& [x, y] : {std::pair{-2.0, -1.0}, {right, -1.0}, {right, 1.0}, {-2.0, 1.0}})
            glVertex2d(x, y);
        glEnd();
        picture_->add();
    }

    QImage shown() {
        QOpenGLFramebufferObject screen(kSize);

        picture_->copyTo(&screen);
        return screen.toImage();
    }

    const QSize kSize{32, 8};
    QOpenGLContext context_;
    QOffscreenSurface surface_;
    std::unique_ptr<SmoothPicture> picture_;
};

TEST_F(SmoothPictureOn, AnEdgeGetsTheShareOfThePixelItCovers) {
    for (const double edge : {10.0, 10.25, 10.5, 10.8, 11.0}) {
        picture_->restart();
        while (!picture_->done()) drawPass(edge);
        EXPECT_EQ(picture_->passes(), SmoothPicture::kPasses);
        const QImage image = shown();
        EXPECT_EQ(qGray(image.pixel(8, 4)), 255);
        EXPECT_EQ(qGray(image.pixel(12, 4)), 0);
        // Eight places in a pixel tell shares apart to an eighth.
        EXPECT_NEAR(qGray(image.pixel(10, 4)) / 255.0, edge - 10, 0.125 + 0.01) << edge;
    }
}

TEST_F(SmoothPictureOn, StartingAnewForgetsThePictureBefore) {
    while (!picture_->done()) drawPass(30);
    picture_->restart();
    EXPECT_EQ(picture_->passes(), 0);
    drawPass(4);
    const QImage image = shown();
    EXPECT_EQ(qGray(image.pixel(2, 4)), 255);
    EXPECT_EQ(qGray(image.pixel(20, 4)), 0);
}

TEST_F(SmoothPictureOn, TheEightPlacesStandAboutTheMiddleOfThePixelNoTwoInARowOrColumn) {
    QPointF sum;
    std::vector<QPointF> places;
    while (!picture_->done()) {
        places.push_back(picture_->aside());
        sum += places.back();
        drawPass(10);
    }
    EXPECT_LT(std::hypot(sum.x(), sum.y()) / 8, 1.0 / 16);
    for (std::size_t i = 0; i < places.size(); ++i) {
        EXPECT_LE(std::max(std::abs(places[i].x()), std::abs(places[i].y())), 0.5);
        for (std::size_t j = i + 1; j < places.size(); ++j) {
            EXPECT_NE(places[i].x(), places[j].x());
            EXPECT_NE(places[i].y(), places[j].y());
        }
    }
}

TEST_F(SmoothPictureOn, LeavesTheGraphicsStateAsItWas) {
    glEnable(GL_DEPTH_TEST);
    glDisable(GL_BLEND);
    glMatrixMode(GL_PROJECTION);
    drawPass(10);
    drawPass(10);
    GLint mode = 0;
    glGetIntegerv(GL_MATRIX_MODE, &mode);
    EXPECT_EQ(mode, GL_PROJECTION);
    EXPECT_TRUE(glIsEnabled(GL_DEPTH_TEST));
    EXPECT_FALSE(glIsEnabled(GL_BLEND));
    EXPECT_FALSE(glIsEnabled(GL_TEXTURE_2D));
    EXPECT_EQ(glGetError(), static_cast<GLenum>(GL_NO_ERROR));
}

}  // namespace
}  // namespace hoopwright
