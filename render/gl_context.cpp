#include "render/gl_context.h"

#include <EGL/egl.h>
#include <EGL/eglext.h>

#include <cstdlib>
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

bool has(const std::string& list, const std::string& word) {
    return (" " + list + " ").find(" " + word + " ") != std::string::npos;
}

/// What of the current context the shaders and the picture's parts need and it has not; empty: nothing.
std::string missingHere(bool& multisamples) {
    using GetString = const unsigned char* (*)(unsigned);
    const auto get = entry<GetString>("glGetString");
    if (!get) return "the OpenGL driver says nothing about itself";
    const auto word = [&](unsigned name) {
        const unsigned char* text = get(name);
        return std::string(text ? reinterpret_cast<const char*>(text) : "");
    };
    constexpr unsigned kVersion = 0x1F02, kExtensions = 0x1F03;  // GL_VERSION, GL_EXTENSIONS
    const std::string version = word(kVersion), extensions = word(kExtensions);
    const std::size_t dot = version.find('.');
    const int major = version.empty() ? 0 : version[0] - '0',
              minor = dot == std::string::npos || dot + 1 >= version.size() ? 0 : version[dot + 1] - '0';
    multisamples = has(extensions, "GL_EXT_framebuffer_multisample") ||
                   (major >= 3 && !has(extensions, "GL_EXT_framebuffer_object"));
    if (major * 10 + minor < 21) return "its OpenGL is " + version + ", and 2.1 is the least";
    if (major < 3 && !has(extensions, "GL_EXT_framebuffer_object"))
        return "its OpenGL has no framebuffer objects";
    return {};
}

}  // namespace

std::optional<Reason> GlContext::open() {
    display_ = openDisplay();
    if (display_ == EGL_NO_DISPLAY) return lacking("EGL gives no display without a screen");
    if (!eglBindAPI(EGL_OPENGL_API)) return lacking("EGL here does not speak desktop OpenGL");
    // No attributes: a compatibility profile, which the scene's programs are written for.
    context_ = eglCreateContext(display_, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, nullptr);
    if (context_ == EGL_NO_CONTEXT) return lacking("EGL gives no OpenGL context without a window");
    if (!eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, context_))
        return lacking("the OpenGL context cannot be used without a window");
    const std::string missing = missingHere(multisamples_);
    if (!missing.empty()) return lacking(missing);
    return std::nullopt;
}

Expected<std::unique_ptr<GlContext>> GlContext::make() {
    std::unique_ptr<GlContext> made(new GlContext);
    const std::optional<Reason> first = made->open();
    if (!first) return made;
    EGLDisplay weak = made->display_;
    made.reset(new GlContext);
    if (weak == EGL_NO_DISPLAY) return *first;
    // Mesa asks for its software renderer by this name when a display is set up anew.
    eglTerminate(weak);
    ::setenv("LIBGL_ALWAYS_SOFTWARE", "1", 1);
    if (made->open()) return *first;
    return made;
}

GlContext::~GlContext() {
    if (!display_) return;
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context_) eglDestroyContext(display_, context_);
}

}  // namespace hoopwright
