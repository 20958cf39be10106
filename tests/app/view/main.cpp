// Tests of the view run in one Qt application on the platform the environment names.
#include <gtest/gtest.h>

#include <QApplication>

#include "app/view/scene_surface.h"

int main(int argc, char** argv) {
    testing::InitGoogleTest(&argc, argv);
    if (testing::GTEST_FLAG(list_tests)) return RUN_ALL_TESTS();
    hoopwright::SceneSurface::prepareApplication();
    QApplication application(argc, argv);
    return RUN_ALL_TESTS();
}
