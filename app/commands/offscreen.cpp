#include "app/commands/offscreen.h"

#include <QLoggingCategory>
#include <clocale>

namespace hoopwright {

std::unique_ptr<QGuiApplication> offscreenApplication() {
    if (QCoreApplication::instance()) return nullptr;
    // What goes wrong is said in our own words; Qt's remarks about the surroundings are not the user's.
    QLoggingCategory::setFilterRules("default.warning=false");
    qputenv("QT_QPA_PLATFORM", "offscreen");
    static int count = 1;
    static char name[] = "hoopwright";
    static char* names[] = {name, nullptr};
    auto application = std::make_unique<QGuiApplication>(count, names);
    // Qt takes the user's locale; numbers in files stay with a point.
    std::setlocale(LC_NUMERIC, "C");
    return application;
}

}  // namespace hoopwright
