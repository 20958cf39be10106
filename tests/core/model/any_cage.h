// Cages that can be built, drawn from a seed: a hoop, bars between its legs and on each other, posts and
// props.
#pragma once

#include <random>

#include "tests/core/model/small_cage.h"

namespace hoopwright::testing {

class AnyCage {
public:
    explicit AnyCage(unsigned seed) : random_(seed) {}
    /// No pairs, nothing named by a side, each end on something or free.
    Job job() {
        Job job = emptyJob();
        auto& members = job.cage.members;
        job.cage.plates = {plate("foot_a", 600), plate("foot_b", -600)};
        const double x = number(-80, 80), tall = number(850, 1050), half = number(520, 640);
        members.push_back(bar("hoop", {onPlate("foot_a", number(-15, 15), number(-15, 15)), at(x, half, tall),
                                       at(x + number(-20, 20), -half, tall), onPlate("foot_b")}));
        const double low = number(80, 180), middle = number(330, 420), high = number(540, 640);
        members.push_back(cross("low_bar", low));
        members.push_back(cross("belt_bar", high));
        members.push_back(
            bar("diagonal", {onHeight("hoop", high + 60, Side::left), onHeight("hoop", middle, Side::right)},
                "38x2.5"));
        members.push_back(bar("post",
                              {onBy("low_bar", Landing::By::fraction, number(0.3, 0.45)),
                               onBy("belt_bar", Landing::By::across_y, number(60, 140))},
                              "38x2.5"));
        members.push_back(bar("brace",
                              {onHeight("hoop", number(700, 760), Side::left),
                               at(number(-1000, -700), number(380, 520), number(80, 250))},
                              "38x2.5"));
        members.push_back(bar("side_bar", {onHeight("hoop", number(640, 690), Side::right),
                                           at(number(600, 800), number(-620, -560), number(600, 660)),
                                           at(number(1000, 1200), number(-700, -640), number(-100, 50))}));
        members.push_back(bar("tie",
                              {onBy("side_bar", Landing::By::station_x, number(250, 420)),
                               onHeight("hoop", number(230, 300), Side::right)},
                              "38x2.5"));
        return job;
    }

private:
    double number(double from, double to) {
        // By hand, as the library's own distributions differ between libraries.
        return from + (to - from) * static_cast<double>(random_()) / 4294967296.0;
    }
    static Plate plate(std::string id, double y) { return footPlate(std::move(id), 0, y, 0, false); }
    static Member cross(std::string id, double z) {
        return bar(std::move(id), {onHeight("hoop", z, Side::left), onHeight("hoop", z, Side::right)},
                   "38x2.5");
    }
    std::mt19937 random_;
};

}  // namespace hoopwright::testing
