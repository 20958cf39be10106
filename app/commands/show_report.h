// What a customer is told of a cage, as programs read it.
#pragma once

#include <iosfwd>
#include <string>

#include "app/sheets/show_facts.h"

namespace hoopwright {

/// See app/commands/JSON.md. `file`: what was written, or empty.
void writeShowJson(std::ostream& out, const CustomerFacts& facts, const std::string& revision,
                   const std::string& date, const std::string& file);

}  // namespace hoopwright
