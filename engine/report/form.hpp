// The forms that a report comes in. A further form is a file beside these and one line in form.cpp.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

enum class Form : std::uint8_t { text, lines, json, sarif, table, html };

[[nodiscard]] std::span<const std::string_view> form_names();  ///< in the order of Form
[[nodiscard]] std::optional<Form> read_form(std::string_view name);

/// One document for all reports of a run. `sources` are those that the reports were made from. The same
/// reports give the same bytes.
[[nodiscard]] std::string print(Form form, std::span<const inspect::Report> reports,
                                const text::Sources& sources, const Options& options);

}  // namespace packproof::report
