// The pack as programs read it.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "app/pack/pack.h"

namespace hoopwright {

struct Command;
Command packCommand();

/// See app/commands/JSON.md. `files`: those that were written.
void writePackJson(std::ostream& out, const InspectorPack& pack, const std::string& revision,
                   const std::vector<std::string>& files);

class JsonWriter;
/// "as_built": what of the cage can be measured or was, into the object that is open.
void writeAsBuiltJson(JsonWriter& json, const std::vector<AsBuilt>& list, const Job& job);

}  // namespace hoopwright
