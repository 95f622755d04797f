#include "engine/cli/command_tree.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "engine/cli/options.hpp"

namespace packproof::cli {

namespace {

// Lines are broken for --help.
std::string one_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
}

ShownOption shown(const CLI::Option& option) {
    ShownOption result;
    for (const std::string& name : option.get_snames())
        result.names.push_back("-" + name);
    for (const std::string& name : option.get_lnames())
        result.names.push_back("--" + name);
    result.dashed = !result.names.empty();
    if (!result.dashed) result.names.push_back(option.get_name(true));
    if (result.dashed && option.get_type_size() != 0) result.value = option.get_type_name();
    result.about = one_line(option.get_description());
    result.usual = option.get_default_str();
    result.required = option.get_required();
    result.several = option.get_items_expected_max() > 1;
    return result;
}

ShownCommand shown(const CLI::App& app) {
    ShownCommand result;
    result.name = app.get_name();
    result.about = one_line(app.get_description());
    const std::string footer = app.get_footer();
    const std::size_t example = footer.find("packproof ");
    if (example != std::string::npos) result.example = footer.substr(example);
    for (const CLI::Option* option : app.get_options())
        result.options.push_back(shown(*option));
    for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
        result.commands.push_back(shown(*command));
    return result;
}

}  // namespace

ShownCommand command_tree(std::span<const Blank> blanks) {
    Words words;
    CLI::App app(std::string(program_about), "packproof");
    static_cast<void>(add_commands(app, words, blanks));
    return shown(app);
}

}  // namespace packproof::cli
