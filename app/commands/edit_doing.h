// What the edit command can do: one option each.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "app/commands/command_line.h"
#include "app/commands/edit_report.h"

namespace hoopwright {

/// One thing that can be done to report.after, and the sentence that says it was.
struct EditDoing {
    const char* option;
    Expected<std::string> (*run)(const CommandLine& line, EditReport& report);
};
/// Those that add something: a bar, a plate, a gusset, a tie, a riser, a record.
std::span<const EditDoing> addingDoings();
/// A paper with a date on it; an inspection and the check of that day.
Expected<std::string> keepPaper(const CommandLine& line, EditReport& report);
Expected<std::string> keepInspection(const CommandLine& line, EditReport& report);
/// What they take.
std::vector<OptionSpec> addingOptions();

}  // namespace hoopwright
