#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/inspect/worksheet.hpp"
#include "engine/report/bench_list.hpp"

namespace packproof::cli {

int print_bench_list(const BenchCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    std::optional<inspect::BenchList> list;
    inspect::Options options;
    options.folders.libraries = call.libraries;
    if (loaded) list = inspect::bench_list(call.path, workspace.rules, workspace.sources, messages, options);
    print_messages(messages, workspace.sources, around);
    if (!list) return exit_trouble;
    report::Options form;
    form.colour = colour_wanted(call.colour, around);
    form.width = call.width;
    return put_out(report::print_bench(call.form, *list, form),
                   list->stops.empty() ? exit_nothing : exit_fails, around);
}

}  // namespace packproof::cli
