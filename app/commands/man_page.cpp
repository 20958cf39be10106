#include "app/commands/man_page.h"

#include <cstdint>
#include <cstdio>

namespace hoopwright {
namespace {

/// The character at `at` of UTF-8 text, and how many bytes it takes; what is no UTF-8 counts as a byte.
std::pair<std::uint32_t, std::size_t> characterAt(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::uint32_t first = byte(at);
    const std::size_t size = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (size == 1 || at + size > text.size()) return {first, 1};
    std::uint32_t code = first & (0xFFu >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) code = (code << 6) | (byte(at + i) & 0x3Fu);
    return {code, size};
}

/// Text for roff: a hyphen that is to be typed stays one, and no line begins with a request.
std::string roff(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const auto [code, size] = characterAt(text, at);
        at += size;
        if (code == '\\') {
            out += "\\e";
        } else if (code == '-') {
            out += "\\-";
        } else if (code == '\'') {
            out += "\\(aq";
        } else if (code < 0x80) {
            out += static_cast<char>(code);
        } else {
            char name[16];
            std::snprintf(name, sizeof name, "\\[u%04X]", static_cast<unsigned>(code));
            out += name;
        }
    }
    return out.starts_with('.') ? "\\&" + out : out;
}

std::string optionName(const OptionSpec& option) {
    return "\\fB" + roff(option.name) + "\\fR" +
           (option.value.empty() ? std::string() : " \\fI" + roff(option.value) + "\\fR");
}

std::string commandPage(const Command& command) {
    std::string out = ".SS \"" + roff(command.word);
    for (const std::string& file : command.files) out += " " + roff(file);
    out += "\"\n" + roff(command.about) + "\n";
    for (const OptionSpec& option : command.options)
        out += ".TP\n" + optionName(option) + "\n" + roff(option.help) +
               (option.repeats ? "; may be given more than once" : "") + "\n";
    return out + ".PP\nExample:\n.PP\n.RS\n.nf\n" + roff(command.example) + "\n.fi\n.RE\n";
}

}  // namespace

std::string manPage(const std::vector<Command>& commands, std::string_view version) {
    std::string out =
        ".TH HOOPWRIGHT 1 \"\" \"Hoopwright " + roff(version) +
        "\" \"User commands\"\n"
        ".SH NAME\n"
        "hoopwright \\- lay out a roll cage in 3D and check it against class tables\n"
        ".SH SYNOPSIS\n"
        ".B hoopwright\n[\\fICAGE\\fR]\n.br\n"
        ".B hoopwright\n\\fICOMMAND\\fR [\\fIFILE\\fR] [\\fIOPTION\\fR] ...\n"
        ".SH DESCRIPTION\n"
        "With a cage file, or with nothing, it opens its window; that needs a display.\n"
        "With a command it answers on the command line and needs none.\n"
        "A job is a cage file (YAML) and the files it names: car, drivers, tube stock, dies, the shop\\(aqs "
        "book, class tables.\n"
        ".PP\n" +
        roff(caution()) +
        "\n"
        ".SH COMMANDS\n";
    for (const Command& command : commands)
        out += ".TP\n\\fB" + roff(command.word) + "\\fR\n" + roff(command.summary) + "\n";
    out +=
        ".TP\n\\fB\\-\\-help\\fR\nthe commands; after a command, what it takes and an example\n"
        ".TP\n\\fB\\-\\-version\\fR\nthe program\\(aqs version\n"
        ".TP\n\\fB\\-\\-man\\fR\nthis page\n"
        ".SH EACH COMMAND\n";
    for (const Command& command : commands) out += commandPage(command);
    return out +
           ".SH EXIT STATUS\n"
           ".TP\n.B 0\nall that could be judged is well\n"
           ".TP\n.B 1\nsomething fails, falls short, or could not be told\n"
           ".TP\n.B 2\na file or the command line is wrong; the words say where and what to do\n"
           ".SH FILES\n"
           ".TP\n.I share/hoopwright/data\nunder the folder it was installed in: demo jobs, cars, drivers, "
           "tube, dies and class tables\n"
           ".TP\n.I ~/.config/Hoopwright/Hoopwright.conf\nwhat the window remembers\n";
}

}  // namespace hoopwright
