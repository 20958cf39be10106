// Whole cages to start from, laid out in a measured car around its drivers.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/expected.h"
#include "core/fit/bar_fit.h"
#include "core/model/cage_layout.h"

namespace hoopwright {

/// What a cage is built up from. Trade terms; common practice, no source.
enum class CageBase {
    hoop,       ///< a main hoop alone
    side_bars,  ///< a main hoop and a side bar from it along each roof edge and pillar to the floor
    two_hoops,  ///< a main hoop and a front hoop, joined along the roof edges
    side_hoops  ///< a hoop along each side, joined across
};
std::string_view baseWord(CageBase base);  ///< "hoop", "side_bars", ...

/// Something a cage may have or not. Of one group a cage has at most one.
struct StarterOption {
    std::string id;     ///< "door_cross"
    std::string group;  ///< "doors"; empty: stands alone
    std::string name;   ///< "Door cross"
    std::string about;  ///< one sentence
};
std::span<const StarterOption> starterOptions();
const StarterOption* starterOptionNamed(std::string_view id);

struct Starter {
    std::string id;    ///< "full_side_bars"
    std::string name;  ///< "Full cage on side bars"
    std::string about;
    CageBase base = CageBase::hoop;
    std::vector<std::string> usual;  ///< options it has unless said otherwise
    std::vector<std::string> may;    ///< every option it can have
};
std::span<const Starter> starters();
const Starter* starterNamed(std::string_view id);

/// In car axes and mm.
struct StarterWish {
    std::string starter;
    std::vector<std::string> with, without;    ///< options against the usual ones
    std::map<std::string, std::string> tubes;  ///< TubeStock::id by role; other roles: usualTube()
    double least_gap_mm = kUsualGap_mm;        ///< from hoops and side bars to the skin
    double helmet_air_mm = 60;                 ///< at least, from the helmets back to the hoop's tube
    std::optional<double> hoop_x_mm;  ///< nothing: as near to the door opening as drivers and foot allow
    double padding_mm = 20;           ///< on bars near heads
};

/// How a hoop or side bar was fitted to the skin.
struct FittedBar {
    std::string member;            ///< of a pair the left one was fitted
    FitGoodness gap;               ///< zeros where the car has no skin
    std::vector<FitLimit> limits;  ///< what keeps it from going nearer
};

struct StarterCage {
    CageLayout cage;
    std::vector<FittedBar> fitted;
    std::vector<std::string> options;  ///< those it has
    std::vector<std::string> notes;    ///< sentences: what of the wish this car has no place for
};

/// The options a wish comes to in a car, in the order of starterOptions(). On a car with a frame under its
/// body, legs to the front of the hoop are tied to it unless the wish says not to. Refuses an option or
/// starter that is none, and one this starter cannot have.
Expected<std::vector<std::string>> optionsOf(const StarterWish& wish, const Car& car);

/// The wish with an option in place of its group's, or without it and its group.
StarterWish withOption(StarterWish wish, const std::string& option);
StarterWish withoutOption(StarterWish wish, const std::string& option);

/// The first tube of the list that can be bent with the dies: a rack names its staple first. Null: none.
const TubeStock* usualTube(const StockList& stock, const DieList& dies);

namespace starting {
class CarPlaces;
class BarFitter;
}  // namespace starting

/// Makes starters in one car; what it knows of the skin and the bars it has fitted it keeps. The site must
/// outlive it. One thread at a time.
class StarterMaker {
public:
    explicit StarterMaker(const Job& site);
    ~StarterMaker();
    /// The layout of the site with members, plates and gussets of a starter in place of its own; name, files,
    /// unit and entry stay. Needs a driver, tube, and these points of the car, left: sill_b, sill_a,
    /// b_pillar_top, windshield_top, a_pillar_foot; and a closed line of floor at the feet. Refuses with a
    /// sentence that says what is missing or not known.
    Expected<StarterCage> make(const StarterWish& wish);
    /// The same bars, hoops and side bars not fitted to the skin: at once, for questions that do not ask
    /// where.
    Expected<StarterCage> makeRoughly(const StarterWish& wish);

private:
    const Job& site_;
    std::unique_ptr<const starting::CarPlaces> places_;
    std::unique_ptr<starting::BarFitter> fitter_;
};

}  // namespace hoopwright
