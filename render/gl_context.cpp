#include "render/gl_context.h"

#include <EGL/egl.h>
#include <EGL/eglext.h>

#include <string>

namespace hoopwright {
namespace {

constexpr EGLenum kSurfaceless = 0x31DD;  // EGL_PLATFORM_SURFACELESS_MESA
constexpr EGLenum kDevice = 0x313F;       // EGL_PLATFORM_DEVICE_EXT

template <class Function>
Function entry(const char* name) {
    return reinterpret_cast<Function>(eglGetProcAddress(name));
}

EGLDisplay initialised(EGLDisplay display) {
    return display != EGL_NO_DISPLAY && eglInitialize(display, nullptr, nullptr) ? display : EGL_NO_DISPLAY;
}

EGLDisplay openDisplay() {
    const auto platformDisplay = entry<PFNEGLGETPLATFORMDISPLAYEXTPROC>("eglGetPlatformDisplayEXT");
    if (!platformDisplay) return EGL_NO_DISPLAY;
    if (EGLDisplay display = initialised(platformDisplay(kSurfaceless, EGL_DEFAULT_DISPLAY, nullptr)))
        return display;
    const auto devices = entry<PFNEGLQUERYDEVICESEXTPROC>("eglQueryDevicesEXT");
    EGLDeviceEXT device = nullptr;
    EGLint count = 0;
    if (!devices || !devices(1, &device, &count) || count < 1) return EGL_NO_DISPLAY;
    return initialised(platformDisplay(kDevice, device, nullptr));
}

Reason lacking(const std::string& what) {
    return {"No picture can be drawn here: " + what +
            ". A software renderer is enough (Debian packages libegl1, libegl-mesa0 and libgl1-mesa-dri)."};
}

}  // namespace

Expected<std::unique_ptr<GlContext>> GlContext::make() {
    std::unique_ptr<GlContext> made(new GlContext);
    made->display_ = openDisplay();
    if (made->display_ == EGL_NO_DISPLAY) return lacking("EGL gives no display without a screen");
    if (!eglBindAPI(EGL_OPENGL_API)) return lacking("EGL here does not speak desktop OpenGL");
    // No attributes: a compatibility profile, which the scene's programs are written for.
    made->context_ = eglCreateContext(made->display_, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, nullptr);
    if (made->context_ == EGL_NO_CONTEXT) return lacking("EGL gives no OpenGL context without a window");
    if (!eglMakeCurrent(made->display_, EGL_NO_SURFACE, EGL_NO_SURFACE, made->context_))
        return lacking("the OpenGL context cannot be used without a window");
    return made;
}

GlContext::~GlContext() {
    if (!display_) return;
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context_) eglDestroyContext(display_, context_);
}

}  // namespace hoopwright
