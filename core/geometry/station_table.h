// Cosines and sines of the stations round a tube.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace hoopwright {

struct Turn {
    double cos = 1;
    double sin = 0;
    Turn() = default;
    explicit Turn(double phi_rad);
    Turn(double c, double s) : cos(c), sin(s) {}
    /// The same for an angle that is likely to be small; quick up to 0.1.
    static Turn little(double phi_rad);
    Turn plus(const Turn& other) const {
        return {cos * other.cos - sin * other.sin, sin * other.cos + cos * other.sin};
    }
    Turn less(const Turn& other) const {
        return {cos * other.cos + sin * other.sin, sin * other.cos - cos * other.sin};
    }
};

/// Of the angles 2 pi i / n.
class StationTable {
public:
    /// The usual counts (40, 90, 180, 360, 720) are worked out once for all. @pre n >= 1
    explicit StationTable(int n);
    StationTable(const StationTable&) = delete;
    StationTable& operator=(const StationTable&) = delete;
    std::size_t size() const { return cos_.size(); }
    Turn at(std::size_t i) const { return {cos_[i], sin_[i]}; }
    std::span<const double> cos() const { return cos_; }
    std::span<const double> sin() const { return sin_; }

private:
    struct Columns {
        std::vector<double> cos, sin;
        Columns() = default;
        explicit Columns(int n);
    };
    template <int n>
    static const Columns& shared();

    Columns own_;  ///< empty for the usual counts
    std::span<const double> cos_, sin_;
};

}  // namespace hoopwright
