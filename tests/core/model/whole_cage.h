// A whole cage of sixty tubes, for tests and benchmarks.
#pragma once

#include "tests/core/model/small_cage.h"

namespace hoopwright::testing {

inline Member pairBar(std::string id, std::vector<MemberPoint> path) {
    return pair(std::move(id), std::move(path), "38x2.5");
}
inline Member crossBar(std::string id, std::vector<MemberPoint> path) {
    return bar(std::move(id), std::move(path), "38x2.5");
}

/// Both ends on the same host at one height, left to right.
inline Member tie(std::string id, const std::string& host, double z) {
    return crossBar(std::move(id), {onHeight(host, z, Side::left), onHeight(host, z, Side::right)});
}

/// Five rings of a frame one behind the other, tied along the sides, the roof and the floor, with diagonals:
/// not a car's cage, but with as many tubes, bends, landings and nodes as a large one.
inline Job wholeCage() {
    Job job = emptyJob();
    auto& members = job.cage.members;
    const int rings = 5;
    for (int i = 0; i < rings; ++i) {
        const double x = -1200.0 + 700 * i, tall = 950.0 - 20 * i;
        const std::string hoop = "hoop" + std::to_string(i);
        job.cage.plates.push_back(footPlate("foot" + std::to_string(i), x, 640, 0));
        members.push_back(bar(hoop, {onPlate("foot" + std::to_string(i) + ".left"), at(x, 620, tall),
                                     at(x, -620, tall), onPlate("foot" + std::to_string(i) + ".right")}));
    }
    for (int i = 0; i < rings; ++i) {
        const std::string hoop = "hoop" + std::to_string(i), n = std::to_string(i);
        members.push_back(tie("tie" + n, hoop, 300));
        members.push_back(crossBar(
            "prop" + n, {onBy(hoop, Landing::By::across_y, 0), onBy("tie" + n, Landing::By::fraction, 0.5)}));
        members.push_back(pairBar(
            "strut" + n, {onBy("tie" + n, Landing::By::distance, 300), onHeight(hoop, 60, Side::left)}));
    }
    for (int i = 0; i + 1 < rings; ++i) {
        const std::string a = "hoop" + std::to_string(i), b = "hoop" + std::to_string(i + 1),
                          n = std::to_string(i);
        members.push_back(pairBar("side" + n, {onHeight(a, 780, Side::left), onHeight(b, 780, Side::left)}));
        members.push_back(pairBar("door" + n, {onHeight(a, 450, Side::left), onHeight(b, 450, Side::left)}));
        members.push_back(pairBar("sill" + n, {onHeight(a, 120, Side::left), onHeight(b, 120, Side::left)}));
        members.push_back(pairBar("brace" + n, {onHeight(a, 180, Side::left), onHeight(b, 390, Side::left)}));
        members.push_back(crossBar(
            "roof" + n, {onBy(a, Landing::By::across_y, 200), onBy(b, Landing::By::across_y, -200)}));
    }
    return job;
}

}  // namespace hoopwright::testing
