#include <algorithm>

#include "core/starter/builder.h"

namespace hoopwright {
namespace {

Expected<StarterCage> makeWith(const Job& site, const StarterWish& wish, const starting::CarPlaces& places,
                               starting::BarFitter& fitter, bool roughly) {
    const Expected<std::vector<std::string>> options = optionsOf(wish, site.car);
    if (!options) return Reason{options.reason()};
    if (!places.missing().empty()) return Reason{places.missing()};
    if (site.drivers.empty())
        return Reason{"A starter is laid out around the driver, and there is none. Add one first."};
    if (!usualTube(site.stock, site.dies))
        return Reason{"None of the tubes in the stock list has a die that bends it. Add the die or a tube."};
    for (const auto& [role, id] : wish.tubes) {
        if (!site.stock.find(id))
            return Reason{"The tube " + id + " wanted for " + role + " is not in the stock list."};
    }
    return starting::CageBuilder(site, wish, *starterNamed(wish.starter), places, fitter, *options, roughly)
        .build();
}

}  // namespace

StarterMaker::StarterMaker(const Job& site)
    : site_(site),
      places_(std::make_unique<starting::CarPlaces>(site.car, site.scan_meshes)),
      fitter_(std::make_unique<starting::BarFitter>(*places_)) {}
StarterMaker::~StarterMaker() = default;

Expected<StarterCage> StarterMaker::make(const StarterWish& wish) {
    return makeWith(site_, wish, *places_, *fitter_, false);
}

Expected<StarterCage> StarterMaker::makeRoughly(const StarterWish& wish) {
    return makeWith(site_, wish, *places_, *fitter_, true);
}

StarterWish withOption(StarterWish wish, const std::string& option) {
    std::erase(wish.without, option);
    std::erase(wish.with, option);
    wish.with.push_back(option);  // the last of a group holds
    return wish;
}

StarterWish withoutOption(StarterWish wish, const std::string& option) {
    const StarterOption* one = starterOptionNamed(option);
    for (const StarterOption& other : starterOptions())
        if (other.id == option || (one && !one->group.empty() && other.group == one->group))
            wish.without.push_back(other.id);
    return wish;
}

}  // namespace hoopwright
