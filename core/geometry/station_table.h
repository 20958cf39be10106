// Cosines and sines of the stations round a tube.
#pragma once

#include <cstddef>
#include <vector>

namespace hoopwright {

struct Turn {
    double cos = 1;
    double sin = 0;
    Turn() = default;
    explicit Turn(double phi_rad);
    Turn(double c, double s) : cos(c), sin(s) {}
    Turn plus(const Turn& other) const {
        return {cos * other.cos - sin * other.sin, sin * other.cos + cos * other.sin};
    }
    Turn less(const Turn& other) const {
        return {cos * other.cos + sin * other.sin, sin * other.cos - cos * other.sin};
    }
};

struct StationTable {
    std::vector<double> cos, sin;  ///< at 2 pi i / n
    std::size_t size() const { return cos.size(); }
    Turn at(std::size_t i) const { return {cos[i], sin[i]}; }
};

/// Counts that divide 720 are read off a table made once. @pre n >= 1
StationTable stationTable(int n);

}  // namespace hoopwright
