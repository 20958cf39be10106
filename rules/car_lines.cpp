#include "rules/car_lines.h"

namespace hoopwright {

std::vector<std::vector<Vec3>> carLines(const Car& car, const std::string& name) {
    std::vector<std::vector<Vec3>> out;
    for (const std::string& one : {name, name + ".left", name + ".right"}) {
        const CarLine* line = car.line(one);
        if (!line) continue;
        out.push_back(line->points);
        if (line->closed && !line->points.empty()) out.back().push_back(line->points.front());
        if (!car.standsForBoth(*line)) continue;
        out.push_back(out.back());
        for (Vec3& p : out.back()) p = mirrored(p);
    }
    return out;
}

}  // namespace hoopwright
