#include "engine/cli/man_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/cli/version.hpp"

namespace packproof::cli {

namespace {

// man(7): a backslash begins an escape, a dash is a hyphen unless escaped, and so is a quotation mark an
// accent; a point or an apostrophe at the beginning of a line makes it a request.
std::string escaped(std::string_view text) {
    std::string result;
    for (const char c : text) {
        if (c == '\\')
            result += "\\e";
        else if (c == '-')
            result += "\\-";
        else if (c == '\'')
            result += "\\(aq";
        else if (c == '~')
            result += "\\(ti";
        else if (c == '^')
            result += "\\(ha";
        else if (c == '`')
            result += "\\(ga";
        else
            result += c;
    }
    return result.starts_with('.') ? "\\&" + result : result;
}

// Running text in lines of 80 bytes, as mandoc wants its input; none begins with a point.
std::string lines(const std::string& escaped_text) {
    constexpr std::size_t most = 80;
    std::string result;
    std::size_t column = 0;
    for (std::size_t begin = 0; begin < escaped_text.size();) {
        const std::size_t end = std::min(escaped_text.find(' ', begin), escaped_text.size());
        const std::string word = escaped_text.substr(begin, end - begin);
        const bool breaks = column > 0 && column + 1 + word.size() > most && word[0] != '.';
        if (column > 0) result += breaks ? '\n' : ' ';
        result += word;
        column = breaks ? word.size() : column + (column > 0 ? 1 : 0) + word.size();
        begin = end + 1;
    }
    return result;
}

std::string bold(std::string_view text) {
    return "\\fB" + escaped(text) + "\\fR";
}

std::string slanted(std::string_view text) {
    return "\\fI" + escaped(text) + "\\fR";
}

std::string form_of(const ShownOption& option) {
    std::string form;
    for (const std::string& name : option.names)
        form += (form.empty() ? "" : ", ") + (option.dashed ? bold(name) : slanted(name));
    if (!option.value.empty()) form += " " + slanted(option.value);
    return form;
}

void write_option(std::string& page, const ShownOption& option) {
    std::string about = option.about;
    if (!option.usual.empty()) about += fmt::format("; {} if not given", option.usual);
    page += fmt::format(".TP\n{}\n{}\n", form_of(option), lines(escaped(about)));
}

// "packproof rules list [OPTIONS]", "packproof inspect [OPTIONS] PATHS..."
std::string call_of(const ShownCommand& command, std::string_view full_name) {
    std::string call = bold(full_name) + " [" + slanted("OPTIONS") + "]";
    for (const ShownOption& option : command.options)
        if (!option.dashed) {
            const std::string name = slanted(option.names.front()) + (option.several ? "..." : "");
            call += option.required ? " " + name : " [" + name + "]";
        }
    if (!command.commands.empty()) call += " " + slanted("COMMAND");
    return call;
}

void write_command(std::string& page, const ShownCommand& command, const std::string& full_name) {
    page += fmt::format(".SS {}\n{}.\n.PP\n{}\n", escaped(full_name.substr(full_name.find(' ') + 1)),
                        lines(escaped(command.about)), call_of(command, full_name));
    for (const ShownOption& option : command.options)
        if (!option.dashed) write_option(page, option);
    for (const ShownOption& option : command.options)
        if (option.dashed && option.value != "LEVEL" && option.names.back() != "--help" &&
            option.names.back() != "--version")
            write_option(page, option);
    if (!command.example.empty()) page += fmt::format(".PP\nExample: {}\n", bold(command.example));
    for (const ShownCommand& inner : command.commands)
        write_command(page, inner, full_name + " " + inner.name);
}

// What every command takes stands once.
void write_common(std::string& page, const ShownCommand& program) {
    page += ".SH OPTIONS\nOf the program and of every command:\n";
    for (const ShownOption& option : program.options)
        write_option(page, option);
    if (program.commands.empty()) return;
    for (const ShownOption& option : program.commands.front().options)
        if (option.value == "LEVEL") write_option(page, option);
}

constexpr std::string_view ending = R"(.SH EXIT STATUS
.TP
.B 0
Nothing fails at or above the gate.
.TP
.B 1
Something does.
.TP
.B 2
The input or the call is wrong, or the result could not be written; what is
wrong stands on standard error.
.SH ENVIRONMENT
.TP
.B NO_COLOR
If it is set and not empty, nothing is coloured unless
.B \-\-colour always
is given.
.TP
.B TERM
Likewise if it is
.BR dumb .
.SH FILES
.TP
.I NAME\fB.readings.toml\fR
Readings, which are read with the description
.I NAME\fB.toml\fR
beside it.
)";

}  // namespace

std::string man_page(const ShownCommand& program) {
    std::string about = program.about;
    if (about.ends_with('.')) about.pop_back();
    if (about.starts_with('C')) about[0] = 'c';
    std::string page =
        fmt::format(".TH PACKPROOF 1 {} \"packproof {}\" \"User Commands\"\n", version_date, program_version);
    page += fmt::format(".SH NAME\n{}\n.SH SYNOPSIS\n", lines("packproof \\- " + escaped(about)));
    page += fmt::format("{} {} [{}] [{}...]\n", bold(program.name), slanted("COMMAND"), slanted("OPTIONS"),
                        slanted("ARGUMENTS"));
    page += fmt::format(".SH DESCRIPTION\n{}\n.SH COMMANDS\n", escaped(program.about));
    for (const ShownCommand& command : program.commands)
        write_command(page, command, program.name + " " + command.name);
    write_common(page, program);
    page += ending;
    if (!program.example.empty()) page += fmt::format(".SH EXAMPLES\n{}\n", bold(program.example));
    return page;
}

}  // namespace packproof::cli
