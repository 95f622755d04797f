// One finding on the page of an inspection.
#pragma once

#include <cstddef>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// What a finding needs to know of the page around it.
struct HtmlPlace {
    std::size_t description = 0;  ///< its number on the page, from 1
    std::size_t number = 0;       ///< on the description's list of findings, from 1; 0: not numbered
    std::size_t caution = 0;      ///< number of its caution, from 1; 0: none
    bool whole = false;           ///< also the steps inside a solved network
};

/// Names one finding of the page: "finding-1-3".
[[nodiscard]] std::string html_id(std::size_t description, std::size_t finding);

/// `index`: which of the report's findings.
void write_html_finding(std::string& out, const inspect::Report& report, std::size_t index,
                        const text::Sources& sources, const HtmlPlace& place);

}  // namespace packproof::report
