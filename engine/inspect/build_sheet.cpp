#include "engine/inspect/build_sheet.hpp"

#include <algorithm>

namespace packproof::inspect {

std::optional<BuildSheet> build_sheet(const std::string& path, const rules::RuleSet& rules,
                                      text::Sources& sources, text::Messages& messages,
                                      const Options& options) {
    const auto loaded = load(path, rules, sources, messages, options);
    if (!loaded) return std::nullopt;
    BuildSheet sheet;
    sheet.report = inspect_model(loaded->model, rules, sources, options);
    sheet.list = bench_list_of(*loaded, rules, sources, sheet.report);
    for (const std::string& caution : sheet.list.cautions) {
        const auto known = std::find_if(rules.cautions.begin(), rules.cautions.end(),
                                        [&](const rules::Caution& one) { return one.text == caution; });
        const bool shortened = known != rules.cautions.end() && !known->brief.empty();
        sheet.cautions.push_back(shortened ? known->brief : caution);
    }
    sheet.figures = draw(loaded->model, rules);
    return sheet;
}

}  // namespace packproof::inspect
