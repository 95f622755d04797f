// Which values of an input that nobody has stated would let a rule conform, all else as stated: found by
// trying, like what clears a finding.
#pragma once

#include <string>
#include <vector>

#include "engine/facts/facts.hpp"

namespace packproof::inspect {

/// One rule on one item that waits for the input.
struct Waiter {
    const rules::Application* application = nullptr;
    model::ItemIndex item = model::no_item;
};

/// What an answer looks like, by the form of the field: "a value in A, with its tolerance".
[[nodiscard]] std::string answer_form(const model::Field& field, const model::Vocabulary& vocabulary);

/// "at least 51.2 V", "40 mm to 60 mm", "copper or brass"; empty where the waiting rules need more
/// than this input, where every value would do, or none of those tried.
[[nodiscard]] std::string answer_limit(language::Input input, const std::vector<Waiter>& waiting,
                                       facts::Facts& facts);

}  // namespace packproof::inspect
