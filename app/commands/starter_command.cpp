#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/starter_report.h"
#include "core/base/text.h"
#include "core/files/scan_files.h"

namespace hoopwright {
namespace {

namespace fs = std::filesystem;

/// The car, people, tube and dies a starter is made for, and where their files are.
struct Site {
    Job job;
    JobFiles files;
};

template <class T>
bool take(ReadResult<T> read, FileTextRef& text, T& value, Problems& problems) {
    problems.insert(problems.end(), read.problems.begin(), read.problems.end());
    text = read.text;
    if (!read.value) return false;
    value = *std::move(read.value);
    return true;
}

/// Class facts said as NAME=VALUE, read as a cage file reads them.
Expected<Facts> entryOf(const std::vector<std::string>& said) {
    std::string facts;
    for (const std::string& one : said) {
        const std::size_t equals = one.find('=');
        if (equals == std::string::npos || equals == 0)
            return Reason{"--entry: '" + one + "' is no fact: write NAME=VALUE such as race_mass=1080kg"};
        facts += (facts.empty() ? "" : ", ") + one.substr(0, equals) + ": " + one.substr(equals + 1);
    }
    const ReadResult<CageLayout> read =
        readCageText("hoopwright: cage\nversion: 1\nname: x\nunits: mm\ncar: x\nstock: x\ndies: x\nentry: {" +
                         facts + "}\n",
                     "--entry");
    if (!read.value) return Reason{read.problems.front().text()};
    return read.value->entry;
}

/// The files of a job like that cage's, or of the options; nothing after the problems have been printed.
std::optional<Site> openSite(const CommandLine& line, Streams streams) {
    Site site;
    if (line.has("--like")) {
        std::optional<JobResult> like = openJob(line.value("--like"), streams);
        if (!like) return std::nullopt;
        site = {*std::move(like->job), std::move(like->files)};
    }
    Problems problems;
    bool whole = true;
    if (line.has("--car")) {
        site.files.car = line.value("--car");
        whole = take(readCar(site.files.car), site.files.car_text, site.job.car, problems) && whole;
        if (!line.has("--like")) site.job.cage.unit = unitOf(site.files.car_text);
    }
    if (line.has("--stock")) {
        site.files.stock = line.value("--stock");
        whole = take(readStock(site.files.stock), site.files.stock_text, site.job.stock, problems) && whole;
    }
    if (line.has("--dies")) {
        site.files.dies = line.value("--dies");
        whole = take(readDies(site.files.dies), site.files.dies_text, site.job.dies, problems) && whole;
    }
    if (line.has("--driver")) {
        site.job.drivers.clear();
        site.files.drivers.clear();
        for (const std::string& file : line.values("--driver")) {
            FileTextRef text;
            Driver driver;
            whole = take(readDriver(file), text, driver, problems) && whole;
            site.job.drivers.push_back(std::move(driver));
            site.files.drivers.emplace_back(file);
        }
    }
    if (line.has("--rules")) {
        const std::vector<std::string> files = line.values("--rules");
        site.files.rules.assign(files.begin(), files.end());
    }
    if (whole && line.has("--car")) {
        ScanLoad scans = loadScans(site.job.car, site.files.car);
        site.job.scan_meshes = std::move(scans.meshes);
        problems.insert(problems.end(), scans.problems.begin(), scans.problems.end());
    }
    print(streams.err, problems);
    if (!whole || !problems.empty()) return std::nullopt;
    for (const auto& [option, file] :
         {std::pair{"--car", site.files.car}, std::pair{"--stock", site.files.stock},
          std::pair{"--dies", site.files.dies}}) {
        if (!file.empty()) continue;
        refuse(
            streams, "starter",
            std::string(option) + " FILE is missing: name it, or a cage to take all files from with --like");
        return std::nullopt;
    }
    return site;
}

/// "main_hoop=45x2.5", each role at most once.
Expected<std::map<std::string, std::string>> tubesOf(const std::vector<std::string>& said) {
    std::map<std::string, std::string> tubes;
    for (const std::string& one : said) {
        const std::size_t equals = one.find('=');
        if (equals == std::string::npos || equals == 0)
            return Reason{"--tube: '" + one +
                          "' is no tube of a role: write ROLE=TUBE such as main_hoop=45x2.5"};
        tubes[one.substr(0, equals)] = one.substr(equals + 1);
    }
    return tubes;
}

Expected<StarterWish> wishOf(const CommandLine& line, LengthUnit unit) {
    StarterWish wish;
    wish.starter = line.files()[0];
    wish.with = line.values("--with");
    wish.without = line.values("--without");
    const auto tubes = tubesOf(line.values("--tube"));
    if (!tubes) return Reason{tubes.reason()};
    wish.tubes = *tubes;
    const Unit bare = *unitNamed(unit == LengthUnit::in ? "in" : "mm");
    if (line.has("--gap")) {
        const Expected<double> gap = readMeasure(line.value("--gap"), bare);
        if (!gap) return Reason{"--gap: " + gap.reason()};
        if (*gap < 0 || *gap > 300)
            return Reason{"--gap: '" + line.value("--gap") + "' is not between 0 and 300 mm"};
        wish.least_gap_mm = *gap;
    }
    if (line.has("--hoop")) {
        const Expected<double> x = readMeasure(line.value("--hoop"), bare);
        if (!x) return Reason{"--hoop: " + x.reason()};
        wish.hoop_x_mm = *x;
    }
    return wish;
}

/// Names of the files as seen from the folder of the file they are written into.
void nameFiles(Site& site, const fs::path& out) {
    const auto seen = [&](const fs::path& file) {
        const fs::path whole = fs::absolute(file).lexically_normal();
        if (out.empty()) return whole.generic_string();
        const fs::path near = whole.lexically_relative(fs::absolute(out).lexically_normal().parent_path());
        return (near.empty() ? whole : near).generic_string();
    };
    CageLayout& cage = site.job.cage;
    cage.car_file = seen(site.files.car);
    cage.stock_file = seen(site.files.stock);
    cage.dies_file = seen(site.files.dies);
    cage.driver_files.clear();
    for (const fs::path& file : site.files.drivers) cage.driver_files.push_back(seen(file));
    cage.rule_files.clear();
    for (const fs::path& file : site.files.rules) cage.rule_files.push_back(seen(file));
}

int makeOne(const CommandLine& line, Streams streams) {
    std::optional<Site> site = openSite(line, streams);
    if (!site) return kExitBadInput;
    std::vector<RuleTableRef> tables;
    for (const fs::path& file : site->files.rules) {
        const RuleTableResult table = readRuleTable(file);
        print(streams.err, table.problems);
        if (!table.table) return kExitBadInput;
        tables.push_back(table.table);
    }
    const std::string out = line.value("--out");
    nameFiles(*site, out);
    const Starter* starter = starterNamed(line.files()[0]);
    if (line.has("--name") || !line.has("--like"))
        site->job.cage.name = line.value("--name", starter ? starter->name : "");
    if (line.has("--entry")) {
        const Expected<Facts> entry = entryOf(line.values("--entry"));
        if (!entry) return refuse(streams, "starter", entry.reason());
        for (const auto& [name, fact] : *entry) site->job.cage.entry[name] = fact;
    }
    const Expected<StarterWish> wish = wishOf(line, site->job.cage.unit);
    if (!wish) return refuse(streams, "starter", wish.reason());
    StarterChooser chooser(tables, site->job);
    const Expected<StarterChoice> choice = chooser.choose(*wish);
    if (!choice) return refuse(streams, "starter", choice.reason());
    const Expected<std::vector<OptionEffect>> options = chooser.effects(choice->wish);
    if (!options) return refuse(streams, "starter", options.reason());
    if (!out.empty()) {
        std::error_code failed;
        if (fs::exists(out, failed) && !line.has("--replace"))
            return refuse(streams, "starter",
                          "--out: there is already a file '" + out + "'; name another, or say --replace");
        if (const std::optional<Problem> problem = saveText(out, writeCage(choice->made.cage))) {
            print(streams.err, {*problem});
            return kExitBadInput;
        }
    }
    const MadeStarter made{*starterNamed(wish->starter), *choice, *options, tables, out};
    if (line.has("--json")) {
        writeStarterJson(streams.out, made);
    } else {
        writeStarterText(streams.out, made);
    }
    return choice->falls_short.empty() && choice->geometry.problems.empty() && choice->made.notes.empty()
               ? kExitGood
               : kExitFallsShort;
}

int runStarter(const CommandLine& line, Streams streams) {
    if (!line.files().empty()) return makeOne(line, streams);
    if (line.has("--json")) {
        writeStarterListJson(streams.out);
    } else {
        writeStarterListText(streams.out);
    }
    return kExitGood;
}

}  // namespace

Command starterCommand() {
    return {
        "starter",
        {"[NAME]"},
        "a whole cage to start from, laid out in a car around its drivers",
        "Without a name: the starters and the options they may have. With one: lays that cage out from the "
        "car's measured points, lines and rails, the drivers, the tube and the dies; takes for each role the "
        "lightest tube the class tables accept, and options they ask for; says what each option adds, which "
        "rule asks for it, and which rule cannot be met and why. Ends with 0 if all that is required meets, "
        "1 if something falls short or has no place in this car, 2 if a file or the command line is wrong.",
        "hoopwright starter full_side_bars --like data/cages/hillclimb_saloon.yaml --out cage.yaml",
        {{"--car", "FILE", "the measured car"},
         {"--driver", "FILE", "a person in it", true},
         {"--stock", "FILE", "the tube there is"},
         {"--dies", "FILE", "the dies there are"},
         {"--rules", "FILE", "a class table to meet", true},
         {"--entry", "NAME=VALUE", "a class fact, such as race_mass=1080kg", true},
         {"--like", "CAGE", "take all of these from this cage, but for those given"},
         {"--with", "OPTION", "with this option", true},
         {"--without", "OPTION", "without this option", true},
         {"--tube", "ROLE=TUBE", "of this tube of the stock list", true},
         {"--gap", "LENGTH",
          "least gap of hoops and side bars to the skin; " + showLength(kUsualGap_mm, {LengthUnit::mm, 0}) +
              " unless said"},
         {"--hoop", "X", "where the hoop's feet stand; as near to the door as drivers allow unless said"},
         {"--name", "TEXT", "the cage's name"},
         {"--out", "CAGE", "the cage file to write; never one that is there"},
         {"--replace", "", "write it even if it is there"},
         {"--json", "", "for programs; every key says its unit (app/commands/JSON.md)"}},
        &runStarter};
}

}  // namespace hoopwright
