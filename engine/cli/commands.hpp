// The commands, one a file. Each writes its result to `around.out`, messages to `around.err`, and gives the
// exit code. Results are put out whole: nothing is printed before it is known that it can be.
#pragma once

#include "engine/cli/call.hpp"
#include "engine/cli/surroundings.hpp"

namespace packproof::cli {

[[nodiscard]] int inspect_files(const InspectCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int explain(const ExplainCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int request_information(const RfiCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int print_bench_list(const BenchCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int write_sheet(const SheetCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int list_rules(const RulesListCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int prove_rules(const RulesProveCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int start_new(const NewCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int print_vocabulary(const VocabularyCall& call, Surroundings& around, Workspace& workspace);
[[nodiscard]] int print_manual(const ManualCall& call, Surroundings& around, Workspace& workspace);

/// A language server on standard input and output, until the editor ends it.
[[nodiscard]] int serve_editor(const ServeCall& call, Surroundings& around);

}  // namespace packproof::cli
