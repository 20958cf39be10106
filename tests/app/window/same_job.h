// Jobs compared by what they say: a shop's book that was read twice is two books of the same words.
#pragma once

#include "core/model/cage_layout.h"

namespace hoopwright {

inline bool sameJob(Job a, const Job& b) {
    if (bool(a.shop) != bool(b.shop)) return false;
    a.shop = b.shop;
    return a == b;
}

}  // namespace hoopwright
