// An OpenGL context of our own without a window, a display server or a screen.
#pragma once

#include <memory>

#include "core/base/expected.h"

namespace hoopwright {

/// Current on the thread that made it until it is destroyed there. EGL, surfaceless platform of Mesa; where
/// that is missing, the first EGL device.
class GlContext {
public:
    /// The reason says what the machine lacks.
    static Expected<std::unique_ptr<GlContext>> make();
    ~GlContext();
    GlContext(const GlContext&) = delete;
    GlContext& operator=(const GlContext&) = delete;

private:
    GlContext() = default;
    void* display_ = nullptr;
    void* context_ = nullptr;
};

}  // namespace hoopwright
