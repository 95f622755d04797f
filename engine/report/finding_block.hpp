// One finding on the inspection sheet: class, item, question, what is wrong and what clears it, and then what
// a reader needs to check it with pencil and paper. Long formulas, notes on sources and the sources of
// defaults show only in the whole form.
#pragma once

#include <cstddef>
#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/page.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// What a block needs to know of the sheet around it.
struct BlockPlace {
    std::size_t number = 0;   ///< on the sheet, from 1
    std::size_t caution = 0;  ///< number of its caution on the sheet, from 1; 0: none
    bool whole = false;
    const std::vector<inspect::Concession>* concessions = nullptr;  ///< of the report; may be absent
};

void write_finding(Page& page, const inspect::Finding& finding, std::span<const inspect::Finding> all,
                   const text::Sources& sources, BlockPlace place);

/// How a verdict was reached, and on what it rests: working, inputs and sources, in full.
void write_proof(Page& page, const inspect::Finding& finding, const text::Sources& sources);

/// "pack.toml:24:11", or "" for what has no place in a file.
[[nodiscard]] std::string place_words(const text::Span& span, const text::Sources& sources);

/// One line of words: "voltage-drop on main-positive, minor: 2.1 V; needs at most 1.5 V".
[[nodiscard]] std::string short_words(const inspect::Finding& finding);

}  // namespace packproof::report
