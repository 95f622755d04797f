#include "engine/cli/command_line.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <optional>
#include <sstream>

#include "engine/cli/log.hpp"
#include "engine/cli/surroundings.hpp"
#include "engine/cli/version.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

// The words of the command line before they are checked against what they may be.
struct Words {
    std::string log = "off";
    std::string gate = "major";
    std::string form = "text";
    std::string colour = "auto";
    InspectCall inspect;
    ExplainCall explain;
    RulesListCall list;
    RulesProveCall prove;
    NewCall start;
    VocabularyCall vocabulary;
    std::string list_form = "text";
};

struct Commands {
    CLI::App* inspect = nullptr;
    CLI::App* explain = nullptr;
    CLI::App* rules = nullptr;
    CLI::App* list = nullptr;
    CLI::App* prove = nullptr;
    CLI::App* start = nullptr;
    CLI::App* vocabulary = nullptr;
};

constexpr std::string_view help_hint = "packproof --help lists the commands";
constexpr std::size_t column_of_explanations = 26;

std::string version_line() {
    return fmt::format("packproof {}", program_version);
}

CLI::App* add_command(CLI::App& parent, Words& words, const std::string& name, const std::string& about,
                      const std::string& example) {
    CLI::App* command = parent.add_subcommand(name, about);
    command->set_help_flag("-h,--help", "this text");
    command->set_version_flag("--version", version_line(), "the program's version");
    command->footer("Example:\n  packproof " + example);
    command
        ->add_option("--log", words.log,
                     "what to log to standard error: " + fmt::format("{}", fmt::join(log_levels(), ", ")))
        ->type_name("LEVEL");
    return command;
}

// One value each time the option stands: a list would swallow the paths behind it.
void add_folders(CLI::App& command, const std::string& name, std::vector<std::string>& folders,
                 const std::string& about) {
    command.add_option(name, folders, about)->type_name("DIR")->allow_extra_args(false);
}

void add_rules(CLI::App& command, std::vector<std::string>& folders) {
    add_folders(command, "--rules", folders,
                "a folder of your own rules, on top of the built-in ones; may be repeated");
}

void add_width(CLI::App& command, std::size_t& width) {
    command.add_option("--width", width, "columns of the text")->type_name("N")->capture_default_str();
}

void add_colour(CLI::App& command, Words& words) {
    command.add_option("--colour", words.colour, "auto, always or never")
        ->type_name("WHEN")
        ->capture_default_str();
}

CLI::App* add_inspect(CLI::App& app, Words& words) {
    CLI::App* command = add_command(app, words, "inspect", "Inspect descriptions and report what was found",
                                    "inspect cabin.toml --class minor");
    InspectCall& call = words.inspect;
    command->add_option("PATHS", call.paths, "descriptions, folders of them, or - for standard input")
        ->required();
    command
        ->add_option(
            "--class", words.gate,
            "exit code 1 if something of this class or graver fails: critical, major, minor, observation")
        ->type_name("CLASS")
        ->capture_default_str();
    command->add_flag("--undecided", call.undecided,
                      "exit code 1 also if something of that class is undecided");
    command->add_option("--form", words.form, "text, lines (one a finding, for editors) or json")
        ->type_name("FORM")
        ->capture_default_str();
    command->add_option("--item", call.item, "only findings on this item")->type_name("ID");
    command->add_flag("--all", call.all, "also what conforms, and every value that is not stated");
    add_rules(*command, call.rule_folders);
    add_folders(*command, "--library", call.libraries, "a folder that parts may come from; may be repeated");
    add_width(*command, call.width);
    add_colour(*command, words);
    return command;
}

CLI::App* add_explain(CLI::App& app, Words& words) {
    CLI::App* command =
        add_command(app, words, "explain", "Say what a rule asks and why, or all that is known of an item",
                    "explain cabin.toml#main-breaker");
    command->add_option("SUBJECT", words.explain.subject, "the name of a rule, or FILE#ITEM")->required();
    add_rules(*command, words.explain.rule_folders);
    add_folders(*command, "--library", words.explain.libraries,
                "a folder that parts may come from; may be repeated");
    add_width(*command, words.explain.width);
    add_colour(*command, words);
    return command;
}

void add_rule_commands(CLI::App& app, Words& words, Commands& commands) {
    commands.rules = add_command(app, words, "rules", "List the rules, or prove them by their own examples",
                                 "rules prove");
    commands.rules->require_subcommand(0, 1);
    commands.list = add_command(*commands.rules, words, "list",
                                "Every rule with its class, kind and question", "rules list --form json");
    commands.list->add_option("--form", words.list_form, "text or json")
        ->type_name("FORM")
        ->capture_default_str();
    add_rules(*commands.list, words.list.rule_folders);
    add_width(*commands.list, words.list.width);
    commands.prove = add_command(*commands.rules, words, "prove", "Run every rule's own examples",
                                 "rules prove --rules house-rules");
    add_rules(*commands.prove, words.prove.rule_folders);
}

CLI::App* add_new(CLI::App& app, Words& words, std::span<const Blank> blanks) {
    CLI::App* command = add_command(app, words, "new", "Write a description to start from", "new cabin.toml");
    command->add_option("FILE", words.start.path, "where to write it; standard output if not given");
    for (const Blank& blank : blanks)
        command
            ->add_option_function<std::string>(
                "--" + blank.name,
                [&words, name = blank.name](const std::string& value) { words.start.values[name] = value; },
                fmt::format("{}; {} if not given", blank.about, blank.usual))
            ->type_name("VALUE");
    return command;
}

CLI::App* add_vocabulary(CLI::App& app, Words& words) {
    CLI::App* command =
        add_command(app, words, "vocabulary", "What may stand in a description", "vocabulary conductor");
    command->add_option("KIND", words.vocabulary.kind, "only this kind of item");
    add_rules(*command, words.vocabulary.rule_folders);
    add_width(*command, words.vocabulary.width);
    return command;
}

Commands add_commands(CLI::App& app, Words& words, std::span<const Blank> blanks) {
    Commands commands;
    commands.inspect = add_inspect(app, words);
    commands.explain = add_explain(app, words);
    add_rule_commands(app, words, commands);
    commands.start = add_new(app, words, blanks);
    commands.vocabulary = add_vocabulary(app, words);
    return commands;
}

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

std::optional<Ending> check_inspect(Words& words) {
    static constexpr std::array<std::string_view, 4> classes{"critical", "major", "minor", "observation"};
    InspectCall& call = words.inspect;
    if (!take(rules::read_class(words.gate), call.gate)) return wrong_choice("--class", words.gate, classes);
    if (!take(report::read_form(words.form), call.form))
        return wrong_choice("--form", words.form, report::form_names());
    return check_colour(words.colour, call.colour);
}

std::optional<Ending> check_list(Words& words) {
    static constexpr std::array<std::string_view, 2> forms{"text", "json"};
    if (std::find(forms.begin(), forms.end(), words.list_form) == forms.end())
        return wrong_choice("--form", words.list_form, forms);
    words.list.as_json = words.list_form == "json";
    return std::nullopt;
}

std::variant<Call, Ending> call_of(Words& words, const Commands& commands) {
    const auto levels = log_levels();
    if (std::find(levels.begin(), levels.end(), words.log) == levels.end())
        return wrong_choice("--log", words.log, levels);
    std::optional<Ending> wrong;
    Call call{{}, words.log};
    if (commands.inspect->parsed()) {
        wrong = check_inspect(words);
        call.command = words.inspect;
    } else if (commands.explain->parsed()) {
        wrong = check_colour(words.colour, words.explain.colour);
        call.command = words.explain;
    } else if (commands.prove->parsed()) {
        call.command = words.prove;
    } else if (commands.rules->parsed()) {
        wrong = check_list(words);
        call.command = words.list;
    } else if (commands.start->parsed()) {
        call.command = words.start;
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
    CLI::App app("Checks the design of a home-built battery pack before anyone builds it.", "packproof");
    app.set_help_flag("-h,--help", "this text");
    app.set_version_flag("--version", version_line(), "the program's version");
    app.require_subcommand(1);
    app.get_formatter()->column_width(column_of_explanations);
    app.footer("Example:\n  packproof new cabin.toml && packproof inspect cabin.toml");
    const Commands commands = add_commands(app, words, blanks);
    if (arguments.empty()) return Ending{exit_trouble, "", app.help()};
    try {
        std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());  // as the library wants them
        app.parse(std::move(reversed));
    } catch (const CLI::CallForVersion&) {
        return Ending{exit_nothing, version_line() + "\n", ""};
    } catch (const CLI::CallForHelp&) {
        return Ending{exit_nothing, innermost(app)->help(), ""};
    } catch (const CLI::ParseError& error) {
        return explain_error(app, error);
    }
    return call_of(words, commands);
}

}  // namespace packproof::cli
