// How a car file says where a point was measured, and which points a line goes through.
#pragma once

#include <string_view>
#include <vector>

#include "core/files/fields.h"

namespace hoopwright {

/// One of `at`, `offsets`, `tapes` (with `lies` or `near`).
void takenFields(FieldReader& io, CarPoint& point);
void takenFields(FieldWriter& io, const CarPoint& point);

/// Corners of a line: `[x, y, z]`, the name of a point, or `{point: NAME, offset: [x, y, z]}`.
void cornerFields(FieldReader& io, std::string_view key, std::vector<Vec3>& points,
                  std::vector<LineCorner>& corners);
void cornerFields(FieldWriter& io, std::string_view key, const std::vector<Vec3>& points,
                  const std::vector<LineCorner>& corners);

}  // namespace hoopwright
