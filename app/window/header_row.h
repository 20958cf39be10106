// A small heading in a list.
#pragma once

#include "app/window/rows.h"

namespace hoopwright {

inline Row headerRow(const QString& words, const QString& detail = {}) {
    Row row;
    row.header = true;
    row.title = words;
    row.detail = detail;
    return row;
}

}  // namespace hoopwright
