// What may stand under `with`: one row for each kind of argument.
#pragma once

#include <span>

#include "rules/arguments.h"

namespace hoopwright {

struct ArgumentWords {
    Arg arg;
    const char* key;   ///< as files say it
    const char* says;  ///< what is written there: "a place", "yes", "side, front, plan or true"
};
std::span<const ArgumentWords> argumentWords();

}  // namespace hoopwright
