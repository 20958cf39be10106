// The command line: the same answers as the window, without a display.
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace hoopwright {

/// What a command ends with, for scripts.
enum ExitCode : int {
    kExitGood = 0,        ///< done; for check: all meet
    kExitFallsShort = 1,  ///< check: something fails, cannot be told, or does not fit together; order: a
                          ///< piece cannot be cut from the stock; car: a reading to look at again;
                          ///< fit: a limit cannot be met, a bent tube does not fit
    kExitBadInput = 2,    ///< a file or the command line is wrong, or something could not be written
};

/// Does the program's first argument ask for a command rather than for the window? True for every command
/// word, for options, and for a word that is neither a file nor a command.
bool isCommand(std::string_view first_argument);

/// Runs one command line, given from the command word on. Answers go to `out`, everything that is wrong to
/// `err`. Only `picture` and `sheet` make a QGuiApplication, and only if there is none.
int runCommand(const std::vector<std::string>& words, std::ostream& out, std::ostream& err);

/// What is said when there is no display for the window: one sentence and the same job as a command.
std::string noDisplaySentence(std::string_view cage_file);

}  // namespace hoopwright
