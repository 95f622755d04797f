#include "engine/inspect/inspect.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "engine/cli/commands.hpp"
#include "engine/cli/descriptions.hpp"
#include "engine/cli/log.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/progress.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/report/form.hpp"

namespace packproof::cli {

namespace {

using rules::Class;

bool at_or_above(std::optional<Class> gravest, Class gate) {
    return gravest && *gravest <= gate;
}

bool closes_gate(const inspect::Report& report, const InspectCall& call) {
    return at_or_above(report.gravest_failing(), call.gate) ||
           (call.undecided && at_or_above(report.gravest_undecided(), call.gate));
}

inspect::Options options_of(const InspectCall& call) {
    inspect::Options options;
    options.folders.libraries = call.libraries;
    options.item = call.item;
    options.conforming = call.all;
    return options;
}

void keep(const text::Messages& messages, report::Options& kept) {
    for (text::Message& message : messages.sorted())
        kept.messages.push_back(std::move(message));
}

// Fills in the names of the files whose input has errors; messages are printed as they come.
void inspect_each(std::span<const std::string> files, const InspectCall& call, Surroundings& around,
                  Workspace& workspace, report::Options& told) {
    const inspect::Options options = options_of(call);
    Progress progress(around, files.size());
    for (const std::string& file : files) {
        log_debug("inspecting " + file);
        text::Messages messages;
        auto report = inspect::inspect(file, workspace.rules, workspace.sources, messages, options);
        if (!messages.empty()) progress.wipe();
        print_messages(messages, workspace.sources, around);
        keep(messages, told);
        if (report)
            workspace.reports.push_back(*std::move(report));
        else
            told.not_inspected.push_back(file);
        progress.step();
    }
}

// The folder in which the program runs; empty where the system does not say.
std::string this_folder() {
    std::error_code ignored;
    return std::filesystem::current_path(ignored).string();
}

int gate_code(const InspectCall& call, const Workspace& workspace) {
    for (const inspect::Report& report : workspace.reports)
        if (closes_gate(report, call)) return exit_fails;
    return exit_nothing;
}

}  // namespace

int inspect_files(const InspectCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    std::vector<std::string> files;
    if (loaded) files = find_descriptions(call.paths, workspace.rules.vocabulary, messages);
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;

    report::Options options;
    keep(messages, options);
    inspect_each(files, call, around, workspace, options);
    options.colour = colour_wanted(call.colour, around);
    options.all = call.all;
    options.width = call.width;
    options.profile = call.profile;
    options.rules = &workspace.rules;
    options.folder = this_folder();
    // A SARIF log says what was wrong, so that there is one even if nothing could be inspected.
    if (workspace.reports.empty() && call.form != report::Form::sarif) return exit_trouble;
    const bool trouble = messages.has_errors() || !options.not_inspected.empty();
    const int code = trouble ? exit_trouble : gate_code(call, workspace);
    options.exit_code = code;
    return put_out(report::print(call.form, workspace.reports, workspace.sources, options), code, around);
}

}  // namespace packproof::cli
