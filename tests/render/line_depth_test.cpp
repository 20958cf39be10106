// Hidden lines against what a depth buffer says: the same cage drawn by the graphics library.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>
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

constexpr int kWide_px = 3200, kHigh_px = 2200;  // about a millimetre a pixel
constexpr double kEvery_mm = 7, kFromEnds_mm = 4;
constexpr double kAside_px = 2;
// Depths that tell apart: the surface itself, as far as its facets stray; nothing; something that is no part
// of the same surface; a body in front.
constexpr double kOn_mm = 1.0, kNone_mm = 0.2, kBehind_mm = 2.5, kInFront_mm = 5.0;

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
    Vec2 half = Vec2::Zero();
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 p = box.corner(static_cast<Box::CornerType>(corner)) - view.target;
        half = half.cwiseMax(from.flat(p).cwiseAbs());
    }
    view.orthographic_height_mm = 2 * 1.05 * std::max(half.y(), half.x() * kHigh_px / kWide_px);
    return view;
}

/// What a tube is like at a point of its outline.
struct Round {
    Vec3 out = Vec3::Zero();  ///< unit, square to the tube
    double radius_mm = 0;
    double slope = 1;  ///< sine of the angle between tube and view
};
/// Nothing for other lines.
std::optional<Round> roundAt(const CageGeometry& cage, const CageLine& line, const Vec3& p,
                             const LineView& from) {
    if (line.of != CageLine::Of::tube || line.kind != CageLine::Kind::outline) return std::nullopt;
    const ResolvedMember& tube = cage.members[static_cast<std::size_t>(line.index)];
    const double station = tube.line.nearestStation(p);
    const Vec3 off = p - tube.line.point(station), along = tube.line.tangent(station);
    return Round{(off - off.dot(along) * along).normalized(), tube.radius_mm(),
                 along.cross(from.towards()).norm()};
}

/// What a depth picture can say of a point.
enum class Told { nothing, seen, hidden };

class Judge {
public:
    Judge(const DepthPicture& picture, const View& view) : picture_(picture), view_(view) {}

    /// Hidden: two pixels outside of the tube, all about, there is something nearer. Seen: there is nothing
    /// nearer there, and two pixels inside it is the tube itself that shows, as far in front as it is round.
    Told ofOutline(const Vec3& p, const Round& round) const {
        const Vec3 on = view_.project(p, kWide_px, kHigh_px);
        const Vec2 way = (view_.project(p + round.out, kWide_px, kHigh_px) - on).head<2>().normalized();
        bool all = true, none = true;
        eachAround(on.head<2>() + kAside_px * way, 1, [&](double depth) {
            all = all && on.z() - depth > kBehind_mm;
            none = none && on.z() - depth < kNone_mm;
        });
        if (all) return Told::hidden;
        if (!none) return Told::nothing;
        const double deep_mm = kAside_px * view_.orthographic_height_mm / kHigh_px;
        const double own_mm = std::sqrt(deep_mm * (2 * round.radius_mm - deep_mm)) / round.slope;
        bool own = true;
        eachAround(on.head<2>() - kAside_px * way, 0,
                   [&](double depth) { own = std::abs(on.z() - depth - own_mm) < kInFront_mm; });
        return own ? Told::seen : Told::nothing;
    }

    /// The faces that meet at an edge come with it. Hidden: all about is behind something. Seen: it is there
    /// and no other body comes near.
    Told ofEdge(const Vec3& p) const {
        const Vec3 on = view_.project(p, kWide_px, kHigh_px);
        bool all = true, none = true, there = false;
        eachAround(on.head<2>(), 2, [&](double depth) {
            all = all && on.z() - depth > kBehind_mm;
            none = none && on.z() - depth < kInFront_mm;
        });
        eachAround(on.head<2>(), 1,
                   [&](double depth) { there = there || std::abs(on.z() - depth) < kOn_mm; });
        return all ? Told::hidden : none && there ? Told::seen : Told::nothing;
    }

private:
    template <typename Visit>
    void eachAround(const Vec2& at, int reach, Visit visit) const {
        const int x = std::clamp(static_cast<int>(std::floor(at.x())), reach, kWide_px - 1 - reach),
                  y = std::clamp(static_cast<int>(std::floor(at.y())), reach, kHigh_px - 1 - reach);
        for (int dy = -reach; dy <= reach; ++dy)
            for (int dx = -reach; dx <= reach; ++dx) visit(picture_.at(x + dx, y + dy));
    }

    const DepthPicture& picture_;
    const View& view_;
};

/// Points along a stretch, away from its ends.
std::vector<Vec3> pointsOf(const CageLine& line) {
    double length = 0;
    for (std::size_t i = 1; i < line.points.size(); ++i)
        length += (line.points[i] - line.points[i - 1]).norm();
    std::vector<Vec3> out;
    double done = 0, next = kFromEnds_mm;
    for (std::size_t i = 1; i < line.points.size(); ++i) {
        const double piece = (line.points[i] - line.points[i - 1]).norm();
        for (; next < done + piece && next < length - kFromEnds_mm; next += kEvery_mm)
            out.emplace_back(line.points[i - 1] +
                             (line.points[i] - line.points[i - 1]) * ((next - done) / piece));
        done += piece;
    }
    return out;
}

struct Agreement {
    int points = 0;
    int seen = 0, seen_so = 0;      ///< drawn as seen, and told so, of those of which anything is told
    int hidden = 0, hidden_so = 0;  ///< the same of those drawn as hidden
    double told() const { return static_cast<double>(seen + hidden) / points; }
};

Agreement compare(const CageGeometry& cage, const std::vector<CageLine>& lines, const LineView& from,
                  const Judge& judge) {
    Agreement out;
    for (const CageLine& line : lines) {
        for (const Vec3& p : pointsOf(line)) {
            ++out.points;
            const std::optional<Round> round = roundAt(cage, line, p, from);
            const Told told = round ? judge.ofOutline(p, *round) : judge.ofEdge(p);
            if (told == Told::nothing) continue;
            ++(line.hidden ? out.hidden : out.seen);
            if (line.hidden == (told == Told::hidden)) ++(line.hidden ? out.hidden_so : out.seen_so);
        }
    }
    return out;
}

/// Pixels of seen lines, and those near them.
std::vector<bool> pixelsNear(const std::vector<CageLine>& lines, const View& view) {
    constexpr int kNear = 3;
    std::vector<bool> out(static_cast<std::size_t>(kWide_px) * kHigh_px, false);
    for (const CageLine& line : lines) {
        if (line.hidden) continue;
        for (std::size_t i = 1; i < line.points.size(); ++i) {
            const Vec3 a = view.project(line.points[i - 1], kWide_px, kHigh_px),
                       b = view.project(line.points[i], kWide_px, kHigh_px);
            const int steps = 1 + static_cast<int>((b - a).head<2>().norm());
            for (int k = 0; k <= steps; ++k) {
                const Vec3 at = a + (b - a) * k / steps;
                const int x = static_cast<int>(at.x()), y = static_cast<int>(at.y());
                for (int v = std::max(0, y - kNear); v <= std::min(kHigh_px - 1, y + kNear); ++v)
                    for (int u = std::max(0, x - kNear); u <= std::min(kWide_px - 1, x + kNear); ++u)
                        out[static_cast<std::size_t>(v) * kWide_px + static_cast<std::size_t>(u)] = true;
            }
        }
    }
    return out;
}

/// Pixels where metal ends, and how many of them a seen line is near.
std::pair<int, int> rimWithLines(const DepthPicture& picture, const std::vector<bool>& near) {
    constexpr double kStep_mm = 40;
    int rim = 0, drawn = 0;
    for (int y = 1; y + 1 < kHigh_px; ++y) {
        for (int x = 1; x + 1 < kWide_px; ++x) {
            const double here = picture.at(x, y);
            if (here > 1e200) continue;
            const bool ends =
                picture.at(x + 1, y) > here + kStep_mm || picture.at(x - 1, y) > here + kStep_mm ||
                picture.at(x, y + 1) > here + kStep_mm || picture.at(x, y - 1) > here + kStep_mm;
            if (!ends) continue;
            ++rim;
            drawn += near[static_cast<std::size_t>(y) * kWide_px + static_cast<std::size_t>(x)];
        }
    }
    return {rim, drawn};
}

class LinesAgainstDepth : public ::testing::TestWithParam<testing_render::DemoCage> {};

TEST_P(LinesAgainstDepth, AreHiddenWhereTheDepthBufferHasSomethingNearer) {
    const auto demo = testing_render::demoScene(GetParam());
    ASSERT_TRUE(demo);
    Box box;
    for (const ResolvedMember& m : demo->cage.members) box.extend(m.line.bounds());
    for (const LineView& from : lineViews()) {
        SCOPED_TRACE(from.name);
        const View view = parallel(from, box);
        DepthPicture picture;
        std::thread painter([&] { picture = drawDepth(demo->scene, view); });
        painter.join();
        ASSERT_EQ(picture.depth.size(), static_cast<std::size_t>(kWide_px) * kHigh_px);
        const Judge judge(picture, view);
        std::vector<CageLine> lines = lineDrawing(demo->cage, from);
        const Agreement right = compare(demo->cage, lines, from, judge);
        const std::string found = std::to_string(right.seen_so) + " of " + std::to_string(right.seen) +
                                  " seen, " + std::to_string(right.hidden_so) + " of " +
                                  std::to_string(right.hidden) + " hidden, of " +
                                  std::to_string(right.points) + " points";
        RecordProperty(from.name, found);
        EXPECT_GT(right.seen, 2000) << found;
        EXPECT_GT(right.hidden, 300) << found;
        // From the side one side of the car lies behind the other, outline on outline.
        EXPECT_GT(right.told(), 0.45) << found;
        EXPECT_GE(right.seen_so, 0.99 * right.seen) << found;
        EXPECT_GE(right.hidden_so, 0.99 * right.hidden) << found;
        // And nothing is left out: wherever metal ends a line is drawn.
        const auto [rim, drawn] = rimWithLines(picture, pixelsNear(lines, view));
        EXPECT_GT(rim, 5000);
        EXPECT_GE(drawn, 0.999 * rim) << drawn << " of " << rim;
        // Told the other way round it would not agree.
        for (CageLine& line : lines) line.hidden = !line.hidden;
        const Agreement wrong = compare(demo->cage, lines, from, judge);
        EXPECT_LE(wrong.hidden_so, 0.01 * wrong.hidden);
    }
}

INSTANTIATE_TEST_SUITE_P(Demo, LinesAgainstDepth,
                         ::testing::Values(testing_render::kDemoCages[0], testing_render::kDemoCages[1]),
                         &testing_render::nameOf);

}  // namespace
}  // namespace hoopwright
