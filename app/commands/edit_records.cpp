// Papers and inspections kept with the job.
#include <algorithm>

#include "app/commands/edit_doing.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

/// A day, or nothing at all; the reason says what it is instead.
Expected<std::string> dayOf(const CommandLine& line, const std::string& option) {
    const std::string day = line.value(option);
    if (!day.empty() && !isDate(day)) return Reason{option + ": '" + day + "' is no day: write YYYY-MM-DD"};
    return day;
}

}  // namespace

Expected<std::string> keepPaper(const CommandLine& line, EditReport& report) {
    DatedPaper paper;
    paper.what = line.value("--paper");
    if (paper.what.empty()) return Reason{"--paper: say what it is: belts, seat, log book"};
    paper.number = line.value("--number");
    paper.note = line.value("--note");
    for (const auto& [option, into] :
         {std::pair{"--issued", &paper.issued}, std::pair{"--due", &paper.due}}) {
        const Expected<std::string> day = dayOf(line, option);
        if (!day) return Reason{day.reason()};
        *into = *day;
    }
    std::vector<DatedPaper>& kept = report.after.cage.papers;
    std::erase_if(kept, [&](const DatedPaper& one) { return one.what == paper.what; });
    kept.push_back(paper);
    return "Kept the paper: " + paper.what + (paper.due.empty() ? "." : ", good until " + paper.due + ".");
}

Expected<std::string> keepInspection(const CommandLine& line, EditReport& report) {
    Inspection one;
    one.outcome = line.value("--inspection");
    one.who = line.value("--who");
    one.report = line.value("--report");
    one.note = line.value("--note");
    const Expected<std::string> day = dayOf(line, "--when");
    if (!day) return Reason{day.reason()};
    if (day->empty()) return Reason{"--when DAY is missing: say when the cage was inspected"};
    one.when = *day;
    std::vector<Inspection>& kept = report.after.cage.inspections;
    std::erase_if(kept, [&](const Inspection& old) { return old.when == one.when; });
    kept.push_back(one);
    return "Kept the inspection of " + one.when + ".";
}

}  // namespace hoopwright
