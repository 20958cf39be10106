#include "app/window/start.h"

#include <QApplication>
#include <QIcon>
#include <QPalette>
#include <QSettings>
#include <QTimer>
#include <QWindow>
#include <clocale>
#include <functional>

#include "app/view/view3d.h"
#include "app/window/app_paths.h"
#include "app/window/guide.h"
#include "app/window/main_window.h"
#include "app/window/own_demo.h"
#include "app/window/recovery.h"
#include "app/window/style.h"
#include "app/window/tour.h"
#include "app/window/view_host.h"

// In a static library: without this the linker would leave them out. The macro wants the global namespace.
static void takeInIcons() {
    Q_INIT_RESOURCE(guide);
}

namespace hoopwright {
namespace {

/// The job of last time if it is still there, else the demo.
std::filesystem::path firstJob() {
    std::error_code none;
    const QStringList recent = QSettings().value(QStringLiteral("recent")).toStringList();
    if (!recent.isEmpty()) {
        const std::filesystem::path last = recent.front().toStdString();
        if (std::filesystem::is_regular_file(last, none)) return last;
    }
    return demoToOpen(demoJob());
}

QIcon programIcon() {
    takeInIcons();
    QIcon icon;
    for (const int size : {16, 24, 32, 48, 64, 128, 256})
        icon.addFile(QStringLiteral(":/desktop/icon_%1.png").arg(size), {size, size});
    return icon;
}

Tone toneAtStart() {
    const QVariant kept = QSettings().value(QStringLiteral("tone"));
    return kept.isValid() ? (kept.toInt() == int(Tone::dark) ? Tone::dark : Tone::light) : desktopTone();
}

/// Runs once its window stands on the screen: what is opened over it then stands in its middle.
class OnceThere : public QObject {
public:
    OnceThere(QWidget& window, std::function<void()> run) : QObject(&window), run_(std::move(run)) {
        if (window.windowHandle()->isExposed()) {
            go();
        } else {
            window.windowHandle()->installEventFilter(this);
        }
    }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override {
        if (event->type() == QEvent::Expose && static_cast<QWindow*>(watched)->isExposed()) {
            watched->removeEventFilter(this);
            go();
        }
        return QObject::eventFilter(watched, event);
    }

private:
    void go() { QTimer::singleShot(0, this, run_); }
    std::function<void()> run_;
};

}  // namespace

int runWindow(int argc, char** argv, const char* file) {
    SceneSurface::prepareApplication();
    QApplication app(argc, argv);
    std::setlocale(LC_NUMERIC, "C");  // QApplication took the desktop's: a comma must never get into a file
    QApplication::setOrganizationName(QStringLiteral("Hoopwright"));
    QApplication::setApplicationName(QStringLiteral("Hoopwright"));
    QApplication::setApplicationVersion(QStringLiteral(HOOPWRIGHT_VERSION));
    QGuiApplication::setDesktopFileName(QStringLiteral("hoopwright"));  // its menu entry, data/desktop
    QApplication::setWindowIcon(programIcon());
    const Tone tone = toneAtStart();
    QApplication::setStyle(newStyle());
    QApplication::setFont(typeFont(TypeSize::body));
    MainWindow window(Recovery::usualRoot());
    window.useTone(tone);
    const std::filesystem::path job = file ? std::filesystem::path(file) : firstJob();
    window.show();
    if (View3d* view = window.viewHost().view()) view->setFocus();
    new OnceThere(window, [&] {
        if (!job.empty()) window.openFile(job);
        QSettings settings;
        if (!settings.value(QStringLiteral("cautioned"), false).toBool() &&
            Caution(&window).exec() == QDialog::Accepted) {
            settings.setValue(QStringLiteral("cautioned"), true);
        }
        window.offerLostWork();
        window.activateWindow();
        if (!settings.value(QStringLiteral("toured"), false).toBool()) {
            QObject::connect(showTour(window), &Tour::ended, &window,
                             [] { QSettings().setValue(QStringLiteral("toured"), true); });
        }
    });
    return QApplication::exec();
}

}  // namespace hoopwright
