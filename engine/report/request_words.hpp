// The sentences of a request for information that its forms share.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/report/request.hpp"

namespace packproof::report {

/// A part of the letter with its questions; numbers run on through the whole letter.
struct LetterPart {
    std::string_view heading;
    std::string_view lead;
    std::vector<const inspect::Question*> questions;
};

struct Letter {
    std::string heading;
    std::vector<std::string> opening;  ///< paragraphs
    std::vector<LetterPart> parts;     ///< those that are not empty
    std::vector<std::string> closing;  ///< paragraphs
    std::string origin;                ///< file, version and digests
};

[[nodiscard]] Letter letter_of(const inspect::Request& request, RequestOptions options);

/// One line of a question below its heading: "Why it matters" and the text.
struct LetterLine {
    std::string_view label;
    std::vector<std::string> texts;  ///< more than one: a list
};
[[nodiscard]] std::vector<LetterLine> lines_of(const inspect::Question& question);

}  // namespace packproof::report
