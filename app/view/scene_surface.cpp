#include "app/view/scene_surface.h"

#include <QElapsedTimer>
#include <QGuiApplication>
#include <QOpenGLContext>
#include <QOpenGLFramebufferObject>
#include <QOpenGLFunctions>
#include <algorithm>
#include <cmath>
#include <osg/GLExtensions>
#include <osg/GLObjects>
#include <osgViewer/GraphicsWindow>
#include <osgViewer/Viewer>

#include "render/camera.h"

namespace hoopwright {
namespace {

QSurfaceFormat sceneFormat() {
    QSurfaceFormat format;
    format.setRenderableType(QSurfaceFormat::OpenGL);
    format.setVersion(2, 1);
    format.setProfile(QSurfaceFormat::CompatibilityProfile);
    format.setDepthBufferSize(24);
    format.setStencilBufferSize(8);
    format.setSwapInterval(1);
    return format;
}

}  // namespace

void SceneSurface::prepareApplication() {
    QSurfaceFormat::setDefaultFormat(sceneFormat());
    QCoreApplication::setAttribute(Qt::AA_ShareOpenGLContexts);
}

bool SceneSurface::possibleHere() {
    const QString platform = QGuiApplication::platformName();
    return platform != QLatin1String("offscreen") && platform != QLatin1String("minimal") &&
           platform != QLatin1String("vnc");
}

SceneSurface::SceneSurface(QWidget* parent)
    : QOpenGLWidget(parent),
      scene_(std::make_unique<CageScene>()),
      viewer_(new osgViewer::Viewer),
      window_(new osgViewer::GraphicsWindowEmbedded(0, 0, 64, 64)) {
    setFormat(sceneFormat());
    viewer_->setThreadingModel(osgViewer::ViewerBase::SingleThreaded);
    viewer_->setReleaseContextAtEndOfFrameHint(false);
    viewer_->setKeyEventSetsDone(0);
    viewer_->setLightingMode(osg::View::NO_LIGHT);
    viewer_->getCamera()->setGraphicsContext(window_);
    viewer_->getCamera()->setClearColor(osg::Vec4(0.62f, 0.65f, 0.69f, 1));
    viewer_->setSceneData(scene_->root());
    stillness_.setSingleShot(true);
    stillness_.setTimerType(Qt::PreciseTimer);
    connect(&stillness_, &QTimer::timeout, this, &SceneSurface::becomeFull);
    // Through the event loop: what the hand did meanwhile comes first.
    next_pass_.setSingleShot(true);
    next_pass_.setInterval(1);
    connect(&next_pass_, &QTimer::timeout, this, qOverload<>(&SceneSurface::update));
}

SceneSurface::~SceneSurface() {
    disconnect(context_gone_);
    if (!context()) return;
    makeCurrent();
    releaseGraphics();
    doneCurrent();
}

void SceneSurface::setView(const View& view) {
    view_ = view;
    sceneChanged();
}

void SceneSurface::sceneChanged() {
    quality_ = always_whole_ ? Quality::full : Quality::draft;
    smooth_.restart();
    next_pass_.stop();
    if (!always_whole_) stillness_.start(pace_.stillness_ms());
    pictureChanges();
    update();
}

void SceneSurface::becomeFull() {
    quality_ = Quality::full;
    pictureChanges();
    update();
}

void SceneSurface::initializeGL() {
    ++drawn_.contexts;
    context_gone_ = connect(
        context(), &QOpenGLContext::aboutToBeDestroyed, this,
        [this] {
            makeCurrent();
            releaseGraphics();
            doneCurrent();
        },
        Qt::DirectConnection);
    if (drawn_.contexts > 1) {
        // A new context knows nothing of the old one's objects: it gets a state and an id of its own.
        window_ = new osgViewer::GraphicsWindowEmbedded(0, 0, 64, 64);
        viewer_->getCamera()->setGraphicsContext(window_);
        scene_->contextRecreated();
    }
    osg::State& state = *window_->getState();
    state.setCheckForGLErrors(osg::State::NEVER_CHECK_GL_ERRORS);
    // The loader exports this function where the driver has none, and multisampled buffers then fail.
    osg::GLExtensions::Get(state.getContextID(), true)->glRenderbufferStorageMultisampleCoverageNV = nullptr;
    viewer_->realize();
}

void SceneSurface::releaseGraphics() {
    draft_buffer_.reset();
    smooth_.release();
    osg::State* state = window_->getState();
    scene_->root()->releaseGLObjects(state);
    viewer_->getCamera()->releaseGLObjects(state);
    state->releaseGLObjects();
    const unsigned id = state->getContextID();
    osg::deleteAllGLObjects(id);
    osg::flushAllDeletedGLObjects(id);
    osg::discardAllGLObjects(id);
}

QSize SceneSurface::deviceSize() const {
    const double ratio = devicePixelRatio();
    return {std::max(1, static_cast<int>(std::lround(width() * ratio))),
            std::max(1, static_cast<int>(std::lround(height() * ratio)))};
}

void SceneSurface::resizeGL(int, int) {
    sceneChanged();
}

void SceneSurface::showEvent(QShowEvent* event) {
    QOpenGLWidget::showEvent(event);
    sceneChanged();
}

void SceneSurface::drawInto(QOpenGLFramebufferObject& buffer, QPointF aside) {
    const QSize size = buffer.size();
    scene_->setViewport(size.width(), size.height(), devicePixelRatio());
    // First: it stretches the viewport of the picture before, so that one set already would be stretched
    // again and a draft smaller than the picture before it would fill a corner of its buffer only.
    window_->resized(0, 0, size.width(), size.height());
    auto& camera = *viewer_->getCamera();
    camera.setViewport(0, 0, size.width(), size.height());
    applyView(camera, view_, scene_->bounds(), static_cast<double>(size.width()) / size.height());
    if (!aside.isNull())
        camera.setProjectionMatrix(
            camera.getProjectionMatrix() *
            osg::Matrixd::translate(2 * aside.x() / size.width(), 2 * aside.y() / size.height(), 0));
    window_->setDefaultFboId(buffer.handle());
    buffer.bind();
    context()->functions()->glUseProgram(0);
    window_->getState()->setLastAppliedProgramObject(nullptr);
    viewer_->frame();
}

void SceneSurface::paintGL() {
    QElapsedTimer clock;
    clock.start();
    const auto passed_ms = [&] {
        context()->functions()->glFinish();  // the time of drawing itself is wanted, not of handing it over
        return static_cast<double>(clock.nsecsElapsed()) * 1e-6;
    };
    if (quality_ == Quality::draft) {
        paintDraft();
        pace_.drewDraft(drawn_.draft_ms = passed_ms());
        return;
    }
    const bool draws = !smooth_.done();
    if (draws) paintPass();
    smooth_.copyTo(nullptr);
    if (!draws) return;
    drawn_.full_ms = passed_ms();
    if (smooth_.passes() == 1) pace_.drewFull(drawn_.full_ms);
    if (!smooth_.done()) return next_pass_.start();
    emit settled();
}

void SceneSurface::paintDraft() {
    const QSize whole = deviceSize();
    const QSize size = (QSizeF(whole) * pace_.draftScale()).toSize().expandedTo({1, 1});
    if (!draft_buffer_ || draft_buffer_->size() != size) {
        QOpenGLFramebufferObjectFormat format;
        format.setAttachment(QOpenGLFramebufferObject::CombinedDepthStencil);
        draft_buffer_ = std::make_unique<QOpenGLFramebufferObject>(size, format);
    }
    scene_->setQuality(Quality::draft);
    drawInto(*draft_buffer_, {});
    QOpenGLFramebufferObject::blitFramebuffer(nullptr, QRect({0, 0}, whole), draft_buffer_.get(),
                                              QRect({0, 0}, size), GL_COLOR_BUFFER_BIT,
                                              size == whole ? GL_NEAREST : GL_LINEAR);
    ++drawn_.drafts;
    drawn_.passes = 0;
    drawn_.last = Quality::draft;
    drawn_.last_px = size;
}

void SceneSurface::paintPass() {
    scene_->setQuality(Quality::full);
    scene_->bake();
    auto& buffer = smooth_.next(deviceSize());
    drawInto(buffer, smooth_.aside());
    smooth_.add();
    drawn_.fulls += smooth_.passes() == 1;
    drawn_.passes = smooth_.passes();
    drawn_.last = Quality::full;
    drawn_.last_px = buffer.size();
}

}  // namespace hoopwright
