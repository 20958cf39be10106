#include "app/commands/progress_line.h"

#include <unistd.h>

#include <memory>
#include <ostream>

namespace hoopwright {
namespace {

/// A terminal's line that is clean again in the end.
struct Line {
    std::ostream& err;
    bool used = false;
    explicit Line(std::ostream& stream) : err(stream) {}
    ~Line() { wipe(); }
    Line(const Line&) = delete;
    Line& operator=(const Line&) = delete;
    void wipe() {
        if (used) err << "\r\x1b[K" << std::flush;
    }
};

}  // namespace

WorkProgress progressLine(Streams streams, const std::string& command) {
    if (::isatty(STDERR_FILENO) != 1) return {};
    const auto line = std::make_shared<Line>(streams.err);
    return [line, command](int done, int of, std::string_view now) {
        line->wipe();
        line->used = true;
        line->err << command << ": " << done << " of " << of << ", " << now << std::flush;
        return true;
    };
}

}  // namespace hoopwright
