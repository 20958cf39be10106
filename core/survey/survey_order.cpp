#include "core/survey/survey_order.h"

#include <algorithm>

namespace hoopwright {

SurveyOrder surveyOrder(const std::vector<std::vector<int>>& datums) {
    const std::size_t count = datums.size();
    std::vector<std::vector<int>> follows(count);
    std::vector<std::size_t> waits_for(count);
    for (std::size_t i = 0; i < count; ++i) {
        waits_for[i] = datums[i].size();
        for (const int datum : datums[i])
            follows[static_cast<std::size_t>(datum)].push_back(static_cast<int>(i));
    }
    SurveyOrder out;
    for (std::size_t i = 0; i < count; ++i) {
        if (waits_for[i] == 0) out.order.push_back(static_cast<int>(i));
    }
    for (std::size_t next = 0; next < out.order.size(); ++next) {
        for (const int one : follows[static_cast<std::size_t>(out.order[next])]) {
            if (--waits_for[static_cast<std::size_t>(one)] == 0) out.order.push_back(one);
        }
    }
    // What still waits hangs on a loop: from any of it, datum after datum leads into one.
    std::vector<int> walk_of(count, -1);
    for (std::size_t i = 0; i < count; ++i) {
        std::vector<int> walk;
        int at = static_cast<int>(i);
        while (waits_for[static_cast<std::size_t>(at)] > 0 && walk_of[static_cast<std::size_t>(at)] < 0) {
            walk_of[static_cast<std::size_t>(at)] = static_cast<int>(i);
            walk.push_back(at);
            const auto& from = datums[static_cast<std::size_t>(at)];
            at = *std::find_if(from.begin(), from.end(),
                               [&](int datum) { return waits_for[static_cast<std::size_t>(datum)] > 0; });
        }
        const auto closes = std::find(walk.begin(), walk.end(), at);
        if (closes != walk.end()) out.loops.emplace_back(closes, walk.end());
    }
    return out;
}

}  // namespace hoopwright
