#include "render/still.h"

#include <algorithm>
#include <osg/FrameBufferObject>
#include <osg/GLExtensions>
#include <osg/GLObjects>
#include <osgViewer/GraphicsWindow>
#include <osgViewer/Viewer>
#include <string>
#include <thread>

#include "render/camera.h"
#include "render/gl_context.h"

namespace hoopwright {
namespace {

// Larger pictures are drawn in parts: small buffers are made and cleared sooner than one large one.
constexpr int kTileWidth_px = 960, kTileHeight_px = 540;
constexpr int kSamples = 4;
constexpr int kWithoutSamples = 3;  // times larger, where there is no multisampling

/// A viewer that draws into an image, on the context current on this thread.
class Easel {
public:
    Easel(osg::Node* scene, int width, int height, int samples) {
        viewer_.setThreadingModel(osgViewer::ViewerBase::SingleThreaded);
        viewer_.setLightingMode(osg::View::NO_LIGHT);
        window_ = new osgViewer::GraphicsWindowEmbedded(0, 0, width, height);
        auto* state = window_->getState();
        auto* gl = osg::GLExtensions::Get(state->getContextID(), true);
        // The loader exports this function even where the driver lacks it, and OpenSceneGraph tests only the
        // pointer.
        gl->glRenderbufferStorageMultisampleCoverageNV = nullptr;
        standIn(*gl);
        auto* camera = viewer_.getCamera();
        camera->setGraphicsContext(window_);
        camera->setViewport(0, 0, width, height);
        camera->setRenderTargetImplementation(osg::Camera::FRAME_BUFFER_OBJECT);
        image_ = new osg::Image;
        image_->allocateImage(width, height, 1, GL_RGBA, GL_UNSIGNED_BYTE);
        const auto each = static_cast<unsigned>(samples);
        camera->attach(osg::Camera::COLOR_BUFFER0, image_, each, each);
        camera->attach(osg::Camera::DEPTH_BUFFER, GL_DEPTH_COMPONENT24);
        viewer_.setSceneData(scene);
        viewer_.realize();
    }

    ~Easel() {
        auto* state = window_->getState();
        const unsigned id = state->getContextID();
        viewer_.getSceneData()->releaseGLObjects(state);
        viewer_.getCamera()->releaseGLObjects(state);
        viewer_.setSceneData(nullptr);
        auto* gl = osg::GLExtensions::Get(id, true);
        gl->glDeleteFramebuffers(1, &frame_);
        gl->glDeleteRenderbuffers(1, &pixels_);
        osg::deleteAllGLObjects(id);
        osg::flushAllDeletedGLObjects(id);
        osg::discardAllGLObjects(id);
    }

    osg::Camera& camera() { return *viewer_.getCamera(); }
    const osg::Image& draw() {
        viewer_.frame();
        return *image_;
    }

private:
    /// A surfaceless context has no framebuffer 0, and OpenSceneGraph binds it between passes.
    void standIn(osg::GLExtensions& gl) {
        gl.glGenFramebuffers(1, &frame_);
        gl.glBindFramebuffer(GL_FRAMEBUFFER_EXT, frame_);
        gl.glGenRenderbuffers(1, &pixels_);
        gl.glBindRenderbuffer(GL_RENDERBUFFER_EXT, pixels_);
        gl.glRenderbufferStorage(GL_RENDERBUFFER_EXT, GL_RGBA8, 16, 16);
        gl.glFramebufferRenderbuffer(GL_FRAMEBUFFER_EXT, GL_COLOR_ATTACHMENT0_EXT, GL_RENDERBUFFER_EXT,
                                     pixels_);
        window_->setDefaultFboId(frame_);
    }

    osgViewer::Viewer viewer_;
    osg::ref_ptr<osgViewer::GraphicsWindowEmbedded> window_;
    osg::ref_ptr<osg::Image> image_;
    GLuint frame_ = 0, pixels_ = 0;
};

/// Lines of a picture for print are as thick for its size as those of one for a screen.
double lineWidth(int width, int height) {
    return std::max(1.0, std::min(width / 1920.0, height / 1080.0));
}

struct Tile {
    int x = 0, y = 0, width = 0, height = 0;  // in the finished picture, from its top left
};

/// Averages the larger picture of a tile into place; rows of the image run from the bottom.
void shrinkInto(Pixels& picture, const Tile& tile, const osg::Image& large, int supersample) {
    const auto scale = static_cast<std::size_t>(supersample),
               wide = 4 * scale * static_cast<std::size_t>(tile.width);
    const auto count = static_cast<unsigned>(supersample * supersample);
    std::vector<std::uint16_t> sums(wide);  // of the rows that become one
    for (int y = 0; y < tile.height; ++y) {
        std::fill(sums.begin(), sums.end(), std::uint16_t{0});
        for (int j = 0; j < supersample; ++j) {
            const unsigned char* from = large.data(0, large.t() - 1 - (y * supersample + j));
            for (std::size_t i = 0; i < wide; ++i) sums[i] = static_cast<std::uint16_t>(sums[i] + from[i]);
        }
        auto* to =
            &picture
                 .rgba[4 * (static_cast<std::size_t>(tile.y + y) * static_cast<std::size_t>(picture.width) +
                            static_cast<std::size_t>(tile.x))];
        for (std::size_t x = 0; x < wide; x += 4 * scale, to += 4) {
            for (std::size_t c = 0; c < 3; ++c) {
                unsigned sum = count / 2;
                for (std::size_t i = 0; i < scale; ++i) sum += sums[x + 4 * i + c];
                to[c] = static_cast<std::uint8_t>(sum / count);
            }
            to[3] = 255;
        }
    }
}

/// The part of the whole picture's projection that a tile shows.
osg::Matrixd tileProjection(const osg::Matrixd& whole, const Tile& tile, int width, int height) {
    const double sx = static_cast<double>(width) / tile.width, sy = static_cast<double>(height) / tile.height;
    const double cx = (2.0 * tile.x + tile.width) / width - 1, cy = 1 - (2.0 * tile.y + tile.height) / height;
    return whole * osg::Matrixd::translate(-cx, -cy, 0) * osg::Matrixd::scale(sx, sy, 1);
}

Expected<Pixels> drawHere(CageScene& scene, const View& view, int width, int height, int supersample,
                          const WorkProgress& progress) {
    auto context = GlContext::make();
    if (!context) return Reason{context.reason()};
    const int samples = (*context)->multisamples() ? kSamples : 0;
    if (samples == 0) supersample = std::max(supersample, kWithoutSamples);
    Pixels picture;
    picture.width = width;
    picture.height = height;
    picture.rgba.assign(4 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
    const int tile_width = std::min(width, kTileWidth_px / supersample),
              tile_height = std::min(height, kTileHeight_px / supersample);
    scene.setViewport(tile_width * supersample, tile_height * supersample,
                      supersample * lineWidth(width, height));
    scene.contextRecreated();  // a new context may bear the number of an old one
    Easel easel(scene.root(), tile_width * supersample, tile_height * supersample, samples);
    applyView(easel.camera(), view, scene.bounds(), static_cast<double>(width) / height);
    const osg::Matrixd whole = easel.camera().getProjectionMatrix();
    const int columns = (width + tile_width - 1) / tile_width,
              parts = columns * ((height + tile_height - 1) / tile_height);
    int done = 0;
    for (int y = 0; y < height; y += tile_height)
        for (int x = 0; x < width; x += tile_width) {
            if (!goOn(progress, done++, parts, "picture")) return Reason{"The picture was given up."};
            Tile tile{std::min(x, width - tile_width), std::min(y, height - tile_height), tile_width,
                      tile_height};
            easel.camera().setProjectionMatrix(tileProjection(whole, tile, width, height));
            scene.setPart((height - tile.y - tile.height) * supersample, height * supersample);
            shrinkInto(picture, tile, easel.draw(), supersample);
        }
    return picture;
}

}  // namespace

Expected<Pixels> still(CageScene& scene, const View& view, int width, int height, int supersample,
                       const WorkProgress& progress) {
    if (width < 1 || height < 1 || width > kMostSide_px || height > kMostSide_px)
        return Reason{"A picture must be 1 to " + std::to_string(kMostSide_px) +
                      " pixels a side; this one is " + std::to_string(width) + " x " +
                      std::to_string(height) + "."};
    scene.setQuality(Quality::full);
    scene.bake();
    // On a thread of its own: a window's context, of whatever kind, stays current where it is.
    Expected<Pixels> picture = Reason{};
    std::thread painter(
        [&] { picture = drawHere(scene, view, width, height, std::clamp(supersample, 1, 4), progress); });
    painter.join();
    return picture;
}

}  // namespace hoopwright
