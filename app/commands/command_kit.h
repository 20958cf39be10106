// What every command is made of.
#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "app/commands/command_line.h"
#include "app/commands/commands.h"
#include "core/base/problem.h"
#include "core/files/job_file.h"
#include "rules/check.h"

namespace hoopwright {

struct Streams {
    std::ostream& out;
    std::ostream& err;
};

struct Command {
    std::string word;                ///< "check"
    std::vector<std::string> files;  ///< what it is given: {"CAGE"}; in brackets: may be left out
    std::string summary;             ///< one line
    std::string about;               ///< what it prints and how it ends; lines broken when shown
    std::string example;
    std::vector<OptionSpec> options;
    int (*run)(const CommandLine& line, Streams streams) = nullptr;
};

Command answerCommand();
Command carCommand();
Command checkCommand();
Command clearanceCommand();
Command driverCommand();
Command editCommand();
Command editionsCommand();
Command fitCommand();
Command geometryCommand();
Command gripCommand();
Command mendCommand();
Command nodesCommand();
Command orderCommand();
Command pictureCommand();
Command quantitiesCommand();
Command libraryCommand();
Command rulesCommand();
Command scanCommand();
Command sheetCommand();
Command sheetsCommand();
Command shopCommand();
Command showCommand();
Command starterCommand();
Command tickCommand();

/// Each on its own line: "cage.yaml:12:9: wall: ...".
void print(std::ostream& err, const Problems& problems);
/// One sentence of a command: "hoopwright check: ...". Returns kExitBadInput.
int refuse(Streams streams, const std::string& command, const std::string& sentence);
/// The job of a cage file with the scans of its car, or nothing after its problems have been printed.
std::optional<JobResult> openJob(const std::string& cage_file, Streams streams);
/// The tables given with --rules, or else those the cage names; nothing after the problems of all of them
/// have been printed.
std::optional<std::vector<RuleTableRef>> openTables(const CommandLine& line, const JobResult& job,
                                                    Streams streams);

/// Said wherever a result could be taken for an approval.
std::string_view caution();

}  // namespace hoopwright
