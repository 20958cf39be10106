#include "core/geometry/station_table.h"

#include <cmath>
#include <numbers>

namespace hoopwright {
namespace {

constexpr int kShared = 720;

StationTable computed(int n) {
    StationTable table;
    for (int i = 0; i < n; ++i) {
        const Turn turn(2 * std::numbers::pi * i / n);
        table.cos.push_back(turn.cos);
        table.sin.push_back(turn.sin);
    }
    return table;
}

}  // namespace

Turn::Turn(double phi_rad) : cos(std::cos(phi_rad)), sin(std::sin(phi_rad)) {}

StationTable stationTable(int n) {
    if (kShared % n != 0) return computed(n);
    static const StationTable shared = computed(kShared);
    if (n == kShared) return shared;
    StationTable table;
    for (int i = 0; i < kShared; i += kShared / n) {
        table.cos.push_back(shared.cos[static_cast<size_t>(i)]);
        table.sin.push_back(shared.sin[static_cast<size_t>(i)]);
    }
    return table;
}

}  // namespace hoopwright
