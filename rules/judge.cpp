#include "rules/judge.h"

#include <algorithm>
#include <cmath>

#include "rules/quantity.h"

namespace hoopwright {
namespace {

double sameness(Dimension dimension, double limit) {
    if (dimension == Dimension::length) return kSameLength_mm;
    if (dimension == Dimension::angle) return kSameAngle_rad;
    return kSameRelative * std::max(1.0, std::abs(limit));
}

/// One end of the stretch. `spare` is how far inside it is.
struct EndJudged {
    double value, limit, spare;
    bool inside;
};
EndJudged judgeEnd(double value, double limit, double spare, bool open, Dimension dimension) {
    if (std::isinf(limit)) return {value, limit, std::numeric_limits<double>::infinity(), true};
    const double same = sameness(dimension, limit);
    if (std::abs(spare) <= same) spare = 0;
    return {value, limit, spare, open ? spare > 0 : spare >= 0};
}

Judged judgeAnyNumber(const Measured& measured, const Comparison& against, Dimension dimension) {
    Judged best;
    for (double wanted : against.numbers) {
        Comparison one = against;
        one.by = Comparison::By::stretch;
        one.low = one.high = wanted;
        Judged now = judgeNumber(measured, one, dimension);
        if (!best.margin || *now.margin > *best.margin) best = now;
    }
    return best;
}

Judged judgeWord(const Measured& measured, const Comparison& against) {
    const bool among =
        std::find(against.words.begin(), against.words.end(), measured.text) != against.words.end();
    Judged out;
    out.answer = among == (against.by == Comparison::By::words) ? Answer::meets : Answer::fails;
    out.found = measured.text;
    out.relative = out.answer == Answer::meets ? 1 : -1;
    return out;
}

Judged judgeYesNo(bool yes, bool wanted) {
    Judged out;
    out.answer = yes == wanted ? Answer::meets : Answer::fails;
    out.found = yes ? "yes" : "no";
    out.relative = out.answer == Answer::meets ? 1 : -1;
    return out;
}

}  // namespace

double usualSize(Dimension dimension) {
    switch (dimension) {
        case Dimension::length:
            return 100;
        case Dimension::angle:
            return 0.2;
        case Dimension::area:
            return 1e4;
        default:
            return 1;
    }
}

Judged judgeNumber(const Measured& measured, const Comparison& against, Dimension dimension) {
    if (against.by == Comparison::By::numbers) return judgeAnyNumber(measured, against, dimension);
    const double low = against.low - against.tolerance, high = against.high + against.tolerance;
    const EndJudged from = judgeEnd(measured.low, low, measured.low - low, against.low_open, dimension);
    const EndJudged to = judgeEnd(measured.high, high, high - measured.high, against.high_open, dimension);
    const bool low_decides = from.inside == to.inside ? from.spare <= to.spare : !from.inside;
    const EndJudged& end = low_decides ? from : to;
    Judged out;
    out.answer = from.inside && to.inside ? Answer::meets : Answer::fails;
    out.value = end.value;
    out.limit = low_decides ? against.low : against.high;
    out.margin = end.spare;
    const double size = std::abs(end.limit) > 0 ? std::abs(end.limit) : usualSize(dimension);
    out.relative = end.spare / size;
    return out;
}

Judged judge(const TableRun& run, const Reading& reading, const Subject& what) {
    if (reading.against.by == Comparison::By::tube_table)
        return judgeTube(run, reading.against.tube_table, what);
    const Measured measured = run.measure(reading, what, false);
    Judged out;
    switch (measured.is) {
        case Measured::Is::number:
            if (reading.against.by == Comparison::By::parts)
                return judgeParts(run, measured, reading.against,
                                  allQuantities()[static_cast<std::size_t>(reading.quantity)].info.dimension);
            return judgeNumber(measured, reading.against,
                               allQuantities()[static_cast<std::size_t>(reading.quantity)].info.dimension);
        case Measured::Is::word:
            return judgeWord(measured, reading.against);
        case Measured::Is::yes_no:
            return judgeYesNo(measured.yes, reading.against.yes);
        case Measured::Is::unknown:
            out.found = measured.text;
            return out;
        case Measured::Is::left_out:
            break;
    }
    out.answer = Answer::does_not_apply;
    return out;
}

}  // namespace hoopwright
