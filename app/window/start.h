// The window, from the program's start to its end.
#pragma once

namespace hoopwright {

/// Shows the window and runs until it is closed. `file`: a cage file to open; null: the demo job on the first
/// start, later the job of last time. Returns the program's exit code.
/// @pre there is a display.
int runWindow(int argc, char** argv, const char* file);

}  // namespace hoopwright
