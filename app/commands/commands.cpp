#include "app/commands/commands.h"

#include <algorithm>
#include <filesystem>
#include <ostream>

#include "app/commands/command_kit.h"
#include "app/commands/export_report.h"
#include "app/commands/man_page.h"
#include "app/commands/pack_report.h"
#include "app/commands/text_table.h"
#include "core/base/text.h"

namespace hoopwright {
namespace {

std::vector<Command> allCommands() {
    return {checkCommand(),     mendCommand(),     answerCommand(),  tickCommand(),    editionsCommand(),
            clearanceCommand(), geometryCommand(), nodesCommand(),   orderCommand(),   sheetsCommand(),
            showCommand(),      packCommand(),     exportCommand(),  fitCommand(),     gripCommand(),
            editCommand(),      starterCommand(),  pictureCommand(), carCommand(),     driverCommand(),
            scanCommand(),      sheetCommand(),    shopCommand(),    libraryCommand(), rulesCommand(),
            quantitiesCommand()};
}

FileCount fileCount(const Command& command) {
    const auto optional = [](const std::string& file) { return file.starts_with('['); };
    const auto left_out = static_cast<std::size_t>(std::ranges::count_if(command.files, optional));
    return {command.files.size() - left_out, command.files.size()};
}

std::string usage(const Command& command) {
    std::string line = "hoopwright " + command.word;
    for (const std::string& file : command.files) line += " " + file;
    for (const OptionSpec& option : command.options) {
        const std::string one = option.name + (option.value.empty() ? "" : " " + option.value);
        line += option.repeats ? " [" + one + "]…" : " [" + one + "]";
    }
    return line;
}

/// "Usage: ..." with what goes on to a second line under the options.
std::string usageLines(const Command& command) {
    const std::string label = "Usage: hoopwright " + command.word + " ";
    return wrappedBehind(label, usage(command).substr(label.size() - std::string("Usage: ").size()));
}

std::string help(const Command& command) {
    std::string out = usageLines(command) + "\n" + wrapped(command.about, 0) + "\n";
    std::vector<std::pair<std::string, std::string>> options;
    for (const OptionSpec& option : command.options)
        options.emplace_back(option.name + (option.value.empty() ? "" : " " + option.value), option.help);
    options.emplace_back("--help", "this page");
    std::size_t widest = 0;
    for (const auto& [name, help] : options) widest = std::max(widest, name.size());
    for (const auto& [name, help] : options)
        out += wrappedBehind("  " + name + std::string(widest - name.size() + 2, ' '), help);
    return out + "\nExample:\n  " + command.example + "\n";
}

std::string overview(const std::vector<Command>& commands) {
    std::string out =
        "Usage: hoopwright [CAGE]                 opens the window\n"
        "       hoopwright COMMAND …              answers on the command line, no display needed\n\n";
    TextTable lines({Align::left, Align::left});
    for (const Command& command : commands) lines.add({command.word, command.summary});
    lines.add({"--help", "this page; after a command, what it takes and an example"});
    lines.add({"--version", "the program's version"});
    lines.add({"--man", "all of it as one page: hoopwright --man | man -l -"});
    return out + lines.text(2) + "\n" + wrapped(std::string(caution()), 0);
}

int unknownWord(const std::string& word, const std::vector<Command>& commands, Streams streams) {
    std::vector<std::string> known = {"--help", "--version", "--man"};
    for (const Command& command : commands) known.push_back(command.word);
    const std::string near = didYouMean(word, known);
    streams.err << "hoopwright: '" << word << "' is "
                << (word.starts_with('-') ? "not an option of the program" : "neither a command nor a file")
                << (near.empty() ? "; hoopwright --help shows the commands"
                                 : "; did you mean '" + near + "'?")
                << "\n";
    return kExitBadInput;
}

}  // namespace

bool isCommand(std::string_view first_argument) {
    if (first_argument.starts_with('-')) return true;
    const std::vector<Command> commands = allCommands();
    if (std::ranges::find(commands, first_argument, &Command::word) != commands.end()) return true;
    std::error_code failed;
    return !std::filesystem::exists(first_argument, failed) &&
           first_argument.find_first_of("./") == std::string_view::npos;
}

int runCommand(const std::vector<std::string>& words, std::ostream& out, std::ostream& err) {
    const Streams streams{out, err};
    const std::vector<Command> commands = allCommands();
    const std::string word = words.empty() ? "--help" : words[0];
    if (word == "--version") {
        out << "hoopwright " << HOOPWRIGHT_VERSION << "\n";
        return kExitGood;
    }
    if (word == "--man") {
        out << manPage(commands, HOOPWRIGHT_VERSION);
        return kExitGood;
    }
    if (word == "--help" || word == "-h") {
        out << overview(commands);
        return kExitGood;
    }
    const auto command = std::ranges::find(commands, word, &Command::word);
    if (command == commands.end()) return unknownWord(word, commands, streams);
    const std::vector<std::string> rest(words.begin() + 1, words.end());
    const Expected<CommandLine> line = readCommandLine(rest, command->options, fileCount(*command));
    if (!line) {
        refuse(streams, word, line.reason());
        err << usageLines(*command);
        return kExitBadInput;
    }
    if (line->has("--help")) {
        out << help(*command);
        return kExitGood;
    }
    return command->run(*line, streams);
}

std::string noDisplaySentence(std::string_view cage_file) {
    return "There is no display to open the window on. The same job without one:  hoopwright check " +
           (cage_file.empty() ? std::string("data/cages/hillclimb_saloon.yaml") : std::string(cage_file));
}

}  // namespace hoopwright
