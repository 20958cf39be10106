#include "core/shop/work_times.h"

#include <cmath>

namespace hoopwright {

std::string_view operationWord(Operation operation) {
    switch (operation) {
        case Operation::bend:
            return "bend";
        case Operation::cope:
            return "cope";
        case Operation::joint:
            return "joint";
        case Operation::plate:
            return "plate";
        case Operation::fit:
            return "fit";
    }
    return "";
}

LearnedTime learned(const std::vector<WorkTime>& times, Operation operation) {
    LearnedTime out;
    double minutes = 0, squares = 0;
    for (const WorkTime& time : times) {
        if (time.operation != operation) continue;
        ++out.times;
        out.counted += time.count;
        minutes += time.minutes;
    }
    if (out.counted == 0) return out;
    out.minutes_each = minutes / out.counted;
    if (out.times < 2) return out;
    for (const WorkTime& time : times) {
        if (time.operation != operation) continue;
        const double off = time.minutes / time.count - out.minutes_each;
        squares += time.count * off * off;
    }
    out.spread_minutes = std::sqrt(squares / out.counted * out.times / (out.times - 1));
    return out;
}

TimeFigure timeFigure(const ShopBook& book, Operation operation) {
    const ShopMinutes& own = book.minutes;
    const std::optional<double>& said = operation == Operation::bend    ? own.bend
                                        : operation == Operation::cope  ? own.cope
                                        : operation == Operation::joint ? own.joint
                                        : operation == Operation::plate ? own.plate
                                                                        : own.fit;
    const LearnedTime entered = learned(book.times, operation);
    if (entered.times >= kLeastTimes || (!said && entered.times > 0))
        return {entered.minutes_each, entered.spread_minutes, entered.times};
    return {said, std::nullopt, 0};
}

}  // namespace hoopwright
