// What a bar is for. A role is a word; the common ones have a plain name, a place in the car and a purpose.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hoopwright {

/// Where in the car a bar is: how bars are grouped in lists and coloured in pictures.
enum class Place {
    hoops_and_sides,
    across_the_hoop,
    roof,
    doors_and_sills,
    to_the_back,
    feet_and_returns,
    other
};
std::string_view placeName(Place place);  ///< "Hoops and sides"

struct Role {
    std::string word;  ///< "belt_bar": what files say
    std::string name;  ///< "Belt bar": what people read
    Place place = Place::other;
    std::string purpose;  ///< one sentence, for the customer
};

/// main_hoop front_hoop side_hoop side_bar cross_bar roof_rail_bar windshield_bar dash_bar roof_diagonal
/// roof_bar hoop_diagonal belt_bar seat_bar door_bar sill_bar rear_brace rear_diagonal pillar_brace
/// frame_return floor_bar gusset_tube. Trade terms; common practice, no source.
const std::vector<Role>& knownRoles();
/// The known role, or one made from the word itself ("nose_bar" -> "Nose bar", Place::other).
Role roleOf(std::string_view word);

enum class Side { centre, left, right };
/// "left", "right", "" for centre.
std::string_view sideWord(Side side);

}  // namespace hoopwright
