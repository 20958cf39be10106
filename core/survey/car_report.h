// A measured car with everything worked out from it: what the command line, the window and programs say of
// it.
#pragma once

#include "core/survey/asymmetry.h"
#include "core/survey/line_list.h"
#include "core/survey/measuring.h"
#include "core/survey/survey.h"

namespace hoopwright {

struct CarReport {
    Car car;
    LengthUnit unit = LengthUnit::mm;  ///< of the sentences
    Survey survey;
    AsymmetryTable asymmetry;
    std::vector<LineState> lines;
    int asked = 0;                            ///< places on the measuring sheet of such a car
    std::vector<MeasuringItem> not_measured;  ///< those of them the car does not have
    /// Has any point a reading to look at again?
    bool hasDoubts() const;
};
CarReport carReport(Car car, LengthUnit unit);

/// "within", "beyond", "cannot_tell": for programs.
std::string_view evennessKey(Evenness evenness);
/// "even", "UNEVEN", "can't tell": for people.
std::string_view evennessWords(Evenness evenness);

}  // namespace hoopwright
