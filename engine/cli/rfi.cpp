#include <algorithm>

#include <fmt/format.h>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/inspect/judging_day.hpp"
#include "engine/inspect/request.hpp"
#include "engine/report/request.hpp"
#include "engine/report/words.hpp"

namespace packproof::cli {

namespace {

// What the letter does not ask is the reader's own to find out.
void tell_the_rest(const inspect::Request& request, std::size_t in_letter, Surroundings& around) {
    const std::size_t rest = request.questions.size() - in_letter;
    if (rest == 0) return;
    around.err << fmt::format(
        "packproof: note: {} not in the letter {} yours to measure or to settle; --form json lists {}\n",
        report::counted(rest, "value", "values"), rest == 1 ? "is" : "are", rest == 1 ? "it" : "them");
}

}  // namespace

int request_information(const RfiCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    std::optional<inspect::Request> request;
    inspect::Options options;
    options.folders.libraries = call.libraries;
    inspect::set_day(call.day, options);
    if (loaded) request = inspect::request(call.path, workspace.rules, workspace.sources, messages, options);
    print_messages(messages, workspace.sources, around);
    if (!request) return exit_trouble;
    const report::RequestOptions letter{call.desk};
    if (call.form != report::RequestForm::json)
        tell_the_rest(*request, report::asked_in_letter(*request, letter).size(), around);
    return put_out(report::print_request(call.form, *request, letter), exit_nothing, around);
}

}  // namespace packproof::cli
