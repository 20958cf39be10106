// Everything that is measured between one driver, the car and the cage.
#pragma once

#include <vector>

#include "core/driver/clearance.h"
#include "core/driver/doorway.h"
#include "core/driver/sight.h"
#include "core/driver/straps.h"

namespace hoopwright {

struct DriverReport {
    Clearances clearances;
    HelmetRoom room;
    std::vector<TopLine> top_lines;
    Expected<ShoulderStraps> straps = Reason{};
    std::vector<LapStrap> lap;
    Sight sight;
    Expected<Doorway> door = Reason{};
};
DriverReport reportOn(const Driver& driver, const Car& car, const CageGeometry& cage);

}  // namespace hoopwright
