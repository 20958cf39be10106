#include "core/model/cage_geometry.h"

namespace hoopwright {

namespace {

template <class T>
int indexOf(const std::vector<T>& all, std::string_view id) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].id == id) return static_cast<int>(i);
    }
    return -1;
}

}  // namespace

int CageGeometry::member(std::string_view id) const {
    return indexOf(members, id);
}

int CageGeometry::plate(std::string_view id) const {
    return indexOf(plates, id);
}

}  // namespace hoopwright
