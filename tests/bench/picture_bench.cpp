// What a picture costs: the sixty tubes of the whole cage in the demo saloon, driver and all. Without a
// window, at 1280 x 800 and not multisampled, as the view draws; on this machine's renderer, whatever it is.
#include <benchmark/benchmark.h>

#include <memory>
#include <osg/GLExtensions>
#include <osgViewer/GraphicsWindow>
#include <osgViewer/Viewer>

#include "core/files/job_file.h"
#include "core/model/resolve.h"
#include "render/camera.h"
#include "render/gl_context.h"
#include "render/still.h"
#include "tests/core/model/whole_cage.h"

namespace hoopwright {
namespace {

constexpr int kWidth = 1280, kHeight = 800;
constexpr double kAspect = static_cast<double>(kWidth) / kHeight;

Job sixtyTubesInTheSaloon() {
    Job job = testing::wholeCage();
    const JobResult demo = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml");
    if (!demo.job) return job;
    job.car = demo.job->car;
    job.drivers = demo.job->drivers;
    return job;
}

/// A buffer of its own stands in for the window.
class FrameBench {
public:
    FrameBench() : context_(GlContext::make()), job_(sixtyTubesInTheSaloon()) {
        if (!context_) return;
        scene_.set(job_, resolve(job_));
        scene_.bake();
        scene_.setViewport(kWidth, kHeight);
        view_ = standardView("three_quarter", scene_.bounds(), kAspect);
        window_ = new osgViewer::GraphicsWindowEmbedded(0, 0, kWidth, kHeight);
        makeBuffer(*osg::GLExtensions::Get(window_->getState()->getContextID(), true));
        viewer_.setThreadingModel(osgViewer::ViewerBase::SingleThreaded);
        viewer_.setLightingMode(osg::View::NO_LIGHT);
        viewer_.getCamera()->setGraphicsContext(window_);
        viewer_.getCamera()->setViewport(0, 0, kWidth, kHeight);
        viewer_.setSceneData(scene_.root());
        viewer_.realize();
    }
    ~FrameBench() {
        if (!window_) return;
        scene_.root()->releaseGLObjects(window_->getState());
        viewer_.setSceneData(nullptr);
    }

    bool ready() const { return static_cast<bool>(context_); }
    CageScene& scene() { return scene_; }
    void frame() {
        view_ = view_.orbited(0.02, 0);
        applyView(*viewer_.getCamera(), view_, scene_.bounds(), kAspect);
        viewer_.frame();
        glFinish();
    }

private:
    void makeBuffer(osg::GLExtensions& gl) {
        GLuint frame = 0, parts[2] = {0, 0};
        gl.glGenFramebuffers(1, &frame);
        gl.glBindFramebuffer(GL_FRAMEBUFFER_EXT, frame);
        gl.glGenRenderbuffers(2, parts);
        const GLenum formats[2] = {GL_RGBA8, GL_DEPTH_COMPONENT24};
        const GLenum places[2] = {GL_COLOR_ATTACHMENT0_EXT, GL_DEPTH_ATTACHMENT_EXT};
        for (int i = 0; i < 2; ++i) {
            gl.glBindRenderbuffer(GL_RENDERBUFFER_EXT, parts[i]);
            gl.glRenderbufferStorage(GL_RENDERBUFFER_EXT, formats[i], kWidth, kHeight);
            gl.glFramebufferRenderbuffer(GL_FRAMEBUFFER_EXT, places[i], GL_RENDERBUFFER_EXT, parts[i]);
        }
        window_->setDefaultFboId(frame);
    }

    Expected<std::unique_ptr<GlContext>> context_;
    Job job_;
    CageScene scene_;
    View view_;
    osg::ref_ptr<osgViewer::GraphicsWindowEmbedded> window_;
    osgViewer::Viewer viewer_;
};

void frames(benchmark::State& state, Quality quality) {
    FrameBench bench;
    if (!bench.ready()) return state.SkipWithError("no OpenGL context without a window here");
    bench.scene().setQuality(quality);
    bench.frame();  // programs are compiled and buffers sent with the first
    for (auto _ : state) bench.frame();
    state.counters["triangles"] = static_cast<double>(bench.scene().triangles());
}
void draftFrame(benchmark::State& state) {
    frames(state, Quality::draft);
}
void fullFrame(benchmark::State& state) {
    frames(state, Quality::full);
}
BENCHMARK(draftFrame)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(fullFrame)->Unit(benchmark::kMillisecond)->UseRealTime();

/// One step of a drag: the first hoop and all that lands on it move.
CageGeometry moved(Job job, double by_mm) {
    for (Plate& plate : job.cage.plates)
        if (auto* fixed = std::get_if<FixedPoint>(&plate.at)) fixed->at.x() += by_mm;
    return resolve(job);
}

void setInADrag(benchmark::State& state) {
    const Job job = sixtyTubesInTheSaloon();
    const CageGeometry here = resolve(job), there = moved(job, 5);
    CageScene scene;
    scene.setQuality(Quality::draft);
    bool odd = false;
    for (auto _ : state) scene.set(job, (odd = !odd) ? there : here);
}
BENCHMARK(setInADrag)->Unit(benchmark::kMillisecond);

void bakeAfterADrag(benchmark::State& state) {
    const Job job = sixtyTubesInTheSaloon();
    const CageGeometry here = resolve(job), there = moved(job, 5);
    CageScene scene;
    bool odd = false;
    for (auto _ : state) {
        scene.set(job, (odd = !odd) ? there : here);
        scene.bake();
    }
}
BENCHMARK(bakeAfterADrag)->Unit(benchmark::kMillisecond);

void stillOfTheDemo(benchmark::State& state) {
    const JobResult demo = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml");
    if (!demo.job) return state.SkipWithError("the demo job is missing");
    for (auto _ : state) {
        CageScene scene;
        scene.set(*demo.job, resolve(*demo.job));
        const View view = standardView("three_quarter", scene.bounds(), 1920.0 / 1080);
        const auto picture = still(scene, view, 1920, 1080);
        if (!picture) return state.SkipWithError(picture.reason().c_str());
    }
}
BENCHMARK(stillOfTheDemo)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
}  // namespace hoopwright
