// What `hoopwright picture` is asked for, read from its options.
#pragma once

#include <string>
#include <vector>

#include "app/commands/command_kit.h"
#include "app/view/picture.h"

namespace hoopwright {

/// All that can be read without a check. Every reason is a sentence with the option in it.
Expected<PictureOptions> readPictureOptions(const CommandLine& line, const CageLayout& cage,
                                            const std::string& usual_size);
/// "x=812", "y=0,other": an axis, a place in the cage's unit, and which half stays.
Expected<SectionCut> readSection(const std::string& text, LengthUnit unit);
/// Bars and plates named with an option, or the one the cage has not.
Expected<std::vector<std::string>> readParts(const CommandLine& line, const char* option,
                                             const CageGeometry& cage);
/// Layout members named with an option.
Expected<std::vector<std::string>> readMembers(const CommandLine& line, const char* option,
                                               const CageLayout& cage);
/// The finding of a rule: "RULE", "RULE/SUBJECT", "TABLE/RULE" or "TABLE/RULE/SUBJECT"; of several the first.
Expected<Finding> readFinding(const std::string& text, const CheckReport& report);

}  // namespace hoopwright
