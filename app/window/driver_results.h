// The part of a driver's form that follows from the measured points: seat moves, clearances, belts, sight.
#pragma once

#include <string>

#include "app/window/form.h"

namespace hoopwright {

void addSeatMove(Desk& desk, Form& form, const std::string& driver);
void addDriverResults(Desk& desk, Form& form, const std::string& driver);

}  // namespace hoopwright
