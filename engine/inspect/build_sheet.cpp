#include "engine/inspect/build_sheet.hpp"

namespace packproof::inspect {

std::optional<BuildSheet> build_sheet(const std::string& path, const rules::RuleSet& rules,
                                      text::Sources& sources, text::Messages& messages,
                                      const Options& options) {
    const auto loaded = load(path, rules, sources, messages, options);
    if (!loaded) return std::nullopt;
    BuildSheet sheet;
    sheet.report = inspect_model(loaded->model, rules, sources, options);
    sheet.list = bench_list_of(*loaded, rules, sources, sheet.report);
    sheet.figures = draw(loaded->model, rules);
    return sheet;
}

}  // namespace packproof::inspect
