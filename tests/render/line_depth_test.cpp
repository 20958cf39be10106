// Hidden lines against what a depth buffer says: the same cage drawn by the graphics library.
#include <gtest/gtest.h>

#include <algorithm>
#include <osg/FrameBufferObject>
#include <osg/GLExtensions>
#include <osgViewer/Viewer>
#include <thread>

#include "core/drawing/line_drawing.h"
#include "render/camera.h"
#include "render/gl_context.h"
#include "tests/render/demo_scene.h"

namespace hoopwright {
namespace {

constexpr int kWide_px = 1400, kHigh_px = 900;
constexpr double kDepth_mm = 2.5;    // of tubes as 32-sided meshes, and of a pixel's slope
constexpr double kOther_mm = 26;     // more than any tube's radius
constexpr double kFromEnds_mm = 14;  // a stretch's ends lie between pixels

/// Distance along the view of the nearest metal at each pixel; rows from the bottom [mm].
struct DepthPicture {
    std::vector<float> depth;
    double near_mm = 0, far_mm = 0;
    double at(int x, int y_down) const {
        const double d =
            depth[static_cast<std::size_t>(kHigh_px - 1 - y_down) * kWide_px + static_cast<std::size_t>(x)];
        return d >= 1 ? 1e300 : near_mm + d * (far_mm - near_mm);
    }
};

DepthPicture drawDepth(CageScene& scene, const View& view) {
    DepthPicture out;
    const auto context = GlContext::make();
    EXPECT_TRUE(context);
    if (!context) return out;
    scene.setViewport(kWide_px, kHigh_px);
    scene.contextRecreated();
    osgViewer::Viewer viewer;
    viewer.setThreadingModel(osgViewer::ViewerBase::SingleThreaded);
    viewer.setLightingMode(osg::View::NO_LIGHT);
    const osg::ref_ptr<osgViewer::GraphicsWindowEmbedded> window =
        new osgViewer::GraphicsWindowEmbedded(0, 0, kWide_px, kHigh_px);
    auto* gl = osg::GLExtensions::Get(window->getState()->getContextID(), true);
    gl->glRenderbufferStorageMultisampleCoverageNV = nullptr;
    GLuint frame = 0, pixels = 0;  // a surfaceless context has no framebuffer 0
    gl->glGenFramebuffers(1, &frame);
    gl->glBindFramebuffer(GL_FRAMEBUFFER_EXT, frame);
    gl->glGenRenderbuffers(1, &pixels);
    gl->glBindRenderbuffer(GL_RENDERBUFFER_EXT, pixels);
    gl->glRenderbufferStorage(GL_RENDERBUFFER_EXT, GL_RGBA8, 16, 16);
    gl->glFramebufferRenderbuffer(GL_FRAMEBUFFER_EXT, GL_COLOR_ATTACHMENT0_EXT, GL_RENDERBUFFER_EXT, pixels);
    window->setDefaultFboId(frame);
    osg::Camera* camera = viewer.getCamera();
    camera->setGraphicsContext(window);
    camera->setViewport(0, 0, kWide_px, kHigh_px);
    camera->setRenderTargetImplementation(osg::Camera::FRAME_BUFFER_OBJECT);
    camera->setCullMask(kTubes | kPlates);
    const osg::ref_ptr<osg::Image> image = new osg::Image;
    image->allocateImage(kWide_px, kHigh_px, 1, GL_DEPTH_COMPONENT, GL_FLOAT);
    camera->attach(osg::Camera::DEPTH_BUFFER, image);
    viewer.setSceneData(scene.root());
    viewer.realize();
    applyView(*camera, view, scene.bounds(), static_cast<double>(kWide_px) / kHigh_px);
    viewer.frame();
    const auto* read = reinterpret_cast<const float*>(image->data());
    out.depth.assign(read, read + kWide_px * kHigh_px);
    double left, right, bottom, top;
    camera->getProjectionMatrixAsOrtho(left, right, bottom, top, out.near_mm, out.far_mm);
    scene.root()->releaseGLObjects(window->getState());
    camera->releaseGLObjects(window->getState());
    viewer.setSceneData(nullptr);
    gl->glDeleteFramebuffers(1, &frame);
    gl->glDeleteRenderbuffers(1, &pixels);
    return out;
}

View parallel(const LineView& from, const Box& box) {
    View view;
    view.target = box.center();
    view.eye = view.target + 6000 * from.towards();
    view.up = from.up;
    view.orthographic_height_mm = 1.05 * box.diagonal().norm() * kHigh_px / kWide_px;
    return view;
}

/// Points along a stretch, away from its ends.
std::vector<Vec3> pointsOf(const CageLine& line) {
    double length = 0;
    for (std::size_t i = 1; i < line.points.size(); ++i)
        length += (line.points[i] - line.points[i - 1]).norm();
    std::vector<Vec3> out;
    double done = 0;
    for (std::size_t i = 1; i < line.points.size(); ++i) {
        const double piece = (line.points[i] - line.points[i - 1]).norm();
        for (double at = 4; at < piece; at += 9) {
            if (done + at < kFromEnds_mm || done + at > length - kFromEnds_mm) continue;
            out.push_back(line.points[i - 1] + (line.points[i] - line.points[i - 1]) * (at / piece));
        }
        done += piece;
    }
    return out;
}

struct Agreement {
    int seen = 0, seen_so = 0, hidden = 0, hidden_so = 0;
};

/// Seen: at one of the pixels round it nothing is nearer. Hidden: at each of them something is, or at one of
/// them something so much nearer that it is no part of the tube the line is of (a line may run along its
/// hider's edge).
Agreement compare(const std::vector<CageLine>& lines, const DepthPicture& picture, const View& view) {
    Agreement out;
    for (const CageLine& line : lines) {
        for (const Vec3& p : pointsOf(line)) {
            const Vec3 on = view.project(p, kWide_px, kHigh_px);
            const int x = static_cast<int>(on.x()), y = static_cast<int>(on.y());
            if (x < 2 || y < 2 || x >= kWide_px - 2 || y >= kHigh_px - 2) continue;
            double farthest = -1e300, nearest = 1e300;
            for (int dy = -1; dy <= 1; ++dy)
                for (int dx = -1; dx <= 1; ++dx) {
                    farthest = std::max(farthest, picture.at(x + dx, y + dy));
                    nearest = std::min(nearest, picture.at(x + dx, y + dy));
                }
            if (line.hidden) {
                ++out.hidden;
                out.hidden_so += farthest < on.z() + kDepth_mm || nearest < on.z() - kOther_mm;
            } else {
                ++out.seen;
                out.seen_so += farthest > on.z() - kDepth_mm;
            }
        }
    }
    return out;
}

class LinesAgainstDepth : public ::testing::TestWithParam<testing_render::DemoCage> {};

TEST_P(LinesAgainstDepth, AreHiddenWhereTheDepthBufferHasSomethingNearer) {
    const auto demo = testing_render::demoScene(GetParam());
    ASSERT_TRUE(demo);
    Box box;
    for (const ResolvedMember& m : demo->cage.members) box.extend(m.line.bounds());
    for (const std::size_t v : {std::size_t{1}, std::size_t{5}}) {
        const LineView& from = lineViews()[v];
        const View view = parallel(from, box);
        DepthPicture picture;
        std::thread painter([&] { picture = drawDepth(demo->scene, view); });
        painter.join();
        ASSERT_EQ(picture.depth.size(), static_cast<std::size_t>(kWide_px) * kHigh_px);
        std::vector<CageLine> lines = lineDrawing(demo->cage, from);
        const Agreement right = compare(lines, picture, view);
        EXPECT_GT(right.seen, 1500) << from.name;
        EXPECT_GT(right.hidden, 400) << from.name;
        EXPECT_GT(right.seen_so, 0.985 * right.seen)
            << from.name << ": " << right.seen_so << " of " << right.seen;
        EXPECT_GT(right.hidden_so, 0.87 * right.hidden)
            << from.name << ": " << right.hidden_so << " of " << right.hidden;
        // Told the other way round it would not agree.
        for (CageLine& line : lines) line.hidden = !line.hidden;
        const Agreement wrong = compare(lines, picture, view);
        EXPECT_LT(wrong.hidden_so, 0.5 * wrong.hidden) << from.name;
    }
}

INSTANTIATE_TEST_SUITE_P(Demo, LinesAgainstDepth,
                         ::testing::Values(testing_render::kDemoCages[0], testing_render::kDemoCages[1]),
                         &testing_render::nameOf);

}  // namespace
}  // namespace hoopwright
