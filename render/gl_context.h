// An OpenGL context of our own without a window, a display server or a screen.
#pragma once

#include <memory>
#include <optional>

#include "core/base/expected.h"

namespace hoopwright {

/// Current on the thread that made it until it is destroyed there. EGL, surfaceless platform of Mesa; where
/// that is missing, the first EGL device. A driver that is too weak for our shaders (before OpenGL 2.1, or
/// without framebuffer objects) gives way to the software renderer.
class GlContext {
public:
    /// The reason says what the machine lacks.
    static Expected<std::unique_ptr<GlContext>> make();
    /// Can it draw into a multisampled buffer?
    bool multisamples() const { return multisamples_; }
    ~GlContext();
    GlContext(const GlContext&) = delete;
    GlContext& operator=(const GlContext&) = delete;

private:
    GlContext() = default;
    std::optional<Reason> open();
    void* display_ = nullptr;
    void* context_ = nullptr;
    bool multisamples_ = false;
};

}  // namespace hoopwright
