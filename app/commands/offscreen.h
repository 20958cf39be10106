// Fonts need an application object, a display they do not.
#pragma once

#include <QGuiApplication>
#include <memory>

namespace hoopwright {

/// On the platform "offscreen"; null where there is an application already.
std::unique_ptr<QGuiApplication> offscreenApplication();

}  // namespace hoopwright
