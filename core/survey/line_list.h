// Which lines and surfaces a car of a kind should have before a cage is drawn into it, and which are missing.
#pragma once

#include <string>
#include <vector>

#include "core/model/car.h"

namespace hoopwright {

/// One line, surface or rail a cage builder wants to see. The list is common practice, no source.
struct WantedLine {
    enum class Kind { line, skin, rail };  ///< skin: the car's cross-sections; rail: with its section
    std::string name;                      ///< as a line or rail is called, without a side: "roof_rail"
    bool sided = false;
    Kind kind = Kind::line;
    std::string title;  ///< "Roof rails"
    std::string why;    ///< what it is wanted for
};
std::vector<WantedLine> wantedLines(Car::Body body, Car::Frame frame);

struct LineState {
    enum class State {
        there,
        stands_for_both,  ///< one side, and the car is said to be symmetric
        one_side,         ///< one side of two
        missing
    };
    WantedLine wanted;
    State state = State::missing;
    std::string missing_side;  ///< "left" or "right" where one is
};
/// In the order of wantedLines().
std::vector<LineState> lineStates(const Car& car);
/// "there", "stands for both sides", "left is missing", "missing".
std::string stateWords(const LineState& state);

}  // namespace hoopwright
