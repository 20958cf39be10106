// What parts of the car may be called.
#pragma once

#include <QString>

namespace hoopwright {

/// Why a name will not do for a point, line or plane of the car; empty: it will.
QString wrongCarName(const QString& name, bool taken);

}  // namespace hoopwright
