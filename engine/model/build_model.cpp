#include "engine/model/build_model.hpp"

#include <algorithm>

#include "engine/model/draft.hpp"

namespace packproof::model {
namespace {

// Two papers on a part that nothing uses are nobody's concern.
void forget_unused_conflicts(Model& model) {
    const auto unused = [&model](const Conflict& conflict) { return !model.items[conflict.item].active; };
    model.conflicts.erase(std::remove_if(model.conflicts.begin(), model.conflicts.end(), unused),
                          model.conflicts.end());
}

}  // namespace

std::optional<Model> build_model(const document::Description& description, const Vocabulary& vocabulary,
                                 const text::Sources& sources, text::Messages& messages) {
    const std::size_t errors = messages.error_count();
    Draft draft{description, vocabulary, sources, messages, {}, {}, {}, {}, {}};
    draft.model.vocabulary = &vocabulary;
    collect_items(draft);
    read_items(draft);
    join_items(draft);
    activate_items(draft);
    fill_defaults(draft);
    forget_unused_conflicts(draft.model);
    if (messages.error_count() > errors) return std::nullopt;
    return std::move(draft.model);
}

}  // namespace packproof::model
