#include "rules/wall_beware.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/units/inch.h"
#include "rules/judged_section.h"
#include "rules/mill_wall.h"
#include "rules/quantity.h"

namespace hoopwright {
namespace {

constexpr double kNearly = 0.05;  // of the limit: 45 to 1.75 in is 1.2 %, 2.5 mm to 0.095 in is 3.5 %

/// The readings that were judged: of a tube table those of the alternative that decided.
std::vector<Reading> judgedReadings(const TableRun& run, const Reading& reading, const Judged& judged) {
    if (reading.against.by != Comparison::By::tube_table) return {reading};
    if (judged.alternative < 0) return {};
    const TubeTable& table = run.table().tubes[static_cast<std::size_t>(reading.against.tube_table)];
    return table.rows[static_cast<std::size_t>(judged.row)]
        .any_of[static_cast<std::size_t>(judged.alternative)]
        .all;
}

bool judgesNominalWall(const Reading& reading) {
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(reading.quantity)];
    return has(quantity.may, Arg::judged_wall) && reading.with.judged_wall == WallKind::nominal;
}

/// Some of what met by the nominal wall would fail by this one.
bool failsBy(const TableRun& run, const std::vector<Reading>& readings, const Subject& what, WallKind kind) {
    return std::any_of(readings.begin(), readings.end(), [&](Reading one) {
        if (!judgesNominalWall(one)) return false;
        one.with.judged_wall = kind;
        return judge(run, one, what).answer == Answer::fails;
    });
}

/// "2.25 mm (0.0886 in)"
std::string both(double mm) {
    const auto rounded = [](double value, double step) {
        return shortest(std::round(std::round(value / step) * step * 1e6) / 1e6);
    };
    return rounded(mm, 0.01) + " mm (" + rounded(mm / kInch_mm, 0.001) + " in)";
}

double wallOf(const TableRun& run, int member, WallKind kind) {
    return judgedSection(run, member, kind).section.value_or(TubeSection{}).wall_mm;
}

std::string ofMeeting(const TableRun& run, const std::vector<Reading>& readings, const Subject& what) {
    const TubeStock& stock = *run.scene().facts(what.first).stock;
    const std::string nominal = "The nominal wall of " + both(stock.section.wall_mm) + " passes; ";
    const auto gauged = judgedSection(run, what.first, WallKind::measured).section;
    std::string out;
    if (gauged) {
        // Once it is gauged nobody need wonder what the mill may do.
        if (failsBy(run, readings, what, WallKind::measured))
            out = nominal + "it was gauged at " + both(gauged->wall_mm) + ", which does not.";
    } else if (failsBy(run, readings, what, WallKind::mill_least)) {
        out = nominal + "the mill may deliver down to " +
              both(wallOf(run, what.first, WallKind::mill_least)) + " (" +
              leastWall(stock).value_or(LeastWall{}).by + "), which does not: gauge it.";
    }
    if (!out.empty() && run.scene().facts(what.first).bends > 0 &&
        failsBy(run, readings, what, WallKind::bent))
        out +=
            " Outside its tightest bend about " + both(wallOf(run, what.first, WallKind::bent)) + " is left.";
    return out;
}

/// A tube of the other system that is nearly the size.
std::string ofFailing(const TableRun& run, const Reading& part, const Judged& judged, const Subject& what) {
    const Quantity& quantity = allQuantities()[static_cast<std::size_t>(part.quantity)];
    if ((quantity.info.name != "wall" && quantity.info.name != "od") || !judged.margin || !judged.limit)
        return {};
    const TubeSection& section = run.scene().facts(what.first).stock->section;
    const bool inch_tube = ofInchSize(section), inch_limit = part.against.unit.word == "in";
    if (inch_tube == inch_limit || -*judged.margin > kNearly * *judged.limit) return {};
    return std::string("The tube is made in ") + (inch_tube ? "inches" : "millimetres") +
           ", the limit is in " + (inch_limit ? "inches" : "millimetres") + ": " +
           both(judged.value.value_or(0)) + " against " + both(*judged.limit) +
           ". Where the book names both forms, the table must too.";
}

}  // namespace

std::string wallBeware(const TableRun& run, const Reading& reading, const JudgedThing& thing) {
    if (thing.what.kind != SubjectKind::member || !run.scene().facts(thing.what.first).stock) return {};
    const std::vector<Reading> readings = judgedReadings(run, reading, thing.judged);
    if (readings.empty()) return {};
    if (thing.judged.answer == Answer::meets) return ofMeeting(run, readings, thing.what);
    if (thing.judged.answer != Answer::fails) return {};
    const auto part = static_cast<std::size_t>(thing.judged.reading);
    return part < readings.size() ? ofFailing(run, readings[part], thing.judged, thing.what) : std::string();
}

}  // namespace hoopwright
