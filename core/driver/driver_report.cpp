#include "core/driver/driver_report.h"

namespace hoopwright {

DriverReport reportOn(const Driver& driver, const Car& car, const CageGeometry& cage) {
    DriverReport out;
    out.clearances = clearances(driver, cage);
    out.room = helmetRoom(driver, cage);
    out.top_lines = topLines(driver, cage);
    out.straps = shoulderStraps(driver, cage);
    out.lap = lapStraps(driver);
    out.sight = sight(driver, car, cage);
    out.door = doorway(driver, car, cage);
    return out;
}

}  // namespace hoopwright
