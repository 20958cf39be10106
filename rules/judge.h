// One measurement against one limit.
#pragma once

#include "rules/measured.h"
#include "rules/rule_table.h"
#include "rules/table_run.h"

namespace hoopwright {

/// Differences up to these count as none: rounding never decides. Millimetres, radians, other base units
/// (relative).
inline constexpr double kSameLength_mm = 5e-6;
inline constexpr double kSameAngle_rad = 1e-9;
inline constexpr double kSameRelative = 1e-9;

/// `value`, `limit`, `margin` in base units, where they are numbers; the tolerance counts as part of the
/// limit.
struct Judged {
    Answer answer = Answer::cannot_tell;
    std::optional<double> value, limit, margin;
    std::string found;  ///< a word that was found, or what is missing
    int reading = 0;    ///< tube tables: which part of which alternative decided
    int alternative = -1, row = -1;
    /// Margin against the size of the limit, for sorting: how bad, or how much to spare.
    double relative = 0;
};

Judged judge(const TableRun& run, const Reading& reading, const Subject& what);
/// A number, or a stretch of them, against a comparison of numbers.
Judged judgeNumber(const Measured& measured, const Comparison& against, Dimension dimension);
/// A number against the smaller or larger of several limits, some of them facts. A fact that is not given
/// matters only where it could change the answer.
Judged judgeParts(const TableRun& run, const Measured& measured, const Comparison& against,
                  Dimension dimension);
/// A member's tube against a tube table.
Judged judgeTube(const TableRun& run, int tube_table, const Subject& what);

/// How much of `dimension` counts as one unit of badness where the limit is 0.
double usualSize(Dimension dimension);

/// Do the facts hold? A fact that is missing or of the wrong kind gives the sentence that says so.
struct FactAnswer {
    Answer answer = Answer::meets;  ///< meets, does_not_apply or cannot_tell
    std::string missing;
};
FactAnswer holds(const TableRun& run, const FactTest& test);
FactAnswer holdAll(const TableRun& run, const std::vector<FactTest>& tests);

}  // namespace hoopwright
