// A measured car as people read it and as programs do.
#pragma once

#include <iosfwd>

#include "core/survey/car_report.h"

namespace hoopwright {

void writeCarText(std::ostream& out, const CarReport& report);
/// See app/commands/JSON.md.
void writeCarJson(std::ostream& out, const CarReport& report);

}  // namespace hoopwright
