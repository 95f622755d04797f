#include "engine/cli/run.hpp"

#include <ostream>

#include "engine/cli/command_line.hpp"
#include "engine/cli/commands.hpp"
#include "engine/cli/log.hpp"
#include "engine/cli/output.hpp"

namespace packproof::cli {

namespace {

struct Dispatch {
    Surroundings& around;
    Workspace& workspace;

    int operator()(const InspectCall& call) const { return inspect_files(call, around, workspace); }
    int operator()(const ExplainCall& call) const { return explain(call, around, workspace); }
    int operator()(const RfiCall& call) const { return request_information(call, around, workspace); }
    int operator()(const BenchCall& call) const { return print_bench_list(call, around, workspace); }
    int operator()(const SheetCall& call) const { return write_sheet(call, around, workspace); }
    int operator()(const RulesListCall& call) const { return list_rules(call, around, workspace); }
    int operator()(const RulesProveCall& call) const { return prove_rules(call, around, workspace); }
    int operator()(const NewCall& call) const { return start_new(call, around, workspace); }
    int operator()(const VocabularyCall& call) const { return print_vocabulary(call, around, workspace); }
    int operator()(const ManualCall& call) const { return print_manual(call, around, workspace); }
    int operator()(const ServeCall& call) const { return serve_editor(call, around); }
};

}  // namespace

int run(std::span<const std::string> arguments, Surroundings& around, Workspace& workspace) {
    const auto starter = starter_template(around.built_in_files());
    const auto blanks = starter ? blanks_of(*starter) : std::vector<Blank>{};
    const auto read = read_command_line(arguments, blanks);
    if (const auto* ending = std::get_if<Ending>(&read)) {
        around.err << ending->err;
        return put_out(ending->out, ending->code, around);
    }
    const Call& call = std::get<Call>(read);
    open_log(around.err, call.log_level);
    const int code = std::visit(Dispatch{around, workspace}, call.command);
    close_log();
    around.err.flush();
    return code;
}

}  // namespace packproof::cli
