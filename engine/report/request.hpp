// A request for information as a letter: Markdown to send, HTML to print, JSON for other programs.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "engine/inspect/request.hpp"

namespace packproof::report {

enum class RequestForm : std::uint8_t { markdown, html, json };

[[nodiscard]] std::span<const std::string_view> request_form_names();  ///< in the order of RequestForm
[[nodiscard]] std::optional<RequestForm> read_request_form(std::string_view name);

/// `desk`: nobody has the parts in hand, so that what a bench would measure is asked as well.
struct RequestOptions {
    bool desk = false;
};

/// The same request gives the same bytes. Markdown and HTML hold the questions to the supplier; JSON holds
/// all: { "form": "packproof-request", "version": 1, "file", "title", "rules": { "version", "digest", "count"
/// },
///   "digest", "questions": [ { "form": "value" | "tolerance" | "contradiction" | "failing" | "item",
///   "answered_by": "supplier" | "bench" | "builder", "title", "text", "sides": [text], "parts": [text],
///   "why", "waiting": [text], "conceded": [text], "checks", "acceptable", "limit", "asked", "class",
///   "weight" } ], "caution" }
[[nodiscard]] std::string print_request(RequestForm form, const inspect::Request& request,
                                        RequestOptions options);

/// Those that the letter asks, in its order.
[[nodiscard]] std::vector<const inspect::Question*> asked_in_letter(const inspect::Request& request,
                                                                    RequestOptions options);

}  // namespace packproof::report
