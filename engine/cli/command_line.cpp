#include "engine/cli/command_line.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <optional>

#include "engine/cli/log.hpp"
#include "engine/cli/options.hpp"
#include "engine/cli/surroundings.hpp"
#include "engine/text/day.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

constexpr std::string_view help_hint = "packproof --help lists the commands";
constexpr std::size_t least_width = 40;
constexpr std::size_t most_width = 1000;

Ending mistake(std::string_view text, std::string_view hint) {
    std::string message = fmt::format("packproof: error: {}\n", text::safe_print(text));
    if (!hint.empty()) message += fmt::format("packproof: note: {}\n", text::safe_print(hint));
    return {exit_trouble, "", message};
}

std::string nearest_hint(std::string_view written, const std::vector<std::string>& candidates) {
    const std::vector<std::string_view> views(candidates.begin(), candidates.end());
    const std::string_view nearest = text::nearest_name(written, views);
    return nearest.empty() ? std::string() : fmt::format("did you mean {}", nearest);
}

// The command whose options are meant: the innermost that was named.
CLI::App* innermost(CLI::App& app) {
    CLI::App* command = &app;
    while (!command->get_subcommands().empty())
        command = command->get_subcommands().front();
    return command;
}

std::vector<std::string> option_names(const CLI::App& command) {
    std::vector<std::string> names;
    for (const CLI::Option* option : command.get_options())
        for (const std::string& name : option->get_lnames())
            names.push_back("--" + name);
    return names;
}

std::vector<std::string> command_names(CLI::App& command) {
    std::vector<std::string> names;
    for (const CLI::App* sub : command.get_subcommands({}))
        names.push_back(sub->get_name());
    return names;
}

std::string full_name(const CLI::App* command) {
    std::string name = command->get_name();
    for (const CLI::App* parent = command->get_parent(); parent != nullptr; parent = parent->get_parent())
        if (!parent->get_name().empty()) name = parent->get_name() + " " + name;
    return name;
}

Ending unexpected(const std::string& word, CLI::App& command) {
    const std::string help = fmt::format("{} --help says what can be given", full_name(&command));
    if (word.starts_with('-') && word != "-") {
        const std::string name = word.substr(0, word.find('='));
        const std::string hint = nearest_hint(name, option_names(command));
        return mistake(fmt::format("{} has no option {}", full_name(&command), name),
                       hint.empty() ? help : hint);
    }
    const auto commands = command_names(command);
    const std::string hint = nearest_hint(word, commands);
    if (!commands.empty())
        return mistake(fmt::format("{} has no command {}", full_name(&command), word),
                       hint.empty() ? help : hint);
    return mistake(fmt::format("{} takes nothing more, but {} was given", full_name(&command), word), help);
}

Ending explain_error(CLI::App& app, const CLI::ParseError& error) {
    CLI::App& command = *innermost(app);
    for (const std::string& word : app.remaining(true))
        if (word != "--") return unexpected(word, command);
    if (&command == &app) return mistake("a command is missing", help_hint);
    return mistake(fmt::format("{}: {}", full_name(&command), error.what()),
                   fmt::format("{} --help says what can be given", full_name(&command)));
}

template <class Value>
bool take(const std::optional<Value>& read, Value& into) {
    if (read) into = *read;
    return read.has_value();
}

Ending wrong_choice(std::string_view option, const std::string& written,
                    std::span<const std::string_view> choices) {
    const std::vector<std::string> names(choices.begin(), choices.end());
    const std::string hint = nearest_hint(written, names);
    return mistake(fmt::format("{} is one of {}, not {}", option, fmt::join(names, ", "), written), hint);
}

std::optional<Ending> check_colour(const std::string& word, Colour& colour) {
    static constexpr std::array<std::string_view, 3> names{"auto", "always", "never"};
    for (std::size_t i = 0; i < names.size(); ++i)
        if (names[i] == word) {
            colour = static_cast<Colour>(i);
            return std::nullopt;
        }
    return wrong_choice("--colour", word, names);
}

std::optional<Ending> check_profile(const std::string& word, InspectCall& call) {
    static constexpr std::array<std::string_view, 2> names{"full", "alerts"};
    if (word.empty()) return std::nullopt;
    const auto* found = std::find(names.begin(), names.end(), word);
    if (found == names.end()) return wrong_choice("--profile", word, names);
    const bool asked = call.form == report::Form::sarif ||
                       std::any_of(call.also.begin(), call.also.end(), [](const FurtherReport& report) {
                           return report.form == report::Form::sarif;
                       });
    if (!asked)
        return mistake("--profile is of the form sarif, which was not asked for", "write --form sarif too");
    call.profile = static_cast<report::Profile>(found - names.begin());
    return std::nullopt;
}

std::optional<Ending> check_also(const std::vector<std::string>& written, InspectCall& call) {
    for (const std::string& word : written) {
        const std::size_t equals = word.find('=');
        if (equals == std::string::npos || equals + 1 == word.size())
            return mistake(fmt::format("--also takes FORM=FILE, not {}", word), "such as sarif=packs.sarif");
        if (word.substr(equals + 1) == "-")
            return mistake(fmt::format("--also writes to a file, and {} names standard output", word),
                           "what goes there is chosen by --form");
        FurtherReport& further = call.also.emplace_back();
        further.file = word.substr(equals + 1);
        if (!take(report::read_form(word.substr(0, equals)), further.form))
            return wrong_choice("the form of --also", word.substr(0, equals), report::form_names());
    }
    return std::nullopt;
}

std::optional<Ending> check_inspect(Words& words) {
    static constexpr std::array<std::string_view, 4> classes{"critical", "major", "minor", "observation"};
    InspectCall& call = words.inspect;
    if (!take(rules::read_class(words.gate), call.gate)) return wrong_choice("--class", words.gate, classes);
    if (!take(report::read_form(words.form), call.form))
        return wrong_choice("--form", words.form, report::form_names());
    if (auto wrong = check_also(words.also, call)) return wrong;
    if (auto wrong = check_profile(words.profile, call)) return wrong;
    if (call.new_only && call.since.empty())
        return mistake("--new-only compares with an earlier report, and none was given",
                       "write --since REPORT too");
    return check_colour(words.colour, call.colour);
}

std::optional<Ending> check_list(Words& words) {
    static constexpr std::array<std::string_view, 2> forms{"text", "json"};
    if (std::find(forms.begin(), forms.end(), words.list_form) == forms.end())
        return wrong_choice("--form", words.list_form, forms);
    words.list.as_json = words.list_form == "json";
    return std::nullopt;
}

std::optional<Ending> check_width(const Words& words) {
    for (const std::size_t width : {words.inspect.width, words.explain.width, words.list.width,
                                    words.vocabulary.width, words.bench.width})
        if (width < least_width || width > most_width)
            return mistake(fmt::format("--width is {} to {} columns, not {}", least_width, most_width, width),
                           "");
    return std::nullopt;
}

std::optional<Ending> check_manual(const Words& words, ManualCall& call) {
    static constexpr std::array<std::string_view, 3> shells{"bash", "zsh", "fish"};
    static constexpr std::array<std::string_view, 2> forms{"html", "markdown"};
    const int asked = (words.man ? 1 : 0) + (call.shell.empty() ? 0 : 1) + (call.folder.empty() ? 0 : 1);
    if (asked != 1)
        return mistake("manual writes one thing at a time: --man, --completion SHELL or --pages DIR",
                       "packproof manual --help says what can be given");
    if (!call.shell.empty() && std::find(shells.begin(), shells.end(), call.shell) == shells.end())
        return wrong_choice("--completion", call.shell, shells);
    if (!words.pages_form.empty()) {
        if (call.folder.empty()) return mistake("--form is of the pages, which were not asked for", "");
        if (std::find(forms.begin(), forms.end(), words.pages_form) == forms.end())
            return wrong_choice("--form", words.pages_form, forms);
    }
    call.as_markdown = words.pages_form == "markdown";
    call.form = words.man            ? ManualCall::Form::man
                : call.shell.empty() ? ManualCall::Form::pages
                                     : ManualCall::Form::completion;
    return std::nullopt;
}

std::optional<Ending> check_day(const Words& words) {
    for (const std::string& day :
         {words.inspect.day, words.explain.day, words.rfi.day, words.bench.day, words.sheet.day})
        if (!day.empty() && !text::read_day(day))
            return mistake(fmt::format("--date is a day such as 2026-01-31, not {}", day), "");
    return std::nullopt;
}

std::variant<Call, Ending> call_of(Words& words, const Commands& commands) {
    const auto levels = log_levels();
    if (std::find(levels.begin(), levels.end(), words.log) == levels.end())
        return wrong_choice("--log", words.log, levels);
    std::optional<Ending> wrong = check_width(words);
    if (!wrong) wrong = check_day(words);
    if (wrong) return *wrong;
    Call call{{}, words.log};
    if (commands.inspect->parsed()) {
        wrong = check_inspect(words);
        call.command = words.inspect;
    } else if (commands.explain->parsed()) {
        wrong = check_colour(words.colour, words.explain.colour);
        call.command = words.explain;
    } else if (commands.rfi->parsed()) {
        if (!take(report::read_request_form(words.request_form), words.rfi.form))
            wrong = wrong_choice("--form", words.request_form, report::request_form_names());
        call.command = words.rfi;
    } else if (commands.bench->parsed()) {
        if (!take(report::read_bench_form(words.bench_form), words.bench.form))
            wrong = wrong_choice("--form", words.bench_form, report::bench_form_names());
        else
            wrong = check_colour(words.colour, words.bench.colour);
        call.command = words.bench;
    } else if (commands.sheet->parsed()) {
        call.command = words.sheet;
    } else if (commands.prove->parsed()) {
        call.command = words.prove;
    } else if (commands.rules->parsed()) {
        wrong = check_list(words);
        call.command = words.list;
    } else if (commands.serve->parsed()) {
        call.command = words.serve;
    } else if (commands.start->parsed()) {
        call.command = words.start;
    } else if (commands.manual->parsed()) {
        wrong = check_manual(words, words.manual);
        call.command = words.manual;
    } else {
        call.command = words.vocabulary;
    }
    if (wrong) return *wrong;
    return call;
}

}  // namespace

std::variant<Call, Ending> read_command_line(std::span<const std::string> arguments,
                                             std::span<const Blank> blanks) {
    Words words;
    CLI::App app(std::string(program_about), "packproof");
    const Commands commands = add_commands(app, words, blanks);
    if (arguments.empty()) return Ending{exit_trouble, "", app.help()};
    try {
        std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());  // as the library wants them
        app.parse(std::move(reversed));
    } catch (const CLI::CallForVersion&) {
        return Ending{exit_nothing, version_line() + "\n", ""};
    } catch (const CLI::CallForHelp&) {
        return Ending{exit_nothing, app.help(), ""};  // of the innermost command named
    } catch (const CLI::ParseError& error) {
        return explain_error(app, error);
    }
    return call_of(words, commands);
}

}  // namespace packproof::cli
