// Tests of the window run in one Qt application on the platform the environment names, with settings of their
// own.
#include <gtest/gtest.h>

#include <QApplication>
#include <QStandardPaths>
#include <QTemporaryDir>

#include "app/view/scene_surface.h"
#include "app/window/style.h"
#include "edit_and_wait.h"

int main(int argc, char** argv) {
    testing::InitGoogleTest(&argc, argv);
    if (testing::GTEST_FLAG(list_tests)) return RUN_ALL_TESTS();
    const QTemporaryDir home;
    qputenv("XDG_CONFIG_HOME", home.path().toLocal8Bit());
    qputenv("XDG_DATA_HOME", home.path().toLocal8Bit());
    hoopwright::SceneSurface::prepareApplication();
    QApplication application(argc, argv);
    QApplication::setOrganizationName(QStringLiteral("Hoopwright test"));
    QApplication::setApplicationName(QStringLiteral("Hoopwright test"));
    QApplication::setStyle(hoopwright::newStyle());
    const hoopwright::Palette palette = hoopwright::paletteOf(hoopwright::Tone::light);
    QApplication::setFont(hoopwright::typeFont(hoopwright::TypeSize::body));
    application.setPalette(hoopwright::qtPaletteOf(palette));
    application.setStyleSheet(hoopwright::styleSheetOf(palette));
    if (qEnvironmentVariableIsSet(hoopwright::kEditThis)) return hoopwright::editAndWait();
    return RUN_ALL_TESTS();
}
