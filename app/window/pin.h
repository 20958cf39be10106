// Pinning a dimension by hand: what is asked for, and what becomes of the picks.
#pragma once

#include "app/window/desk.h"

namespace hoopwright {

/// A gap or the centres of two chosen bars is pinned at once; else the places or bars are asked for in the
/// view. The new one is then chosen.
void pinDimension(Desk& desk, PinnedDimension::Kind kind);
void deleteDimension(Desk& desk, const std::string& id);

}  // namespace hoopwright
