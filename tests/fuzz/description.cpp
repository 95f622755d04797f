// Any text as a description, inspected with the built-in rules.
#include "engine/inspect/inspect.hpp"
#include "engine/model/build_model.hpp"
#include "engine/rules/built_in.hpp"
#include "tests/fuzz/oracle.hpp"

namespace {

using namespace packproof;

std::string inspect_text(std::string_view text, const rules::RuleSet& rules) {
    text::Sources sources;
    text::Messages messages;
    std::string said;
    if (const auto description = fuzz::description_from(text, sources, messages)) {
        const auto model = model::build_model(*description, rules.vocabulary, sources, messages);
        fuzz::demand(model.has_value() != messages.has_errors(), "a model is built unless there is an error");
        if (model) {
            const inspect::Report report = inspect::inspect_model(*model, rules, sources);
            for (const inspect::Finding& finding : report.findings) {
                if (finding.place.source == text::no_source) continue;
                fuzz::demand(finding.place.end <= sources.bytes(finding.place.source).size(),
                             "a finding lies inside its source");
            }
            const inspect::Coverage& coverage = report.coverage;
            fuzz::demand(coverage.conforming + coverage.failing + coverage.undecided + coverage.not_stated <=
                             coverage.applicable,
                         "no verdict is counted twice");
            said = fuzz::print_everything(report);
        }
    } else {
        fuzz::demand(messages.has_errors(), "a text that is not taken is an error");
    }
    fuzz::demand_good_messages(messages, sources);
    return said + fuzz::print_messages(messages, sources);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const rules::RuleSet rules = rules::built_in_rules();
    const std::string_view text = fuzz::as_text(data, size);
    fuzz::demand(inspect_text(text, rules) == inspect_text(text, rules), "a second run gives the same bytes");
    return 0;
}
