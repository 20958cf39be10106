#include <algorithm>
#include <ostream>

#include "app/commands/cage_out.h"
#include "app/commands/command_kit.h"
#include "app/commands/edit_doing.h"
#include "core/edit/bar_edits.h"
#include "core/edit/cage_edits.h"
#include "core/edit/pair_edits.h"
#include "core/model/resolve.h"
#include "core/model/role.h"
#include "rules/failing.h"

namespace hoopwright {
namespace {

Reason noBar(const std::string& id) {
    return Reason{"the cage has no bar '" + id + "'"};
}

std::string nameOf(const CageLayout& cage, const std::string& id) {
    const Member* member = cage.member(id);
    return member ? shownName(*member) : id;
}

Expected<std::string> makeCross(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--make-cross");
    const auto made = crossBar(report.after, report.was, id);
    if (!made) return Reason{made.reason()};
    return "Made a cross of " + nameOf(report.before.cage, id) +
           ": it runs through, the other way is two halves.";
}

Expected<std::string> cut(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--cut"), through = line.value("--through");
    if (through.empty()) return Reason{"--through ID is missing: say which bar runs through"};
    const auto second = splitBar(report.after, report.was, id, through);
    if (!second) return Reason{second.reason()};
    return "Cut " + nameOf(report.before.cage, id) + " where it crosses " + through + ", which runs through.";
}

Expected<std::string> join(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--join"), with = line.value("--with");
    if (with.empty()) return Reason{"--with ID is missing: say which bar it is joined to"};
    const auto joined = joinBars(report.after, report.was, id, with);
    if (!joined) return Reason{joined.reason()};
    return "Joined " + nameOf(report.before.cage, id) + " and " + nameOf(report.before.cage, with) + ".";
}

Expected<std::string> extend(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--extend"), said = line.value("--end");
    if (!said.empty() && said != "first" && said != "last")
        return Reason{"--end: '" + said + "' is neither first nor last"};
    const int at = report.was.member(id);
    if (at < 0) return noBar(id);
    const ResolvedMember& bar = report.was.members[static_cast<std::size_t>(at)];
    int end = said == "first" ? 0 : 1;
    if (said.empty() && bar.ends[1].on != ResolvedEnd::On::nothing) end = 0;
    if (said.empty() && bar.ends[static_cast<std::size_t>(end)].on != ResolvedEnd::On::nothing)
        return Reason{"no end of '" + id +
                      "' is free; say --end first or last to take one off where it lands"};
    const auto host = extendBar(report.after, report.was, id, end);
    if (!host) return Reason{host.reason()};
    return "Extended " + bar.name + " to " + *host + ".";
}

Expected<std::string> mirror(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--mirror");
    const Member* member = report.before.cage.member(id);
    if (!member) return noBar(id);
    if (member->mirrored) return Reason{"'" + id + "' is a pair already"};
    makePair(report.after, id);
    return "Made a pair of " + shownName(*member) + ".";
}

Expected<std::string> breakUp(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--break");
    const Member* member = report.before.cage.member(id);
    if (!member) return noBar(id);
    if (!member->mirrored) return Reason{"'" + id + "' is no pair"};
    breakPair(report.after, id);
    return "Made two of " + shownName(*member) + ", each of its own.";
}

Expected<std::string> refit(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--refit");
    if (!report.before.cage.member(id)) return noBar(id);
    const FitCar car(report.before.car, report.before.scan_meshes);
    Expected<SideRefit> done = refitRightSide(report.after, report.was, car, id);
    if (!done) return Reason{done.reason()};
    report.refit = *std::move(done);
    return "Fitted the right one of " + nameOf(report.before.cage, id) + " to its own side.";
}

Expected<std::string> duplicate(const CommandLine& line, EditReport& report) {
    const std::string id = line.value("--duplicate");
    if (duplicateMember(report.after, id).empty()) return noBar(id);
    return "Duplicated " + nameOf(report.before.cage, id) + ", 60 mm on.";
}

Expected<std::string> remove(const CommandLine& line, EditReport& report) {
    const std::vector<std::string> ids = line.values("--delete");
    for (const std::string& id : ids)
        if (!report.before.cage.member(id) && !report.before.cage.plate(id))
            return Reason{"the cage has no bar or plate '" + id + "'"};
    deleteParts(report.after, report.was, ids,
                line.has("--and-what-lands") ? Orphans::remove_too : Orphans::keep_in_place);
    return "Deleted " + std::to_string(ids.size()) + (ids.size() == 1 ? " part." : " parts.");
}

Expected<std::string> change(const CommandLine& line, EditReport& report) {
    const std::vector<std::string> ids = line.values("--change");
    const std::string tube = line.value("--tube"), role = line.value("--role");
    if (tube.empty() && role.empty() && !line.has("--radius"))
        return Reason{"--tube, --role or --radius is missing: say what is to change"};
    if (!tube.empty() && !report.before.stock.find(tube))
        return Reason{"--tube: the stock list has no '" + tube + "'"};
    if (!role.empty() && std::ranges::find(knownRoles(), role, &Role::word) == knownRoles().end())
        return Reason{"--role: there is no role '" + role + "'"};
    std::optional<double> radius;
    if (line.has("--radius")) {
        const char* unit = report.before.cage.unit == LengthUnit::in ? "in" : "mm";
        const Expected<double> read = readMeasure(line.value("--radius"), *unitNamed(unit));
        if (!read) return Reason{"--radius: " + read.reason()};
        if (*read <= 0) return Reason{"--radius: it must be more than 0"};
        radius = *read;
    }
    for (const std::string& id : ids) {
        Member* member = findMember(report.after.cage, id);
        if (!member) return noBar(id);
        if (radius && member->bent) return Reason{"'" + id + "' is bought bent: its bends are as it came"};
        if (!tube.empty()) member->stock = tube;
        if (!role.empty()) member->role = role;
        if (radius) {
            member->bend_radius_mm = radius;
            for (MemberPoint& point : member->path) point.bend_radius_mm.reset();
        }
    }
    return "Changed " + std::to_string(ids.size()) + (ids.size() == 1 ? " bar." : " bars.");
}

constexpr EditDoing kChanging[] = {
    {"--make-cross", &makeCross}, {"--cut", &cut},       {"--join", &join},   {"--extend", &extend},
    {"--mirror", &mirror},        {"--break", &breakUp}, {"--refit", &refit}, {"--duplicate", &duplicate},
    {"--delete", &remove},        {"--change", &change}};

std::vector<EditDoing> allDoings() {
    std::vector<EditDoing> all(std::begin(kChanging), std::end(kChanging));
    const auto adding = addingDoings();
    all.insert(all.end(), adding.begin(), adding.end());
    return all;
}

/// Layout ids of members and plates: new, gone, or not what they were.
void tellParts(EditReport& report) {
    const auto tell = [&](const auto& before, const auto& after) {
        for (const auto& part : after) {
            const auto was = std::ranges::find(before, part.id, [](const auto& one) { return one.id; });
            if (was == before.end()) {
                report.made.push_back(part.id);
            } else if (!(*was == part)) {
                report.changed.push_back(part.id);
            }
        }
        for (const auto& part : before)
            if (std::ranges::find(after, part.id, [](const auto& one) { return one.id; }) == after.end())
                report.gone.push_back(part.id);
    };
    tell(report.before.cage.members, report.after.cage.members);
    tell(report.before.cage.plates, report.after.cage.plates);
    tell(report.before.cage.gussets, report.after.cage.gussets);
}

void tellWorse(EditReport& report, const std::vector<RuleTableRef>& tables) {
    const Failing before = failing(check(tables, report.before, report.was));
    for (const Finding& finding : check(tables, report.after, report.is).findings)
        if (failsAnew(finding, before)) report.worse.push_back(finding.title);
    for (const GeometryProblem& problem : report.is.problems)
        if (std::ranges::find(report.was.problems, problem.text, &GeometryProblem::text) ==
            report.was.problems.end())
            report.troubles.push_back(problem.text);
}

int runEdit(const CommandLine& line, Streams streams) {
    const std::optional<JobResult> opened = openJob(line.files()[0], streams);
    if (!opened) return kExitBadInput;
    const auto tables = openTables(line, *opened, streams);
    if (!tables) return kExitBadInput;
    const std::string out = line.value("--out");
    if (line.has("--out"))
        if (const std::string wrong = wrongOut(out); !wrong.empty()) return refuse(streams, "edit", wrong);
    const std::vector<EditDoing> doings = allDoings();
    const EditDoing* doing = nullptr;
    for (const EditDoing& one : doings) {
        if (!line.has(one.option)) continue;
        if (doing)
            return refuse(streams, "edit",
                          std::string(doing->option) + " and " + one.option + ": one at a time, please");
        doing = &one;
    }
    if (!doing) return refuse(streams, "edit", "say what is to be done: --make-cross ID, --cut ID, ...");
    EditReport report{*opened->job, *opened->job, resolve(*opened->job), {}, {}, {}, {}, {}, {}, {}, {}, {}};
    const Expected<std::string> done = doing->run(line, report);
    if (!done) return refuse(streams, "edit", done.reason());
    report.done = *done;
    report.is = resolve(report.after);
    tellParts(report);
    tellWorse(report, *tables);
    if (!out.empty()) {
        if (const std::optional<Problem> problem = writeCageAs(out, *opened, report.after.cage)) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
        report.written = out;
    }
    if (line.has("--json")) {
        writeEditJson(streams.out, report);
    } else {
        writeEditText(streams.out, report);
    }
    return report.worse.empty() && report.troubles.empty() ? kExitGood : kExitFallsShort;
}

}  // namespace

Command editCommand() {
    std::vector<OptionSpec> options = {
        {"--make-cross", "ID", "a bar the other way, in two halves cut to this one"},
        {"--cut", "ID", "in two, where it crosses the bar of --through"},
        {"--through", "ID", "with --cut: the bar that runs through; of a pair .left or .right"},
        {"--join", "ID", "one bar of it and the one of --with, where their ends meet"},
        {"--with", "ID", "with --join: the other bar, which goes; with --gusset: the other of the corner"},
        {"--extend", "ID", "on along its axis to the next bar; of a pair .left or .right"},
        {"--end", "first|last", "with --extend: which end; the free one unless said"},
        {"--mirror", "ID", "left and right from one"},
        {"--break", "ID", "two of their own from a pair"},
        {"--refit", "ID", "breaks a pair and fits the right one to its own side of the car"},
        {"--duplicate", "ID", "another one, 60 mm on"},
        {"--delete", "ID", "a bar or plate; what lands on it stays where it is", true},
        {"--and-what-lands", "", "with --delete: what lands on it goes too"},
        {"--change", "ID", "its --tube, --role or --radius", true},
        {"--tube", "ID", "with --change: a tube of the stock list"},
        {"--role", "ID", "with --change: what it is for"},
        {"--radius", "LENGTH", "with --change: of its bends"}};
    const std::vector<OptionSpec> adding = addingOptions();
    options.insert(options.end(), adding.begin(), adding.end());
    options.insert(options.end(),
                   {{"--rules", "FILE", "a class table in place of those the cage names", true},
                    {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"},
                    {"--out", "FILE", "the cage that makes; never a file that is there"}});
    return {"edit",
            {"CAGE"},
            "bars, plates, gussets and ties added; bars crossed, cut, joined, paired, changed",
            "Does one of the things the window's Cage and Edit menus do, and says what it made of the cage: "
            "bars new, changed and gone, the mass, what is wrong and which rules fail that did not before. "
            "--out writes the cage that makes. A bare number is in the cage's unit. Ends with 1 if something "
            "is worse than before.",
            "hoopwright edit data/cages/hillclimb_saloon.yaml --make-cross hoop_diagonal",
            options,
            &runEdit};
}

}  // namespace hoopwright
