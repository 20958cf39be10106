// The rows of a form for the points of a bar's path.
#pragma once

#include <string>

#include "app/window/form.h"

namespace hoopwright {

/// All points of the path of layout member `id`, as seen at the resolved one (left, right or centre).
void pathRows(Desk& desk, Form& form, const std::string& id, const std::string& resolved);

}  // namespace hoopwright
