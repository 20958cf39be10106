// Linked into the program and its tests when they are built with a sanitizer.
#include <dlfcn.h>

// Graphics drivers keep what they allocated until the process ends. If they are unloaded first, the leak
// report cannot name them, and the list below matches nothing.
extern "C" int dlclose(void*) noexcept {
    return 0;
}

extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libdbus-1\n"
           "leak:libfontconfig\n"
           "leak:swrast_dri\n"
           "leak:libgallium\n"
           "leak:libGLX\n"
           "leak:libEGL\n"
           "leak:libLLVM\n"
           "leak:libxcb\n"
           "leak:libX11\n"
           "leak:libglib-2.0\n"
           "leak:libubsan\n";
}
