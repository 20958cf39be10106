// Progress of a command on the terminal.
#pragma once

#include <string>

#include "app/commands/command_kit.h"
#include "core/base/progress.h"

namespace hoopwright {

/// One line on the error stream that is written over, "export: 12 of 38, rear_brace.left", and cleared when
/// the returned function goes; nothing at all where the error stream is no terminal. Ctrl+C stops the work:
/// clearAwayWhenStopped() in core/base/whole_file.h.
WorkProgress progressLine(Streams streams, const std::string& command);

}  // namespace hoopwright
