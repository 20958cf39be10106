#include "core/base/problem.h"

namespace hoopwright {

std::string Problem::text() const {
    std::string out;
    if (!at.file.empty()) {
        out += at.file + ":";
        if (at.line > 0) out += std::to_string(at.line) + ":" + std::to_string(at.column) + ":";
        out += " ";
    }
    out += what;
    if (!remedy.empty()) out += " (" + remedy + ")";
    return out;
}

}  // namespace hoopwright
