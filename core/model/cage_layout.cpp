#include "core/model/cage_layout.h"

#include <algorithm>

namespace hoopwright {

const Member* CageLayout::member(std::string_view id) const {
    const auto it =
        std::find_if(members.begin(), members.end(), [&](const Member& one) { return one.id == id; });
    return it == members.end() ? nullptr : &*it;
}

const Plate* CageLayout::plate(std::string_view id) const {
    const auto it =
        std::find_if(plates.begin(), plates.end(), [&](const Plate& one) { return one.id == id; });
    return it == plates.end() ? nullptr : &*it;
}

}  // namespace hoopwright
