// The built cage against the plan: readings kept with the job, what they are judged by, how far they drift.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/check.h"
#include "rules/measured.h"

namespace hoopwright {

class TableRun;
struct Reading;
struct Subject;

/// How a rule's reading is taken, besides its quantity: "side view", "above sill", "padded"; empty: as the
/// quantity says. A kept reading serves every rule that takes it the same way; BuiltReading::spot says how.
std::string howMeasured(const TableRun& run, const Reading& reading);

/// Least and greatest of what was read on the built cage, where the rule takes it so: a reading of that
/// quantity and thing whose spot says howMeasured(); any spot where that is empty. Nothing where none is
/// kept: then the plan is judged. Quantities that only a reading can give are not asked here.
std::optional<Measured> asBuilt(const TableRun& run, const Reading& reading, const Subject& what);

/// What a finding rests on.
enum class RestsOn {
    plan,      ///< the drawing
    measured,  ///< something read on the built cage or on the tube
    person,    ///< a person's answer
    nothing,   ///< nothing was judged
};
std::string_view restsOnKey(RestsOn what);    ///< "plan", "measured", "person", "nothing"
std::string_view restsOnWords(RestsOn what);  ///< "the plan", "measurement", "a person's word", ""
/// Of each finding of a report of the same job and tables.
std::vector<RestsOn> restsOn(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage,
                             const CheckReport& report);

/// Of one finding.
RestsOn restsOn(std::span<const RuleTableRef> tables, const Job& job, const CageGeometry& cage,
                const Finding& finding);

/// Something of the built cage that can be measured, and what was read.
struct AsBuilt {
    std::string of, of_name;  ///< resolved id of a bar, plate or driver; "" and "Whole cage"
    std::string quantity;
    std::string meaning;  ///< of the quantity, one sentence
    std::string how;      ///< howMeasured()
    Dimension dimension = Dimension::none;
    std::optional<double> planned;    ///< base units; nothing: the plan does not say
    double planned_to = 0;            ///< of a stretch (the height of a whole bar); else as planned
    std::vector<int> readings;        ///< indices into CageLayout::readings; empty: not measured yet
    std::optional<double> low, high;  ///< of the readings
    std::optional<double> drift;      ///< what lies farthest from the plan, less the plan
    std::vector<std::string> rules;   ///< titles of the rules that judge it
    std::vector<std::string> limits;  ///< what they want: "at least 30 deg"
    /// What those rules make of what was measured, the worst of them; nothing: not measured, or no rule
    /// judges this thing by itself.
    std::optional<Answer> answer;
    std::optional<double> margin;  ///< of that rule
};
/// What the rules judge by length, angle or area of a thing that can be taped, in the tables' order, each
/// once; OD and wall of every bar; then readings of anything else. All of those with readings where
/// `read_only`.
std::vector<AsBuilt> asBuiltList(std::span<const RuleTableRef> tables, const Job& job,
                                 const CageGeometry& cage, bool read_only);

/// The greatest wall a required rule asks of a bar, as its tables say it.
struct WallAsked {
    double wall_mm = 0;
    std::string table, rule, clause;
    std::string judged;  ///< which wall: "nominal wall", "wall as gauged" ...
};
/// Of each member; nothing where no rule names a wall for it. Of a list of tubes, the one the bar is held to.
std::vector<std::optional<WallAsked>> wallsAsked(std::span<const RuleTableRef> tables, const Job& job,
                                                 const CageGeometry& cage);

}  // namespace hoopwright
