#include "engine/cli/completion.hpp"

#include <fmt/format.h>

#include <set>
#include <vector>

namespace packproof::cli {

namespace {

// A command with its full name, "packproof rules list".
struct Place {
    std::string name;
    const ShownCommand* command;
};

void gather(const ShownCommand& command, const std::string& name, std::vector<Place>& into) {
    into.push_back({name, &command});
    for (const ShownCommand& inner : command.commands)
        gather(inner, name + " " + inner.name, into);
}

std::vector<Place> places_of(const ShownCommand& program) {
    std::vector<Place> places;
    gather(program, program.name, places);
    return places;
}

// A word of the shell: nothing in single quotes is special but the quote itself.
std::string in_quotes(std::string_view text) {
    std::string result = "'";
    for (const char c : text)
        result += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return result + "'";
}

bool takes_folder(const ShownOption& option) {
    return option.value == "DIR";
}

std::vector<std::string> names_with_values(const ShownCommand& program, bool folders) {
    std::set<std::string> names;
    for (const Place& place : places_of(program))
        for (const ShownOption& option : place.command->options)
            if (!option.value.empty() && takes_folder(option) == folders)
                names.insert(option.names.begin(), option.names.end());
    return {names.begin(), names.end()};
}

std::string dashed_names(const ShownCommand& command) {
    std::vector<std::string> names;
    for (const ShownOption& option : command.options)
        if (option.dashed) names.insert(names.end(), option.names.begin(), option.names.end());
    return fmt::format("{}", fmt::join(names, " "));
}

std::string command_names(const ShownCommand& command) {
    std::vector<std::string> names;
    for (const ShownCommand& inner : command.commands)
        names.push_back(inner.name);
    return fmt::format("{}", fmt::join(names, " "));
}

// The words before the cursor name the command; an option's value is never taken for one.
std::string command_cases(const ShownCommand& program, std::string_view indent) {
    std::string names;
    for (const Place& place : places_of(program))
        if (place.command != &program) names += (names.empty() ? "" : " | ") + in_quotes(place.name);
    return fmt::format("{}case \"$command $word\" in\n{}    {}) command=\"$command $word\" ;;\n{}esac\n",
                       indent, indent, names, indent);
}

std::string bash(const ShownCommand& program) {
    std::string out =
        "# Completion of packproof for bash: to be sourced, or put into the folder of completions.\n";
    out += "_packproof() {\n    local command=packproof word options= commands=\n";
    out += "    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]}\n";
    out += "    for word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n";
    out += command_cases(program, "        ") + "    done\n    COMPREPLY=()\n";
    out += fmt::format(
        "    case \"$previous\" in\n        {}) mapfile -t COMPREPLY < <(compgen -d -- \"$current\"); "
        "return ;;\n        {}) return ;;\n    esac\n",
        fmt::join(names_with_values(program, true), " | "),
        fmt::join(names_with_values(program, false), " | "));
    out += "    case \"$command\" in\n";
    for (const Place& place : places_of(program))
        out += fmt::format("        {}) options={} commands={} ;;\n", in_quotes(place.name),
                           in_quotes(dashed_names(*place.command)), in_quotes(command_names(*place.command)));
    out += "    esac\n    case \"$current\" in\n";
    out += "        -*) mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$current\") ;;\n";
    out +=
        "        *) [ -z \"$commands\" ] || mapfile -t COMPREPLY < <(compgen -W \"$commands\" -- "
        "\"$current\") ;;\n";
    out += "    esac\n}\ncomplete -o default -o filenames -F _packproof packproof\n";
    return out;
}

// In a description of _describe a colon ends the name.
std::string described(std::string_view name, std::string_view about) {
    return in_quotes(fmt::format("{}:{}", name, about));
}

std::string zsh(const ShownCommand& program) {
    std::string out = "#compdef packproof\n# Completion of packproof for zsh.\n_packproof() {\n";
    out += "    local command=packproof word current=$words[CURRENT] previous=$words[CURRENT-1]\n";
    out += "    local -a options commands\n    for word in ${words[2,CURRENT-1]}; do\n";
    out += command_cases(program, "        ") + "    done\n";
    out += fmt::format(
        "    case \"$previous\" in\n        {}) _files -/; return ;;\n        {}) return 1 ;;\n    esac\n",
        fmt::join(names_with_values(program, true), " | "),
        fmt::join(names_with_values(program, false), " | "));
    out += "    case \"$command\" in\n";
    for (const Place& place : places_of(program)) {
        out += fmt::format("        {})\n            options=(", in_quotes(place.name));
        for (const ShownOption& option : place.command->options)
            for (const std::string& name : option.names)
                if (option.dashed) out += "\n                " + described(name, option.about);
        out += ")\n            commands=(";
        for (const ShownCommand& inner : place.command->commands)
            out += "\n                " + described(inner.name, inner.about);
        out += ") ;;\n";
    }
    out += "    esac\n    if [[ \"$current\" == -* ]]; then\n        _describe -o option options\n";
    out +=
        "    elif (( ${#commands} )); then\n        _describe command commands\n    else\n        _files\n   "
        " fi\n}\n";
    out +=
        "if [ \"$funcstack[1]\" = _packproof ]; then _packproof \"$@\"; else compdef _packproof packproof; "
        "fi\n";
    return out;
}

// Single quotes of fish: a backslash stands before a quote and before itself.
std::string fish_quoted(std::string_view text) {
    std::string result = "'";
    for (const char c : text) {
        if (c == '\'' || c == '\\') result += '\\';
        result += c;
    }
    return result + "'";
}

void fish_command(std::string& out, const ShownCommand& command, const std::string& seen) {
    const std::string names = command_names(command);
    const std::string here = seen.empty() ? "__fish_use_subcommand" : seen;
    const std::string open = seen.empty() || names.empty()
                                 ? here
                                 : fmt::format("{}; and not __fish_seen_subcommand_from {}", seen, names);
    for (const ShownCommand& inner : command.commands)
        out += fmt::format("complete -c packproof -f -n {} -a {} -d {}\n", fish_quoted(open), inner.name,
                           fish_quoted(inner.about));
    for (const ShownOption& option : command.options) {
        if (!option.dashed) continue;
        out += "complete -c packproof -n " + fish_quoted(open);
        for (const std::string& name : option.names)
            out += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
        if (takes_folder(option))
            out += " -x -a '(__fish_complete_directories)'";
        else if (!option.value.empty())
            out += " -x";
        out += " -d " + fish_quoted(option.about) + "\n";
    }
    for (const ShownCommand& inner : command.commands)
        fish_command(out, inner,
                     (seen.empty() ? "" : seen + "; and ") + "__fish_seen_subcommand_from " + inner.name);
}

}  // namespace

std::string completion(const ShownCommand& program, std::string_view shell) {
    if (shell == "bash") return bash(program);
    if (shell == "zsh") return zsh(program);
    if (shell != "fish") return {};
    std::string out = "# Completion of packproof for fish.\n";
    fish_command(out, program, "");
    return out;
}

}  // namespace packproof::cli
