#include <algorithm>
#include <filesystem>
#include <ostream>

#include "app/commands/cage_out.h"
#include "app/commands/command_kit.h"
#include "app/commands/grip_report.h"
#include "core/edit/cage_edits.h"
#include "core/model/resolve.h"
#include "rules/failing.h"

namespace hoopwright {
namespace {

/// The grip of the same kind and place in its list, in another state of the cage.
Vec3 placeOf(const Job& job, const CageGeometry& now, const Grip& grip, std::size_t index) {
    const std::vector<Grip> grips = gripsOf(job, now, grip.part);
    return index < grips.size() && grips[index].kind == grip.kind ? grips[index].at : grip.at;
}

struct Wish {
    int take = 0;
    std::string number, to, out;
};

Expected<Wish> readWish(const CommandLine& line, std::size_t count) {
    Wish wish{0, line.value("--number"), line.value("--to"), line.value("--out")};
    if (line.has("--out"))
        if (const std::string wrong = wrongOut(wish.out); !wrong.empty()) return Reason{wrong};
    if (!line.has("--take")) {
        if (line.has("--to") || line.has("--out"))
            return Reason{"--take N is missing: say which grip to pull"};
        return wish;
    }
    if (!line.has("--to")) return Reason{"--to VALUE is missing: say where to pull it"};
    const Expected<int> take = wholeNumber("--take", line.value("--take"), 1, static_cast<int>(count));
    if (!take) return Reason{take.reason()};
    wish.take = *take;
    return wish;
}

/// Which of the numbers, and its value.
Expected<std::pair<std::size_t, double>> readTarget(const Wish& wish, const std::vector<GripNumber>& numbers,
                                                    LengthUnit unit) {
    std::size_t index = 0;
    if (!wish.number.empty()) {
        const auto named = std::ranges::find(numbers, wish.number, &GripNumber::name);
        if (named == numbers.end()) {
            std::string names;
            for (const GripNumber& one : numbers) names += (names.empty() ? "" : ", ") + one.name;
            return Reason{"--number: this grip has no '" + wish.number + "'; it has " + names};
        }
        index = static_cast<std::size_t>(named - numbers.begin());
    } else if (numbers.size() > 1) {
        return Reason{"--number NAME is missing: this grip has x, y and more; say which"};
    }
    const Dimension dimension = numbers[index].dimension;
    const char* word = dimension == Dimension::length  ? (unit == LengthUnit::in ? "in" : "mm")
                       : dimension == Dimension::angle ? "deg"
                                                       : "";
    const Expected<double> value = readMeasure(wish.to, *unitNamed(word));
    if (!value) return Reason{"--to: " + value.reason()};
    return std::pair{index, *value};
}

int runGrip(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const auto tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const Job& job = *opened->job;
    const CageGeometry now = resolve(job);
    GripReport report{job, line.value("--part"), {}, 0, {}, Vec3::Zero(), {}, {}};
    if (report.part.empty()) return refuse(streams, "grip", "--part ID is missing: name a bar or plate");
    const std::vector<Grip> grips = gripsOf(job, now, report.part);
    if (grips.empty())
        return refuse(
            streams, "grip",
            "--part: the cage has no '" + report.part + "' to take hold of; of a pair say .left or .right");
    const Expected<Wish> wish = readWish(line, grips.size());
    if (!wish) return refuse(streams, "grip", wish.reason());
    for (const Grip& grip : grips) {
        GripReport::Line one{
            grip, numbersOf(job, now, grip, grip.at), gripRange(*tables, job, now, grip), {}, {}, {}};
        if (one.range) {
            one.low = numbersOf(job, now, grip, one.range->low.at);
            one.high = numbersOf(job, now, grip, one.range->high.at);
            for (const GripLimit& mend : one.range->mends)
                one.mends.push_back(numbersOf(job, now, grip, mend.at));
        }
        report.grips.push_back(std::move(one));
    }
    if (wish->take > 0) {
        const auto taken = static_cast<std::size_t>(wish->take - 1);
        const Grip& grip = grips[taken];
        const auto target = readTarget(*wish, report.grips[taken].numbers, job.cage.unit);
        if (!target) return refuse(streams, "grip", target.reason());
        const Expected<CageLayout> cage = typed(job, now, grip, target->first, target->second);
        if (!cage) return refuse(streams, "grip", cage.reason());
        Job next = job;
        next.cage = *cage;
        const CageGeometry made = resolve(next);
        report.taken = wish->take;
        report.pulled_at = placeOf(next, made, grip, taken);
        report.pulled_to = numbersOf(job, now, grip, report.pulled_at);
        const Failing before = failing(check(*tables, job, now));
        for (const Finding& finding : check(*tables, next, made).findings)
            if (failsAnew(finding, before)) report.worse.push_back(finding.title);
        if (!wish->out.empty()) {
            if (const std::optional<Problem> problem = writeCageAs(wish->out, *opened, *cage)) {
                print(streams.err, {*problem});
                return kExitBadInput;
            }
            report.written = wish->out;
        }
    }
    if (line.has("--json")) {
        writeGripJson(streams.out, report);
    } else {
        writeGripText(streams.out, report);
    }
    return report.worse.empty() ? kExitGood : kExitFallsShort;
}

}  // namespace

Command gripCommand() {
    return {
        "grip",
        {"CAGE"},
        "where a bar can be taken hold of, and what a pull does",
        "Lists the places of one bar or plate that can be pulled: where it lands, what lands on it, its "
        "bends, the whole of it, its lean; with the number each is said in and how far it may go before a "
        "rule that holds now fails. With --take and --to one of them is pulled there as by hand in the "
        "window; --out writes the cage that makes. A bare number is in the cage's unit. Ends with 1 if a "
        "rule fails after the pull that did not before.",
        "hoopwright grip data/cages/hillclimb_saloon.yaml --part belt_bar",
        {{"--part", "ID", "the bar or plate; of a mirrored pair .left or .right"},
         {"--take", "N", "which of its grips, as numbered in the list"},
         {"--number", "NAME", "which of the grip's numbers, if it has several: x, y, z"},
         {"--to", "VALUE", "what that number is to be"},
         {"--rules", "FILE", "a class table in place of those the cage names", true},
         {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
         {"--out", "FILE", "the cage that makes; never a file that is there"}},
        &runGrip};
}

}  // namespace hoopwright
