#include <fmt/format.h>

#include <algorithm>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/inspect/judging_day.hpp"
#include "engine/inspect/worksheet.hpp"
#include "engine/report/bench_list.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::cli {

namespace {

// False, with a message, where no worksheet has this name. One that has no lines here leaves an empty list.
bool keep_only(const std::string& name, const rules::RuleSet& rules, inspect::BenchList& list,
               Surroundings& around) {
    std::vector<std::string_view> names;
    for (const rules::Worksheet& sheet : rules.worksheets)
        names.emplace_back(sheet.name);
    if (std::find(names.begin(), names.end(), name) == names.end()) {
        const std::string_view near = text::nearest_name(name, names);
        print_trouble(fmt::format("no worksheet is named {}", name),
                      near.empty() ? fmt::format("there are {}", fmt::join(names, ", "))
                                   : fmt::format("did you mean {}", near),
                      around);
        return false;
    }
    std::erase_if(list.sheets, [&](const inspect::Sheet& sheet) { return sheet.name != name; });
    list.measure.clear();
    return true;
}

}  // namespace

int print_bench_list(const BenchCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    std::optional<inspect::BenchList> list;
    inspect::Options options;
    options.folders.libraries = call.libraries;
    inspect::set_day(call.day, options);
    if (loaded) list = inspect::bench_list(call.path, workspace.rules, workspace.sources, messages, options);
    print_messages(messages, workspace.sources, around);
    if (!list) return exit_trouble;
    if (!call.sheet.empty() && !keep_only(call.sheet, workspace.rules, *list, around)) return exit_trouble;
    report::Options form;
    form.colour = colour_wanted(call.colour, around);
    form.width = call.width;
    return put_out(report::print_bench(call.form, *list, form),
                   list->stops.empty() ? exit_nothing : exit_fails, around);
}

}  // namespace packproof::cli
