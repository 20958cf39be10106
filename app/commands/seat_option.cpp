#include "app/commands/seat_option.h"

#include <algorithm>
#include <array>
#include <utility>

namespace hoopwright {
namespace {

struct Part {
    const char* word;
    Dimension dimension;
    double SeatMove::*value;
    bool given = false;
};

const Unit& bareUnitOf(Dimension dimension, LengthUnit unit) {
    static const Unit kInch = *unitNamed("in"), kDegree = *unitNamed("deg");
    if (dimension == Dimension::angle) return kDegree;
    return unit == LengthUnit::in ? kInch : baseUnit(Dimension::length);
}

}  // namespace

Expected<SeatMove> readSeatMove(const std::string& text, LengthUnit unit) {
    std::array<Part, 3> parts = {{{"slide", Dimension::length, &SeatMove::slide_mm},
                                  {"lift", Dimension::length, &SeatMove::lift_mm},
                                  {"recline", Dimension::angle, &SeatMove::recline_rad}}};
    SeatMove move;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t to = std::min(text.find(',', from), text.size());
        const std::string item = text.substr(from, to - from);
        from = to + 1;
        const std::size_t equals = item.find('=');
        const std::string word = item.substr(0, std::min(equals, item.size()));
        Part* part = nullptr;
        for (Part& one : parts)
            if (word == one.word) part = &one;
        if (!part || equals == std::string::npos)
            return Reason{"--seat: '" + item + "' is no move: write any of slide=20,lift=-10,recline=2"};
        if (part->given) return Reason{"--seat: " + word + " is given twice"};
        part->given = true;
        const Expected<double> value =
            readMeasure(item.substr(equals + 1), bareUnitOf(part->dimension, unit));
        if (!value) return Reason{"--seat: " + word + ": " + value.reason()};
        move.*part->value = *value;
    }
    return move;
}

}  // namespace hoopwright
