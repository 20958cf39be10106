// What a picture costs: the sixty tubes of the whole cage in the demo saloon, driver and all. Without a
// window and not multisampled, as the view draws; on this machine's renderer, whatever it is.
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
    FrameBench(int width, int height)
        : width_(width),
          height_(height),
          aspect_(static_cast<double>(width) / height),
          context_(GlContext::make()),
          job_(sixtyTubesInTheSaloon()) {
        if (!context_) return;
        scene_.set(job_, resolve(job_));
        scene_.bake();
        scene_.setViewport(width_, height_);
        view_ = standardView("three_quarter", scene_.bounds(), aspect_);
        window_ = new osgViewer::GraphicsWindowEmbedded(0, 0, width_, height_);
        makeBuffer(*osg::GLExtensions::Get(window_->getState()->getContextID(), true));
        viewer_.setThreadingModel(osgViewer::ViewerBase::SingleThreaded);
        viewer_.setLightingMode(osg::View::NO_LIGHT);
        viewer_.getCamera()->setGraphicsContext(window_);
        viewer_.getCamera()->setViewport(0, 0, width_, height_);
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
        applyView(*viewer_.getCamera(), view_, scene_.bounds(), aspect_);
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
            gl.glRenderbufferStorage(GL_RENDERBUFFER_EXT, formats[i], width_, height_);
            gl.glFramebufferRenderbuffer(GL_FRAMEBUFFER_EXT, places[i], GL_RENDERBUFFER_EXT, parts[i]);
        }
        window_->setDefaultFboId(frame);
    }

    int width_, height_;
    double aspect_;
    Expected<std::unique_ptr<GlContext>> context_;
    Job job_;
    CageScene scene_;
    View view_;
    osg::ref_ptr<osgViewer::GraphicsWindowEmbedded> window_;
    osgViewer::Viewer viewer_;
};

/// Arguments: width and height.
void frames(benchmark::State& state, Quality quality) {
    FrameBench bench(static_cast<int>(state.range(0)), static_cast<int>(state.range(1)));
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
BENCHMARK(draftFrame)->Args({1280, 800})->Args({1920, 1080})->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(fullFrame)->Args({1280, 800})->Args({1920, 1080})->Unit(benchmark::kMillisecond)->UseRealTime();

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

/// From the job to the pixels. Arguments: width and height.
void stillOfTheDemo(benchmark::State& state) {
    const int width = static_cast<int>(state.range(0)), height = static_cast<int>(state.range(1));
    const JobResult demo = readJob(HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml");
    if (!demo.job) return state.SkipWithError("the demo job is missing");
    for (auto _ : state) {
        CageScene scene;
        scene.set(*demo.job, resolve(*demo.job));
        const View view = standardView("three_quarter", scene.bounds(), 1.0 * width / height);
        const auto picture = still(scene, view, width, height);
        if (!picture) return state.SkipWithError(picture.reason().c_str());
    }
}
BENCHMARK(stillOfTheDemo)
    ->Args({1920, 1080})
    ->Args({3840, 2160})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace
}  // namespace hoopwright
