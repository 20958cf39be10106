// What the edit command tells.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "core/edit/refit_side.h"

namespace hoopwright {

struct EditReport {
    const Job& before;
    Job after;
    CageGeometry was, is;
    std::string done;                              ///< a sentence
    std::vector<std::string> made, changed, gone;  /// layout ids, in the cage's order
    std::vector<std::string> worse;     ///< titles of required rules that fail now and did not before
    std::vector<std::string> troubles;  ///< what is wrong with the geometry now and was not before
    std::optional<SideRefit> refit;
    std::string written;
};

void writeEditText(std::ostream& out, const EditReport& report);
void writeEditJson(std::ostream& out, const EditReport& report);

}  // namespace hoopwright
