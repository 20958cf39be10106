#include <algorithm>

#include "core/model/resolve.h"
#include "core/starter/builder.h"

namespace hoopwright {
namespace {

Expected<StarterCage> makeWith(const Job& site, const StarterWish& wish, const starting::CarPlaces& places) {
    const Expected<std::vector<std::string>> options = optionsOf(wish);
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
    return starting::CageBuilder(site, wish, *starterNamed(wish.starter), places, *options).build();
}

double mass(const Job& site, const CageLayout& cage) {
    Job job = site;
    job.cage = cage;
    const CageTotals totals = resolve(job).totals;
    return totals.tube_mass_kg + totals.plate_mass_kg;
}

}  // namespace

StarterMaker::StarterMaker(const Job& site)
    : site_(site), places_(std::make_unique<starting::CarPlaces>(site.car, site.scan_meshes)) {}
StarterMaker::~StarterMaker() = default;

Expected<StarterCage> StarterMaker::make(const StarterWish& wish) const {
    return makeWith(site_, wish, *places_);
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

Expected<std::vector<OptionMass>> StarterMaker::optionMasses(const StarterWish& wish) const {
    const Expected<StarterCage> cage = make(wish);
    if (!cage) return Reason{cage.reason()};
    std::vector<OptionMass> masses;
    for (const std::string& id : starterNamed(wish.starter)->may) {
        OptionMass one;
        one.option = id;
        one.has = std::ranges::find(cage->options, id) != cage->options.end();
        const Expected<StarterCage> with = make(withOption(wish, id)),
                                    without = make(withoutOption(wish, id));
        if (!with || !without) {
            one.why_not = with ? without.reason() : with.reason();
        } else {
            one.adds_kg = mass(site_, with->cage) - mass(site_, without->cage);
            for (const std::string& note : with->notes)
                if (std::ranges::find(without->notes, note) == without->notes.end()) one.why_not = note;
        }
        masses.push_back(std::move(one));
    }
    return masses;
}

}  // namespace hoopwright
