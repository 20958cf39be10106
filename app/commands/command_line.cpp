#include "app/commands/command_line.h"

#include <algorithm>
#include <charconv>

#include "core/base/text.h"
#include "core/files/yaml_map.h"

namespace hoopwright {
namespace {

Reason unknownOption(const std::string& name, std::span<const OptionSpec> options) {
    std::vector<std::string> known = {"--help"};
    for (const OptionSpec& option : options) known.push_back(option.name);
    const std::string near = didYouMean(name, known);
    return {"unknown option '" + name +
            "': " + (near.empty() ? "known here: " + listed(known) : "did you mean " + near + "?")};
}

}  // namespace

std::string CommandLine::value(std::string_view option, std::string otherwise) const {
    const auto found = options_.find(std::string(option));
    return found == options_.end() ? otherwise : found->second.back();
}

std::vector<std::string> CommandLine::values(std::string_view option) const {
    const auto found = options_.find(std::string(option));
    return found == options_.end() ? std::vector<std::string>() : found->second;
}

Expected<CommandLine> readCommandLine(std::span<const std::string> words, std::span<const OptionSpec> options,
                                      FileCount files) {
    CommandLine out;
    bool options_over = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (word.empty()) return Reason{"a name is empty: write the file's name"};
        if (options_over || word.size() < 2 || word[0] != '-') {
            out.files_.push_back(word);
            continue;
        }
        if (word == "--") {
            options_over = true;
            continue;
        }
        const std::size_t equals = std::min(word.find('='), word.size());
        const std::string name = word == "-h" ? "--help" : word.substr(0, equals);
        const auto spec = std::ranges::find(options, name, &OptionSpec::name);
        if (name != "--help" && spec == options.end()) return unknownOption(name, options);
        const bool takes_value = name != "--help" && !spec->value.empty();
        const bool has_value = equals < word.size();
        if (has_value && !takes_value) return Reason{name + " takes no value"};
        if (takes_value && !has_value && i + 1 >= words.size())
            return Reason{name + " needs " + spec->value + " after it"};
        std::vector<std::string>& values = out.options_[name];
        if (!values.empty() && name != "--help" && !spec->repeats)
            return Reason{name + " is given twice: keep one"};
        values.push_back(!takes_value ? "" : has_value ? word.substr(equals + 1) : words[++i]);
        if (takes_value && values.back().empty())
            return Reason{name + " is given nothing: write its " + spec->value};
    }
    if (out.has("--help")) return out;
    if (out.files_.size() < files.least) return Reason{"no file is named: write one behind the command"};
    if (out.files_.size() > files.most) {
        return Reason{"'" + out.files_[files.most] +
                      "' is one word too many: put a name with spaces in quotes"};
    }
    return out;
}

Expected<int> wholeNumber(std::string_view option, const std::string& text, int least, int greatest) {
    int value = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = read.ec == std::errc() && read.ptr == text.data() + text.size();
    if (whole && value >= least && value <= greatest) return value;
    return Reason{std::string(option) + ": '" + text + "' is not a whole number from " +
                  std::to_string(least) + " to " + std::to_string(greatest)};
}

}  // namespace hoopwright
