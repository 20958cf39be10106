// What the shop's entered times say of its work.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "core/model/shop_book.h"

namespace hoopwright {

/// Fewer entered times than that do not stand against the book's own figure.
inline constexpr int kLeastTimes = 3;

/// "bend", "cope", "joint", "plate", "fit": as in the shop's file.
std::string_view operationWord(Operation operation);

/// Of one operation, over all jobs entered.
struct LearnedTime {
    int times = 0;            ///< entries
    int counted = 0;          ///< how many were made in them
    double minutes_each = 0;  ///< all minutes over all counted
    /// One standard deviation of a job's minutes each about that, jobs weighed by what was counted in them;
    /// nothing for fewer than two entries.
    std::optional<double> spread_minutes;
};
LearnedTime learned(const std::vector<WorkTime>& times, Operation operation);

/// What to reckon with for one.
struct TimeFigure {
    std::optional<double> minutes_each;    ///< nothing: nobody said
    std::optional<double> spread_minutes;  ///< only of entered times
    int times = 0;                         ///< entries it is from; 0: the book's own figure
};
/// Entered times from kLeastTimes entries on; below that the book's own figure; where the book has none, what
/// was entered.
TimeFigure timeFigure(const ShopBook& book, Operation operation);

}  // namespace hoopwright
