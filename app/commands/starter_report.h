// What the starter command says, for people and for programs.
#pragma once

#include <iosfwd>
#include <span>
#include <string>
#include <vector>

#include "rules/starter_choice.h"

namespace hoopwright {

struct MadeStarter {
    const Starter& starter;
    const StarterChoice& choice;
    const std::vector<OptionEffect>& options;
    std::span<const RuleTableRef> tables;
    std::string out;  ///< the file it was written to, or empty
};
void writeStarterText(std::ostream& out, const MadeStarter& made);
void writeStarterJson(std::ostream& out, const MadeStarter& made);
void writeStarterListText(std::ostream& out);
void writeStarterListJson(std::ostream& out);

}  // namespace hoopwright
