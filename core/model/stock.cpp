#include "core/model/stock.h"

#include <algorithm>
#include <cmath>

namespace hoopwright {

namespace {

// Inch tube written in mm is rounded in the second decimal; 0.05 mm tells every trade size from its
// neighbour.
constexpr double kSameOd_mm = 0.05;
// Die radii are quoted to the millimetre or the eighth of an inch.
constexpr double kSameRadius_mm = 0.5;

template <class T>
const T* byId(const std::vector<T>& all, std::string_view id) {
    const auto it = std::find_if(all.begin(), all.end(), [&](const T& one) { return one.id == id; });
    return it == all.end() ? nullptr : &*it;
}

}  // namespace

std::string_view formWord(TubeForm form) {
    switch (form) {
        case TubeForm::drawn_over_mandrel:
            return "drawn_over_mandrel";
        case TubeForm::welded:
            return "welded";
        case TubeForm::seamless:
            break;
    }
    return "seamless";
}

const TubeStock* StockList::find(std::string_view id) const {
    return byId(tubes, id);
}

const Material* StockList::material(std::string_view id) const {
    return byId(materials, id);
}

const Die* DieList::forOd(double od_mm) const {
    const auto it = std::find_if(dies.begin(), dies.end(),
                                 [&](const Die& die) { return std::abs(die.od_mm - od_mm) <= kSameOd_mm; });
    return it == dies.end() ? nullptr : &*it;
}

const Die* DieList::forBend(double od_mm, double radius_mm) const {
    const auto it = std::find_if(dies.begin(), dies.end(), [&](const Die& die) {
        return std::abs(die.od_mm - od_mm) <= kSameOd_mm &&
               std::abs(die.radius_mm - radius_mm) <= kSameRadius_mm;
    });
    return it == dies.end() ? nullptr : &*it;
}

const Die* DieList::find(std::string_view id) const {
    return byId(dies, id);
}

}  // namespace hoopwright
