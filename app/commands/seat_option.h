// The seat move of the command line: "slide=20,lift=-10,recline=2".
#pragma once

#include <string>

#include "core/base/expected.h"
#include "core/driver/seat_move.h"
#include "core/units/measure.h"

namespace hoopwright {

/// Any of slide, lift (lengths, in `unit` unless they say) and recline (degrees unless it says), each at most
/// once.
Expected<SeatMove> readSeatMove(const std::string& text, LengthUnit unit);

}  // namespace hoopwright
