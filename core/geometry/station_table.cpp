#include "core/geometry/station_table.h"

#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

/// Counts that divide it have their stations at the very same angles.
constexpr int kFinest = 720;

}  // namespace

Turn::Turn(double phi_rad) : cos(std::cos(phi_rad)), sin(std::sin(phi_rad)) {}

Turn Turn::little(double phi_rad) {
    if (std::abs(phi_rad) > 0.1) return Turn(phi_rad);
    // Maclaurin's series; the next terms are below 1e-16.
    const double x2 = phi_rad * phi_rad;
    return {1 - x2 / 2 * (1 - x2 / 12 * (1 - x2 / 30 * (1 - x2 / 56))),
            phi_rad * (1 - x2 / 6 * (1 - x2 / 20 * (1 - x2 / 42 * (1 - x2 / 72))))};
}

StationTable::Columns::Columns(int n) {
    const int part = kFinest % n == 0 ? kFinest / n : 1;
    for (int i = 0; i < n; ++i) {
        const Turn turn(2 * std::numbers::pi * (i * part) / (n * part));
        cos.push_back(turn.cos);
        sin.push_back(turn.sin);
    }
}

template <int n>
const StationTable::Columns& StationTable::shared() {
    static const Columns columns(n);
    return columns;
}

StationTable::StationTable(int n) {
    const Columns* columns = &own_;
    switch (n) {
        case 40:
            columns = &shared<40>();
            break;
        case 90:
            columns = &shared<90>();
            break;
        case 180:
            columns = &shared<180>();
            break;
        case 360:
            columns = &shared<360>();
            break;
        case 720:
            columns = &shared<720>();
            break;
        default:
            own_ = Columns(n);
    }
    cos_ = columns->cos;
    sin_ = columns->sin;
}

}  // namespace hoopwright
