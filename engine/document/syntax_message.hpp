// The parser's complaint as a plain sentence: what is wrong, where it begins, what to write instead.
// Rests on the wording of toml++ 3.3; an unknown complaint is passed on in its own words.
#pragma once

#include <string_view>

#include "engine/document/statement.hpp"
#include "engine/document/value.hpp"
#include "engine/text/message.hpp"

namespace packproof::document {

/// One complaint: the text as it was parsed, where the parser stopped and what it said.
struct Complaint {
    text::SourceIndex source = text::no_source;
    std::string_view bytes;
    std::size_t offset = 0;
    std::string_view said;
    Statement statement;
};

[[nodiscard]] text::Message syntax_message(const Complaint& complaint);

/// For a key or header that stands twice: `before` is the sound text before it, `header` the names of the
/// table it stands in.
[[nodiscard]] text::Message repeat_message(const Complaint& complaint, const Node& before,
                                           std::string_view header, const text::Sources& sources);

}  // namespace packproof::document
