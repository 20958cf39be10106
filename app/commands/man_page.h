// The command line as a page for man(1).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/commands/command_kit.h"

namespace hoopwright {

/// The page in roff with the man macros (man(7)), plain ASCII: every command with its options, from the words
/// that --help shows.
std::string manPage(const std::vector<Command>& commands, std::string_view version);

}  // namespace hoopwright
