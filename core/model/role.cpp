#include "core/model/role.h"

#include <cctype>

namespace hoopwright {

namespace {

Role made(std::string_view word, std::string_view name, Place place, std::string_view purpose) {
    return {std::string(word), std::string(name), place, std::string(purpose)};
}

std::vector<Role> hoopsAndSides() {
    const Place place = Place::hoops_and_sides;
    return {
        made("main_hoop", "Main hoop", place,
             "One bent tube behind the seats, from floor to roof and down again, that everything else is "
             "built on."),
        made("front_hoop", "Front hoop", place,
             "One bent tube that follows the windshield pillars and the front of the roof, so the front "
             "holds up too."),
        made("side_bar", "Side bar", place,
             "Runs from the main hoop along the roof edge and down the windshield pillar, and keeps the side "
             "of the roof "
             "off your head."),
        made("side_hoop", "Side hoop", place,
             "One bent tube along one side, from the floor behind the seats up, along the roof edge and down "
             "the windshield pillar to the floor."),
        made("pillar_brace", "Pillar brace", place,
             "Stiffens the bend at the windshield pillar, where a knock on the front corner of the roof "
             "would fold it."),
    };
}

std::vector<Role> acrossTheHoop() {
    const Place place = Place::across_the_hoop;
    return {
        made(
            "hoop_diagonal", "Hoop diagonal", place,
            "Crosses the main hoop from a top corner to the opposite foot, so it cannot lean over sideways."),
        made("belt_bar", "Belt bar", place,
             "Carries the shoulder belts at the right height behind you and ties the two legs of the hoop "
             "together."),
        made("seat_bar", "Seat bar", place,
             "Holds the seat to the cage, so that you move with the cage and not with the floor."),
    };
}

std::vector<Role> roof() {
    const Place place = Place::roof;
    return {
        made("windshield_bar", "Windshield bar", place,
             "Joins the two sides above the windshield, where the roof is most often pushed in."),
        made("cross_bar", "Cross bar", place,
             "Joins the tops of the two side hoops behind the seats, so that they stand up together."),
        made("roof_rail_bar", "Roof rail bar", place,
             "Joins the tops of main hoop and front hoop along the roof edge."),
        made("dash_bar", "Dash bar", place,
             "Joins the two sides at the dash, keeps the pillars apart and protects your legs in a hit from "
             "the side."),
        made("roof_bar", "Roof bar", place, "Runs over your head and gives the roof something to rest on."),
        made("roof_diagonal", "Roof diagonal", place,
             "Crosses the roof from corner to corner, so that the opening above you keeps its shape."),
    };
}

std::vector<Role> doorsAndSills() {
    const Place place = Place::doors_and_sills;
    return {
        made("door_bar", "Door bar", place, "Stands between you and whatever comes through the door."),
        made("sill_bar", "Sill bar", place,
             "Runs along the sill, spreads a hit on the door to both hoops and stiffens the floor."),
    };
}

std::vector<Role> toTheBack() {
    const Place place = Place::to_the_back;
    return {
        made("rear_brace", "Rear brace", place,
             "Props the top of the main hoop from behind, so that it cannot fold back or forward."),
        made("rear_diagonal", "Rear diagonal", place,
             "Crosses between the rear braces, so that the back of the cage cannot twist."),
    };
}

std::vector<Role> feetAndReturns() {
    const Place place = Place::feet_and_returns;
    return {
        made("frame_return", "Frame return", place,
             "Takes the load of the cage down into the frame of the car, not only into the floor."),
        made("floor_bar", "Floor bar", place,
             "Joins the feet of the cage along or across the floor, so that they stay put."),
        made("gusset_tube", "Gusset tube", place,
             "A short tube across a corner that keeps the corner from opening or closing."),
    };
}

std::string spoken(std::string_view word) {
    std::string name(word);
    for (char& c : name) {
        if (c == '_') c = ' ';
    }
    if (!name.empty()) name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
    return name;
}

}  // namespace

std::string_view placeName(Place place) {
    switch (place) {
        case Place::hoops_and_sides:
            return "Hoops and sides";
        case Place::across_the_hoop:
            return "Across the hoop";
        case Place::roof:
            return "Roof and front";
        case Place::doors_and_sills:
            return "Doors and sills";
        case Place::to_the_back:
            return "To the back";
        case Place::feet_and_returns:
            return "Feet and returns";
        case Place::other:
            break;
    }
    return "Other bars";
}

const std::vector<Role>& knownRoles() {
    // Made once and never changed; a table, not state.
    static const std::vector<Role> roles = [] {
        std::vector<Role> all;
        for (const auto& group :
             {hoopsAndSides(), acrossTheHoop(), roof(), doorsAndSills(), toTheBack(), feetAndReturns()}) {
            all.insert(all.end(), group.begin(), group.end());
        }
        return all;
    }();
    return roles;
}

Role roleOf(std::string_view word) {
    for (const Role& role : knownRoles()) {
        if (role.word == word) return role;
    }
    return {std::string(word), spoken(word), Place::other, ""};
}

std::string_view sideWord(Side side) {
    switch (side) {
        case Side::left:
            return "left";
        case Side::right:
            return "right";
        case Side::centre:
            break;
    }
    return "";
}

}  // namespace hoopwright
