#include "app/window/start.h"

#include <QApplication>
#include <QPalette>
#include <QSettings>
#include <QTimer>
#include <clocale>

#include "app/view/view3d.h"
#include "app/window/app_paths.h"
#include "app/window/guide.h"
#include "app/window/main_window.h"
#include "app/window/recovery.h"
#include "app/window/style.h"
#include "app/window/view_host.h"

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
    return demoJob();
}

Tone toneAtStart() {
    const QVariant kept = QSettings().value(QStringLiteral("tone"));
    return kept.isValid() ? (kept.toInt() == int(Tone::dark) ? Tone::dark : Tone::light) : desktopTone();
}

}  // namespace

int runWindow(int argc, char** argv, const char* file) {
    SceneSurface::prepareApplication();
    QApplication app(argc, argv);
    std::setlocale(LC_NUMERIC, "C");  // QApplication took the desktop's: a comma must never get into a file
    QApplication::setOrganizationName(QStringLiteral("Hoopwright"));
    QApplication::setApplicationName(QStringLiteral("Hoopwright"));
    QApplication::setApplicationVersion(QStringLiteral(HOOPWRIGHT_VERSION));
    const Tone tone = toneAtStart();
    QApplication::setStyle(newStyle());
    QApplication::setFont(typeFont(TypeSize::body));
    MainWindow window(Recovery::usualRoot());
    window.useTone(tone);
    const std::filesystem::path job = file ? std::filesystem::path(file) : firstJob();
    window.show();
    if (View3d* view = window.viewHost().view()) view->setFocus();
    QTimer::singleShot(0, &window, [&] {
        if (!job.empty()) window.openFile(job);
        QSettings settings;
        if (!settings.value(QStringLiteral("cautioned"), false).toBool() &&
            Caution(&window).exec() == QDialog::Accepted) {
            settings.setValue(QStringLiteral("cautioned"), true);
        }
        window.offerLostWork();
        window.activateWindow();
    });
    return QApplication::exec();
}

}  // namespace hoopwright
