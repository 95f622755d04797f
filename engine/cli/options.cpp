#include "engine/cli/options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>

#include "engine/cli/log.hpp"
#include "engine/cli/version.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

constexpr std::size_t column_of_explanations = 26;
constexpr std::size_t help_width = 80;

constexpr std::size_t most_jobs = 256;

std::string whole_number_up_to(const std::string& written, std::size_t most) {
    const bool digits = !written.empty() && written.size() <= 9 &&
                        written.find_first_not_of("0123456789") == std::string::npos;
    if (digits && std::stoul(written) <= most) return {};
    return fmt::format("a whole number up to {} is wanted, not {}", most, text::safe_print(written));
}

// An empty variable of a script is no choice: it would drop a filter, or take today for a day.
std::string refuse_empty(const std::string& value) {
    return value.empty() ? std::string("its value is empty") : std::string();
}

// The library does not break lines.
void break_lines(CLI::App& command) {
    for (CLI::Option* option : command.get_options())
        option->description(
            text::wrap(option->get_description(), help_width - column_of_explanations, "", ""));
    for (CLI::App* sub : command.get_subcommands({}))
        break_lines(*sub);
}

void set_layout(CLI::App& app) {
    app.get_formatter()->column_width(column_of_explanations);
    app.get_formatter()->label("REQUIRED", "");
    app.get_formatter()->label("TEXT", "");
    app.get_formatter()->label("SUBCOMMAND", "COMMAND");
    break_lines(app);
}

CLI::App* add_command(CLI::App& parent, Words& words, const std::string& name, const std::string& about,
                      const std::string& example) {
    CLI::App* command = parent.add_subcommand(name, about);
    command->group("Commands");
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
void add_several(CLI::App& command, const std::string& name, std::vector<std::string>& values,
                 const std::string& type, const std::string& about) {
    command.add_option(name, values, about)->type_name(type)->allow_extra_args(false)->check(refuse_empty);
}

void add_folders(CLI::App& command, const std::string& name, std::vector<std::string>& folders,
                 const std::string& about) {
    add_several(command, name, folders, "DIR", about);
}

void add_rules(CLI::App& command, std::vector<std::string>& folders) {
    add_folders(command, "--rules", folders,
                "a folder of your own rules, on top of the built-in ones; may be repeated");
}

void add_day(CLI::App& command, std::string& day) {
    command
        .add_option("--date", day, "the day on which concessions are judged, YYYY-MM-DD; today if not given")
        ->type_name("DAY")
        ->check(refuse_empty);
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
    command
        ->add_option("--form", words.form,
                     "text, lines (one a finding, for editors), table (one line a description, and why), "
                     "html (one page of all), json or sarif")
        ->type_name("FORM")
        ->capture_default_str();
    command
        ->add_option("--profile", words.profile,
                     "of the form sarif: full (every verdict) or alerts (only what fails); full if not given")
        ->type_name("PROFILE");
    command
        ->add_option("--since", call.since,
                     "an earlier report (form json) to compare with: what is new, changed, gone")
        ->type_name("REPORT")
        ->check(refuse_empty);
    command->add_flag("--new-only", call.new_only, "exit code 1 only for what is new or worse since then");
    add_several(*command, "--also", words.also, "FORM=FILE",
                "write that form of the report to a file as well; may be repeated");
    add_several(*command, "--overlay", call.overlays, "PLACE",
                "a file to lay over each description, or a folder of such, each in turn; repeated: every "
                "combination");
    command
        ->add_option(
            "--touched-by", call.touched,
            "only descriptions of which a file is in this list of paths, one a line, or as git diff -z "
            "--name-only writes them")
        ->type_name("LIST")
        ->check(refuse_empty);
    command
        ->add_option(
            "--jobs", call.jobs,
            fmt::format("threads, at most {}; as many as there are cores if 0 or not given", most_jobs))
        ->type_name("N")
        ->check([](const std::string& value) { return whole_number_up_to(value, most_jobs); });
    command->add_option("--item", call.item, "only findings on this item")
        ->type_name("ID")
        ->check(refuse_empty);
    command->add_flag("--all", call.all, "also what conforms, and every value that is not stated");
    command->add_flag("--new-rules", call.new_rules,
                      "rules that count from a later release on count already");
    add_day(*command, call.day);
    add_rules(*command, call.rule_folders);
    add_folders(*command, "--library", call.libraries, "a folder that parts may come from; may be repeated");
    add_width(*command, call.width);
    add_colour(*command, words);
    return command;
}

CLI::App* add_explain(CLI::App& app, Words& words) {
    CLI::App* command =
        add_command(app, words, "explain", "What a rule asks and why, or what is known of an item",
                    "explain cabin.toml#main-breaker");
    command->add_option("SUBJECT", words.explain.subject, "the name of a rule, or FILE#ITEM")->required();
    add_day(*command, words.explain.day);
    add_rules(*command, words.explain.rule_folders);
    add_folders(*command, "--library", words.explain.libraries,
                "a folder that parts may come from; may be repeated");
    add_width(*command, words.explain.width);
    add_colour(*command, words);
    return command;
}

CLI::App* add_rfi(CLI::App& app, Words& words) {
    CLI::App* command =
        add_command(app, words, "rfi", "Write the questions to the supplier", "rfi kit.toml > questions.md");
    command->add_option("FILE", words.rfi.path, "a description, or - for standard input")->required();
    command->add_option("--form", words.request_form, "markdown, html or json (all questions, also your own)")
        ->type_name("FORM")
        ->capture_default_str();
    command->add_flag("--desk", words.rfi.desk,
                      "nobody has the parts in hand: also ask what could be measured");
    add_day(*command, words.rfi.day);
    add_rules(*command, words.rfi.rule_folders);
    add_folders(*command, "--library", words.rfi.libraries,
                "a folder that parts may come from; may be repeated");
    return command;
}

CLI::App* add_bench(CLI::App& app, Words& words) {
    CLI::App* command = add_command(app, words, "bench", "Write the list to work by, with blanks",
                                    "bench cabin.toml --form html > bench.html");
    BenchCall& call = words.bench;
    command->add_option("FILE", call.path, "a description, or - for standard input")->required();
    command->add_option("--form", words.bench_form, "text, html (to print) or json")
        ->type_name("FORM")
        ->capture_default_str();
    command->add_option("--sheet", call.sheet, "only this part of the list: order, taps, power, ...")
        ->type_name("NAME");
    add_day(*command, call.day);
    add_rules(*command, call.rule_folders);
    add_folders(*command, "--library", call.libraries, "a folder that parts may come from; may be repeated");
    add_width(*command, call.width);
    add_colour(*command, words);
    return command;
}

CLI::App* add_sheet(CLI::App& app, Words& words) {
    CLI::App* command = add_command(app, words, "sheet", "Write one page to pin above the bench",
                                    "sheet cabin.toml -o sheet.html");
    SheetCall& call = words.sheet;
    command->add_option("FILE", call.path, "a description, or - for standard input")->required();
    command->add_option("-o,--output", call.output, "where to write it; standard output if not given")
        ->type_name("FILE");
    command->add_flag("--drawing", call.drawing, "the drawing alone, as SVG of true size");
    add_day(*command, call.day);
    add_rules(*command, call.rule_folders);
    add_folders(*command, "--library", call.libraries, "a folder that parts may come from; may be repeated");
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
        add_command(app, words, "vocabulary", "What may stand in a description", "vocabulary pack");
    command->add_option("KIND", words.vocabulary.kind, "only this kind of item");
    command->add_flag("--schema", words.vocabulary.schema,
                      "as a JSON Schema (draft-07) of a whole description, for editors");
    add_rules(*command, words.vocabulary.rule_folders);
    add_width(*command, words.vocabulary.width);
    return command;
}

CLI::App* add_manual(CLI::App& app, Words& words) {
    CLI::App* command = add_command(app, words, "manual", "Write man page, shell completion, reference pages",
                                    "manual --pages reference");
    command->add_flag("--man", words.man, "the man page of the program");
    command
        ->add_option("--completion", words.manual.shell,
                     "completion of commands and options: bash, zsh, fish")
        ->type_name("SHELL");
    command
        ->add_option("--pages", words.manual.folder,
                     "into this folder a page for every rule, kind, table, quantity and function")
        ->type_name("DIR");
    command->add_option("--form", words.pages_form, "of the pages: html or markdown; html if not given")
        ->type_name("FORM");
    add_rules(*command, words.manual.rule_folders);
    return command;
}

CLI::App* add_serve(CLI::App& app, Words& words) {
    CLI::App* command =
        add_command(app, words, "serve", "Talk to an editor: findings, help, fixes as you type",
                    "serve --rules house-rules");
    add_rules(*command, words.serve.rule_folders);
    add_folders(*command, "--library", words.serve.libraries,
                "a folder that parts may come from; may be repeated");
    return command;
}

}  // namespace

std::string version_line() {
    return fmt::format("packproof {}", program_version);
}

Commands add_commands(CLI::App& app, Words& words, std::span<const Blank> blanks) {
    Commands commands;
    commands.inspect = add_inspect(app, words);
    commands.explain = add_explain(app, words);
    commands.rfi = add_rfi(app, words);
    commands.bench = add_bench(app, words);
    commands.sheet = add_sheet(app, words);
    add_rule_commands(app, words, commands);
    commands.start = add_new(app, words, blanks);
    commands.vocabulary = add_vocabulary(app, words);
    commands.manual = add_manual(app, words);
    commands.serve = add_serve(app, words);
    app.set_help_flag("-h,--help", "this text");
    app.set_version_flag("--version", version_line(), "the program's version");
    app.require_subcommand(1);
    app.footer("Example:\n  packproof new cabin.toml && packproof inspect cabin.toml");
    set_layout(app);
    return commands;
}

}  // namespace packproof::cli
