// The one list of quantities.
#include <iterator>

#include "rules/quantity.h"

namespace hoopwright {
namespace {

std::vector<Quantity> gather() {
    std::vector<Quantity> out;
    for (auto part :
         {tubeQuantities,   bendQuantities,      routeQuantities,    angleQuantities, positionQuantities,
          endQuantities,    shareQuantities,     likenessQuantities, skinQuantities,  jointQuantities,
          pairQuantities,   planeQuantities,     plateQuantities,    boltQuantities,  gussetQuantities,
          sheetQuantities,  clearanceQuantities, helmetQuantities,   beltQuantities,  viewQuantities,
          personQuantities, openingQuantities,   builtQuantities,    cageQuantities}) {
        std::vector<Quantity> some = part();
        out.insert(out.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
    }
    return out;
}

}  // namespace

const std::vector<Quantity>& allQuantities() {
    static const std::vector<Quantity> all = gather();
    return all;
}

int quantityIndex(std::string_view name) {
    const auto& all = allQuantities();
    for (std::size_t i = 0; i < all.size(); ++i)
        if (all[i].info.name == name) return static_cast<int>(i);
    return -1;
}

const std::vector<QuantityInfo>& quantities() {
    static const std::vector<QuantityInfo> infos = [] {
        std::vector<QuantityInfo> out;
        for (const Quantity& quantity : allQuantities()) out.push_back(quantity.info);
        return out;
    }();
    return infos;
}

std::string_view kindWord(SubjectKind kind) {
    switch (kind) {
        case SubjectKind::member:
            return "member";
        case SubjectKind::joint:
            return "joint";
        case SubjectKind::pair:
            return "pair";
        case SubjectKind::plate:
            return "plate";
        case SubjectKind::gusset:
            return "gusset";
        case SubjectKind::driver:
            return "driver";
        case SubjectKind::cage:
            return "cage";
    }
    return "";
}

}  // namespace hoopwright
