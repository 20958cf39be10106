// The layouts and what they may have.
#include <algorithm>

#include "core/starter/starter.h"

namespace hoopwright {
namespace {

using Ids = std::vector<std::string>;

std::vector<StarterOption> listOptions() {
    return {
        {"hoop_diagonal", "hoop", "Hoop diagonal",
         "One bar from the hoop's top corner over the driver to the foot of the other leg."},
        {"hoop_cross", "hoop", "Hoop cross", "Two diagonals in the hoop; the second is cut to the first."},
        {"belt_bar", "", "Belt bar",
         "A bar across the hoop at the height the drivers' shoulders ask for, cut to the diagonal."},
        {"roof_diagonal", "roof", "Roof diagonal",
         "One bar across the roof, from over the driver to the other windshield corner."},
        {"roof_vee", "roof", "Roof vee",
         "Two roof diagonals from the hoop's corners to the middle of the front."},
        {"roof_cross", "roof", "Roof cross", "Two roof diagonals; the second is cut to the first."},
        {"roof_bars", "roof", "Roof bars", "Two bars fore and aft, beside the heads."},
        {"dash_bar", "", "Dash bar", "A bar across at the dash."},
        {"rear_diagonal", "rear", "Rear diagonal", "One bar across between the rear braces."},
        {"rear_cross", "rear", "Rear cross",
         "Two diagonals between the rear braces; the second is cut to the first."},
        {"sill_bars", "", "Sill bars", "A bar along each sill, from leg to leg."},
        {"door_bar", "doors", "Single door bar", "One bar across each door opening."},
        {"door_cross", "doors", "Door cross",
         "Two bars that cross in each door opening; the second is cut to the first."},
        {"door_pair", "doors", "Door pair",
         "Two bars one over the other in each door opening, with a post between."},
        {"seat_bars", "", "Seat bars",
         "Two bars under the driver's seat, from the sill bar to the tunnel. They bring the sill bars with "
         "them."},
        {"frame_ties", "", "Frame ties",
         "Bars from the legs' feet through the floor to the rails of a frame under it."},
        {"front_returns", "", "Front returns", "Bars from the front legs through the firewall to the rails."},
        {"gussets", "", "Gussets", "Sheet in the corners at the windshield and in the doors."},
    };
}

std::vector<Starter> listStarters() {
    const Ids hoop_may{"hoop_diagonal", "hoop_cross", "belt_bar",
                       "rear_diagonal", "rear_cross", "frame_ties"};
    Ids whole;
    for (const StarterOption& option : listOptions()) whole.push_back(option.id);
    const Ids six{"hoop_diagonal", "belt_bar", "door_bar"};
    const Ids full{"hoop_diagonal", "belt_bar",   "roof_diagonal", "dash_bar", "rear_cross",
                   "sill_bars",     "door_cross", "seat_bars",     "gussets"};
    const Ids tied{"hoop_diagonal", "belt_bar",  "roof_vee",   "dash_bar",      "rear_diagonal", "sill_bars",
                   "door_pair",     "seat_bars", "frame_ties", "front_returns", "gussets"};
    return {
        {"hoop_and_braces",
         "Hoop with rear braces",
         "A main hoop, two braces to the rear: four feet. The least that is a cage at all.",
         CageBase::hoop,
         {"hoop_diagonal", "belt_bar"},
         hoop_may},
        {"braced_hoop",
         "Hoop braced to front and rear",
         "A main hoop, two braces to the rear and a bar through each door opening down to the floor: six "
         "feet.",
         CageBase::hoop,
         {"hoop_diagonal", "belt_bar", "door_bar", "rear_diagonal"},
         [&] {
             Ids may = hoop_may;
             may.push_back("door_bar");
             return may;
         }()},
        {"six_side_bars", "Six feet on side bars",
         "A main hoop, side bars along roof and pillars, rear braces: the frame with one door bar a side.",
         CageBase::side_bars, six, whole},
        {"full_side_bars", "Full cage on side bars",
         "A main hoop and side bars with every opening crossed: doors, roof, hoop and rear.",
         CageBase::side_bars, full, whole},
        {"tied_side_bars", "Full cage on side bars, tied to the frame",
         "A full cage whose legs go on to the rails, for a body on a frame.", CageBase::side_bars, tied,
         whole},
        {"six_two_hoops", "Six feet on two hoops",
         "A main hoop and a front hoop, joined along the roof, with rear braces and one door bar a side.",
         CageBase::two_hoops, six, whole},
        {"full_two_hoops", "Full cage on two hoops",
         "A main hoop and a front hoop with every opening crossed: doors, roof, hoop and rear.",
         CageBase::two_hoops, full, whole},
        {"six_side_hoops", "Six feet on side hoops",
         "A hoop along each side, joined across at the windshield and behind the seats, with rear braces.",
         CageBase::side_hoops, six, whole},
        {"full_side_hoops", "Full cage on side hoops",
         "A hoop along each side with every opening crossed: doors, roof, rear legs and rear.",
         CageBase::side_hoops, full, whole},
    };
}

template <class T>
const T* named(std::span<const T> all, std::string_view id) {
    const auto at = std::ranges::find(all, id, &T::id);
    return at == all.end() ? nullptr : &*at;
}

template <class T>
std::string listed(std::span<const T> all) {
    std::string text;
    for (const T& one : all) text += (text.empty() ? "" : ", ") + one.id;
    return text;
}

}  // namespace

std::string_view baseWord(CageBase base) {
    switch (base) {
        case CageBase::hoop:
            return "hoop";
        case CageBase::side_bars:
            return "side_bars";
        case CageBase::two_hoops:
            return "two_hoops";
        case CageBase::side_hoops:
            break;
    }
    return "side_hoops";
}

std::span<const StarterOption> starterOptions() {
    static const std::vector<StarterOption> kAll = listOptions();
    return kAll;
}

const StarterOption* starterOptionNamed(std::string_view id) {
    return named(starterOptions(), id);
}

std::span<const Starter> starters() {
    static const std::vector<Starter> kAll = listStarters();
    return kAll;
}

const Starter* starterNamed(std::string_view id) {
    return named(starters(), id);
}

Expected<std::vector<std::string>> optionsOf(const StarterWish& wish, const Car& car) {
    const Starter* starter = starterNamed(wish.starter);
    if (!starter)
        return Reason{"'" + wish.starter + "' is no starter; there are " + listed(starters()) + "."};
    for (const auto* list : {&wish.with, &wish.without}) {
        for (const std::string& id : *list) {
            if (!starterOptionNamed(id))
                return Reason{"'" + id + "' is no option of a starter; there are " +
                              listed(starterOptions()) + "."};
        }
    }
    Ids has = starter->usual;
    // The floor of a body that is bolted on is no place for a cage to end. Common practice, no source.
    if (car.frame != Car::Frame::unibody && starter->base != CageBase::hoop && !car.rails.empty())
        has.push_back("frame_ties");
    for (const std::string& id : wish.with) {
        if (std::ranges::find(starter->may, id) == starter->may.end())
            return Reason{starter->name + " cannot have " + id + "; choose a starter with more bars."};
        const std::string& group = starterOptionNamed(id)->group;
        std::erase_if(has, [&](const std::string& other) {
            return other == id || (!group.empty() && starterOptionNamed(other)->group == group);
        });
        has.push_back(id);
    }
    for (const std::string& id : wish.without) std::erase(has, id);
    const auto holds = [](const Ids& list, const char* id) {
        return std::ranges::find(list, id) != list.end();
    };
    if (holds(has, "seat_bars") && !holds(wish.without, "sill_bars")) has.push_back("sill_bars");
    Ids ordered;
    for (const StarterOption& option : starterOptions())
        if (std::ranges::find(has, option.id) != has.end()) ordered.push_back(option.id);
    return ordered;
}

const TubeStock* usualTube(const StockList& stock, const DieList& dies) {
    for (const TubeStock& tube : stock.tubes)
        if (tube.section.valid() && dies.forOd(tube.section.od_mm)) return &tube;
    return nullptr;
}

}  // namespace hoopwright
