#include "engine/inspect/inspect.hpp"

#include <fmt/format.h>

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

// The names of the files whose input has errors; their messages are printed as they come.
std::vector<std::string> inspect_each(std::span<const std::string> files, const InspectCall& call,
                                      Surroundings& around, Workspace& workspace) {
    const inspect::Options options = options_of(call);
    std::vector<std::string> not_inspected;
    Progress progress(around, files.size());
    for (const std::string& file : files) {
        log_debug("inspecting " + file);
        text::Messages messages;
        auto report = inspect::inspect(file, workspace.rules, workspace.sources, messages, options);
        if (!messages.empty()) progress.wipe();
        print_messages(messages, workspace.sources, around);
        if (report)
            workspace.reports.push_back(*std::move(report));
        else
            not_inspected.push_back(file);
        progress.step();
    }
    return not_inspected;
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
    options.not_inspected = inspect_each(files, call, around, workspace);
    options.colour = colour_wanted(call.colour, around);
    options.all = call.all;
    options.width = call.width;
    if (workspace.reports.empty()) return exit_trouble;
    const bool trouble = messages.has_errors() || !options.not_inspected.empty();
    const int code = trouble ? exit_trouble : gate_code(call, workspace);
    return put_out(report::print(call.form, workspace.reports, workspace.sources, options), code, around);
}

}  // namespace packproof::cli
