// A measured car as people read it and as programs do.
#pragma once

#include <iosfwd>

#include "core/survey/asymmetry.h"
#include "core/survey/line_list.h"
#include "core/survey/measuring.h"
#include "core/survey/survey.h"

namespace hoopwright {

/// A car with everything worked out from it.
struct CarReport {
    Car car;
    LengthUnit unit = LengthUnit::mm;  ///< the file's
    Survey survey;
    AsymmetryTable asymmetry;
    std::vector<LineState> lines;
    std::vector<MeasuringItem> not_measured;  ///< of the measuring sheet of such a car
    /// Has any point a reading to look at again?
    bool hasDoubts() const;
};
CarReport carReport(Car car, LengthUnit unit);

void writeCarText(std::ostream& out, const CarReport& report);
/// See app/commands/JSON.md.
void writeCarJson(std::ostream& out, const CarReport& report);

/// "within", "beyond", "cannot_tell".
std::string_view evennessKey(Evenness evenness);

}  // namespace hoopwright
