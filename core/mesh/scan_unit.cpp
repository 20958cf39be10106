#include "core/mesh/scan_unit.h"

#include <cmath>

#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr double kLikely_mm = 3500;  // between a cab and a whole car
constexpr double kLeast_mm = 600, kMost_mm = 9000;

}  // namespace

std::string_view scanUnitWord(ScanUnit unit) {
    switch (unit) {
        case ScanUnit::mm:
            return "mm";
        case ScanUnit::cm:
            return "cm";
        case ScanUnit::m:
            return "m";
        case ScanUnit::in:
            return "in";
        case ScanUnit::ft:
            return "ft";
        case ScanUnit::guess:
            break;
    }
    return "guess";
}

double mmIn(ScanUnit unit) {
    switch (unit) {
        case ScanUnit::cm:
            return 10;
        case ScanUnit::m:
            return 1000;
        case ScanUnit::in:
            return 25.4;
        case ScanUnit::ft:
            return 304.8;
        case ScanUnit::guess:
        case ScanUnit::mm:
            break;
    }
    return 1;
}

std::optional<ScanUnit> guessedUnit(const Box& bounds) {
    if (bounds.isEmpty()) return std::nullopt;
    const double side = bounds.sizes().maxCoeff();
    std::optional<ScanUnit> best;
    double least = 0;
    // Feet are left out: a scan in metres or inches is far likelier than one of the same numbers in feet.
    for (const ScanUnit unit : {ScanUnit::mm, ScanUnit::cm, ScanUnit::m, ScanUnit::in}) {
        const double size_mm = side * mmIn(unit);
        if (!(size_mm >= kLeast_mm && size_mm <= kMost_mm)) continue;
        const double off = std::abs(std::log(size_mm / kLikely_mm));
        if (best && off >= least) continue;
        best = unit;
        least = off;
    }
    return best;
}

std::string sizeWords(const Box& bounds, ScanUnit unit) {
    const Vec3 size = bounds.sizes();
    const auto written = [&](double scale, int decimals) {
        return fixed(scale * size.x(), decimals) + " x " + fixed(scale * size.y(), decimals) + " x " +
               fixed(scale * size.z(), decimals);
    };
    const std::string mm = written(mmIn(unit), 0) + " mm";
    return unit == ScanUnit::mm ? mm : written(1, 1) + " " + std::string(scanUnitWord(unit)) + ", " + mm;
}

}  // namespace hoopwright
