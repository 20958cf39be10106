// One program: with a command word it answers on the command line, else it opens the window.
#include <cstdlib>
#include <iostream>

#include "app/commands/commands.h"
#include "app/window/app_paths.h"
#include "app/window/start.h"
#include "core/base/whole_file.h"

namespace {

bool hasDisplay() {
    const auto is_set = [](const char* name) {
        const char* value = std::getenv(name);
        return value && *value;
    };
    return is_set("DISPLAY") || is_set("WAYLAND_DISPLAY") || is_set("QT_QPA_PLATFORM");
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    hoopwright::clearAwayWhenStopped();
    if (!words.empty() && hoopwright::isCommand(words[0]))
        return hoopwright::runCommand(words, std::cout, std::cerr);
    const char* file = words.empty() ? nullptr : argv[1];
    if (!hasDisplay()) {
        const std::string job = file ? std::string(file) : hoopwright::demoJob().string();
        std::cerr << hoopwright::noDisplaySentence(job) << "\n";
        return hoopwright::kExitBadInput;
    }
    return hoopwright::runWindow(argc, argv, file);
}
