// How far long work is, for whoever waits.
#pragma once

#include <functional>
#include <string_view>

namespace hoopwright {

/// Told before each part of long work: how many parts are done, of how many, and what comes now ("piece",
/// "page 3"). False: stop here; what was half done is then given up. May be empty: nobody waits.
// (core/mesh has a Progress of its own, in shares of one.)
using WorkProgress = std::function<bool(int done, int of, std::string_view now)>;

/// Is the work to go on?
inline bool goOn(const WorkProgress& progress, int done, int of, std::string_view now) {
    return !progress || progress(done, of, now);
}

}  // namespace hoopwright
