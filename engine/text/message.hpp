// What is wrong with an input, and where. Messages are collected, never thrown: all mistakes of one run are
// reported together.
#pragma once

#include <string>
#include <vector>

#include "engine/text/source.hpp"

namespace packproof::text {

enum class Severity { error, warning, note };

struct Message {
    Severity severity = Severity::error;
    Span span;
    std::string text;  ///< one sentence, starts lower-case, no final period (GNU coding standards 4.4)
    std::string hint;  ///< what to write instead; may be empty
};

class Messages {
  public:
    void error(Span span, std::string text, std::string hint = {});
    void warning(Span span, std::string text, std::string hint = {});
    void note(Span span, std::string text, std::string hint = {});
    void add(Message message);

    [[nodiscard]] bool has_errors() const { return errors_ > 0; }
    [[nodiscard]] std::size_t error_count() const { return errors_; }
    [[nodiscard]] bool empty() const { return messages_.empty(); }
    /// By source, offset and text; exact repeats dropped.
    [[nodiscard]] std::vector<Message> sorted() const;

  private:
    std::vector<Message> messages_;
    std::size_t errors_ = 0;
};

/// `FILE:LINE:COLUMN: error: TEXT` and, if there is a hint, a second line `FILE:LINE:COLUMN: note: HINT`.
/// A message without a place prints as `packproof: error: TEXT`. Text is made harmless by safe_print.
[[nodiscard]] std::string print_message(const Message& message, const Sources& sources);

}  // namespace packproof::text
