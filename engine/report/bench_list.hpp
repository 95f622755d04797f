// The list for the bench: boxes to tick, values to expect, blanks to fill in. As text, as HTML to print, and
// as JSON.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "engine/inspect/worksheet.hpp"
#include "engine/report/options.hpp"

namespace packproof::report {

enum class BenchForm : std::uint8_t { text, html, json };

[[nodiscard]] std::span<const std::string_view> bench_form_names();  ///< in the order of BenchForm
[[nodiscard]] std::optional<BenchForm> read_bench_form(std::string_view name);

/// The same list gives the same bytes. JSON:
/// { "form": "packproof-bench", "version": 1, "file", "title", "rules": { "version", "digest" }, "digest",
///   "stops": [text], "sheets": [ { "name", "title", "about", "lines": [ { "item", "text", "expects",
///   "found", "state": "open" | "inside" | "outside" | "uncertain", "measured", "hold", "stop" } ] } ],
///   "measure": [ { "title", "how", "parts": [text], "decides": [text] } ], "cautions": [text], "caution":
///   the general one }
[[nodiscard]] std::string print_bench(BenchForm form, const inspect::BenchList& list, const Options& options);

}  // namespace packproof::report
