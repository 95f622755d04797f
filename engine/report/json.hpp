// The report as one JSON object a run, for programs. Fields are added, never renamed or removed, without a
// new `version`. Text is not cut or altered: what a screen could misread is escaped by JSON's own means.
#pragma once

#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// Of the form: raised when something that stood in it is gone or means something else.
inline constexpr int json_form_version = 1;

/// { "form": "packproof-report", "version": 1,
///   "complete": false when a file of the run could not be inspected; "not_inspected": [its name, ...],
///   "rules": { "version", "digest" },
///   "files": [ { "file", "title", "digest", "verdict" (a sentence), "coverage": { counts },
///               "next": [ { "text", "ask", "asked", "note", "answered_by", "checks", "weight", "rules":
///               [name] } ], "assumptions": [ { "text", "basis" } ], "chosen": [text], "tried": [text] } ],
///   "findings": [ { "description" (one of files), "rule", "class", "verdict", "item", "kind",
///               "file", "line", "column" (null without a place; from 1, code points),
///               "at_once" (stands before all others), "asks", "because", "subject", "has": { "text",
///               "number": null or { "low", "high", "unit" }
///               }, "origin", "relation", "needs": { "text", "number" }, "needs_text", "by", "working": [ {
///               "name", "formula", "numbers", "result" } ], "clears": [ { "text", "value": { "text",
///               "number" } } ], "advice", "shows": [text], "decides", "wanted": [ { "text", "ask", "asked",
///               "note", "answered_by": "supplier" | "bench" | "builder" | "" } ], "rests_on": [text],
///               "basis": [ { "document", "clause", "note", "status" } ], "caution", "cause": null or index
///               into findings, "consequences": [index into findings] } ],
///   "caution": the general one }
/// Numbers are in SI base units; an unbounded end is null. What conforms is listed only with `all`; indices
/// count the findings that are listed.
[[nodiscard]] std::string print_json(std::span<const inspect::Report> reports, const text::Sources& sources,
                                     const Options& options);

}  // namespace packproof::report
