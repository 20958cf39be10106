#include "core/model/shop_book.h"

#include <algorithm>

namespace hoopwright {

Vec3 Bender::up() const {
    switch (swings) {
        case Swings::left:
            return Vec3::UnitZ();
        case Swings::right:
            return -Vec3::UnitZ();
        case Swings::up:
            break;
    }
    return Vec3::UnitY();
}

const Bender* ShopBook::benderFor(std::string_view die) const {
    const auto found = std::ranges::find_if(benders, [&](const Bender& bender) {
        return bender.dies.empty() || std::ranges::find(bender.dies, die) != bender.dies.end();
    });
    return found == benders.end() ? nullptr : &*found;
}

}  // namespace hoopwright
