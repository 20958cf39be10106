// What the hand on the window waits for: the start of the program, a frame while something moves, and the
// whole picture after the last event. Needs a display; under one without a graphics card the software
// renderer is measured:  xvfb-run -s "-screen 0 1920x1080x24" ./bench_window
#include <benchmark/benchmark.h>

#include <QApplication>
#include <QFile>
#include <QMouseEvent>
#include <QPixmap>
#include <QProcess>
#include <QScreen>
#include <QSet>
#include <QStyleFactory>
#include <QTemporaryDir>
#include <QTest>
#include <chrono>

#include "app/view/view3d.h"
#include "app/window/main_window.h"
#include "app/window/style.h"
#include "app/window/view_host.h"

namespace hoopwright {
namespace {

constexpr const char* kDemo = HOOPWRIGHT_SOURCE_DIR "/data/cages/hillclimb_saloon.yaml";
constexpr int kPatience_ms = 20000;

using Clock = std::chrono::steady_clock;
double secondsSince(Clock::time_point then) {
    return std::chrono::duration<double>(Clock::now() - then).count();
}

/// Colours in the middle of the screen: a desk or an empty window has few, a picture of the cage thousands.
int coloursInTheMiddle() {
    const QSize whole = QGuiApplication::primaryScreen()->size();
    const QImage image = QGuiApplication::primaryScreen()
                             ->grabWindow(0, whole.width() / 2 - 160, whole.height() / 2 - 120, 320, 240)
                             .toImage();
    QSet<QRgb> colours;
    for (int y = 0; y < image.height(); y += 2)
        for (int x = 0; x < image.width(); x += 2) colours.insert(image.pixel(x, y));
    return static_cast<int>(colours.size());
}

/// The program itself, from its call to a picture of the demo on the screen; settings as after the first
/// start.
void startOfTheProgram(benchmark::State& state) {
    const QTemporaryDir home;
    QDir(home.path()).mkpath(QStringLiteral("Hoopwright"));
    QFile settings(home.filePath(QStringLiteral("Hoopwright/Hoopwright.conf")));
    if (!settings.open(QIODevice::WriteOnly)) return state.SkipWithError("no room for settings");
    settings.write("[General]\ncautioned=true\n");
    settings.close();
    QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
    environment.insert(QStringLiteral("XDG_CONFIG_HOME"), home.path());
    environment.insert(QStringLiteral("XDG_DATA_HOME"), home.path());
    for (auto _ : state) {
        QProcess program;
        program.setProcessEnvironment(environment);
        const auto start = Clock::now();
        program.start(QStringLiteral(HOOPWRIGHT_PROGRAM), {QString::fromUtf8(kDemo)});
        while (coloursInTheMiddle() < 500) {
            if (secondsSince(start) * 1000 > kPatience_ms) return state.SkipWithError("no picture came");
            QTest::qWait(5);
        }
        state.SetIterationTime(secondsSince(start));
        program.kill();
        program.waitForFinished();
        QTest::qWait(300);  // the display takes the window away
    }
}
BENCHMARK(startOfTheProgram)->Unit(benchmark::kMillisecond)->UseManualTime()->Iterations(5);

/// The window on the demo with its whole picture drawn; dragged about by the left button.
class WindowBench {
public:
    /// Of 1280 x 800: the view, or the window with all its panels.
    enum class Size { view, window };
    explicit WindowBench(Size size = Size::view) : window_(home_.path()) {
        window_.setWindowState(Qt::WindowNoState);
        window_.resize(QGuiApplication::primaryScreen()->size());
        window_.openFile(kDemo);
        window_.show();
        static_cast<void>(QTest::qWaitForWindowExposed(&window_));
        waitForFull(0);
        const QSize promised(1280, 800);
        window_.resize(size == Size::window ? promised : window_.size() + (promised - view().size()));
        drag(1);
        waitForFull(view().drawn().fulls);
    }
    View3d& view() { return *window_.viewHost().view(); }

    void press(bool down) { send(down ? QEvent::MouseButtonPress : QEvent::MouseButtonRelease); }
    void drag(int by_px) {
        at_ += QPointF(by_px, 0);
        send(QEvent::MouseMove);
    }
    /// Until one more frame is on the screen.
    bool waitForFrame() {
        bool swapped = false;
        const auto seen = QObject::connect(&view(), &QOpenGLWidget::frameSwapped, [&] { swapped = true; });
        const auto start = Clock::now();
        while (!swapped && secondsSince(start) * 1000 < kPatience_ms)
            QApplication::processEvents(QEventLoop::WaitForMoreEvents, 50);
        QObject::disconnect(seen);
        return swapped;
    }
    bool waitForFull(int before) {
        return QTest::qWaitFor([&] { return view().drawn().fulls > before; }, kPatience_ms);
    }

private:
    void send(QEvent::Type type) {
        const Qt::MouseButton button = type == QEvent::MouseMove ? Qt::NoButton : Qt::LeftButton;
        const Qt::MouseButtons held = type == QEvent::MouseButtonRelease ? Qt::NoButton : Qt::LeftButton;
        QMouseEvent event(type, at_, view().mapToGlobal(at_), button, held, Qt::NoModifier);
        QApplication::sendEvent(&view(), &event);
    }

    QTemporaryDir home_;
    MainWindow window_;
    QPointF at_{300, 300};
};

void tellSize(benchmark::State& state, WindowBench& bench) {
    state.counters["width_px"] = bench.view().width();
    state.counters["height_px"] = bench.view().height();
}

/// From a move of the hand to its frame on the screen, all that lies over the view included.
void draftFrameInTheWindow(benchmark::State& state) {
    WindowBench bench(static_cast<WindowBench::Size>(state.range(0)));
    bench.press(true);
    for (int i = 0; i < 8; ++i) bench.drag(4), bench.waitForFrame();  // it finds its pace
    double drawing_ms = 0;
    int count = 0;
    for (auto _ : state) {
        const auto start = Clock::now();
        bench.drag(count % 40 < 20 ? 4 : -4);
        if (!bench.waitForFrame()) return state.SkipWithError("no frame came");
        state.SetIterationTime(secondsSince(start));
        drawing_ms += bench.view().drawn().draft_ms;
        ++count;
    }
    bench.press(false);
    state.counters["drawing_ms"] = drawing_ms / count;
    state.counters["buffer_px"] = bench.view().drawn().last_px.width();
    tellSize(state, bench);
}
BENCHMARK(draftFrameInTheWindow)
    ->ArgName("whole_window")
    ->Arg(0)
    ->Arg(1)
    ->Unit(benchmark::kMillisecond)
    ->UseManualTime()
    ->Iterations(60);

/// From the last move of the hand to the whole picture.
void fullPictureInTheWindow(benchmark::State& state) {
    WindowBench bench;
    for (auto _ : state) {
        bench.press(true);
        for (int i = 0; i < 5; ++i) bench.drag(6), bench.waitForFrame();
        const int before = bench.view().drawn().fulls;
        const auto start = Clock::now();
        bench.drag(6);
        if (!bench.waitForFull(before)) return state.SkipWithError("no whole picture came");
        state.SetIterationTime(secondsSince(start));
        bench.press(false);
    }
    tellSize(state, bench);
}
BENCHMARK(fullPictureInTheWindow)->Unit(benchmark::kMillisecond)->UseManualTime()->Iterations(10);

}  // namespace
}  // namespace hoopwright

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    const QTemporaryDir home;
    qputenv("XDG_CONFIG_HOME", home.path().toLocal8Bit());
    qputenv("XDG_DATA_HOME", home.path().toLocal8Bit());
    hoopwright::SceneSurface::prepareApplication();
    QApplication application(argc, argv);
    QApplication::setOrganizationName(QStringLiteral("Hoopwright bench"));
    QApplication::setApplicationName(QStringLiteral("Hoopwright bench"));
    QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    QApplication::setFont(hoopwright::typeFont(hoopwright::TypeSize::body));
    benchmark::RunSpecifiedBenchmarks();
}
