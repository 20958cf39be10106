// What a command takes, and what it was given.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/expected.h"

namespace hoopwright {

struct OptionSpec {
    std::string name;   ///< "--rules"
    std::string value;  ///< "FILE"; empty: a switch
    std::string help;
    bool repeats = false;
};

/// How many names a command takes.
struct FileCount {
    std::size_t least = 0, most = 0;
};

/// The words after a command, sorted out.
class CommandLine {
public:
    const std::vector<std::string>& files() const { return files_; }
    bool has(std::string_view option) const { return options_.contains(std::string(option)); }
    /// The value given last, or `otherwise`.
    std::string value(std::string_view option, std::string otherwise = "") const;
    std::vector<std::string> values(std::string_view option) const;

private:
    friend Expected<CommandLine> readCommandLine(std::span<const std::string> words,
                                                 std::span<const OptionSpec> options, FileCount files);
    std::vector<std::string> files_;
    std::map<std::string, std::vector<std::string>> options_;
};

/// `--name value` and `--name=value` both; `--` ends the options. The reason names the unknown option and its
/// likeliest spelling, or what is missing. --help is always known, and then nothing else need be there.
Expected<CommandLine> readCommandLine(std::span<const std::string> words, std::span<const OptionSpec> options,
                                      FileCount files);

/// A whole number from `least` to `greatest`, or the reason it is none.
Expected<int> wholeNumber(std::string_view option, const std::string& text, int least, int greatest);

}  // namespace hoopwright
