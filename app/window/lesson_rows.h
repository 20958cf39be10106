// Rows of a form for what the next job on such a car should know.
#pragma once

#include "app/window/form.h"

namespace hoopwright {

/// A row for every lesson about `about` (a point or line; empty: the car), and one to write another.
void lessonRows(Desk& desk, Form& form, const std::string& about);
/// All that decides which rows those are.
std::size_t lessonsAbout(const Car& car, const std::string& about);

}  // namespace hoopwright
