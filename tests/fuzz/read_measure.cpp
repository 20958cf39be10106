#include <cmath>

#include "core/base/text.h"
#include "core/units/measure.h"
#include "round_trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace hoopwright;
    const std::string text(reinterpret_cast<const char*>(data), size);
    for (const Unit& unit : units()) {
        const Expected<double> value = readMeasure(text, unit);
        if (!value) {
            demand(!value.reason().empty(), "a refusal has words");
            continue;
        }
        demand(std::isfinite(*value), "a measure is finite");
        const double written = *value / unit.to_base;
        if (written != 0 && !std::isnormal(written)) continue;  // nothing anyone tapes; it has lost digits
        const Expected<double> again = readMeasure(shortest(written) + " " + unit.word, unit);
        demand(static_cast<bool>(again), "a measure written with its unit reads back");
        demand(std::abs(*again - *value) <= 1e-12 * std::abs(*value), "a measure reads back the same");
    }
    return 0;
}
