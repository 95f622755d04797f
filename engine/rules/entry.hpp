// One table of a rule file while it is read: typed access to its keys, with a message for whatever is
// missing, of the wrong form or unknown.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/document/value.hpp"
#include "engine/model/vocabulary.hpp"
#include "engine/text/message.hpp"

namespace packproof::rules {

class Entry {
  public:
    /// `what` names the table in messages: "rule breaker-protects-conductor".
    Entry(const document::Node& node, std::string what, text::Messages& messages)
        : node_(node), what_(std::move(what)), messages_(messages) {}

    [[nodiscard]] const document::Node& node() const { return node_; }
    [[nodiscard]] const std::string& what() const { return what_; }
    /// The place to point at when something about the whole table is wrong.
    [[nodiscard]] text::Span place() const;

    /// The key's node, marked as known; null if absent.
    const document::Node* take(std::string_view key);
    std::string text(std::string_view key, bool required = false);
    std::optional<bool> truth(std::string_view key);
    std::vector<std::string> texts(std::string_view key);  ///< a list of texts, or one text
    std::vector<model::Authority> authorities(std::string_view key, bool required);
    units::Unit unit(std::string_view key);  ///< absent: a plain number

    void error(const document::Node& at, std::string text, std::string hint = {});
    /// Reports keys that nothing asked for, with the nearest that was.
    void finish();

  private:
    const document::Node& node_;
    std::string what_;
    text::Messages& messages_;
    std::vector<std::string_view> known_;
};

/// Where a node is: its key, or the value itself.
[[nodiscard]] text::Span place_of(const document::Node& node);

}  // namespace packproof::rules
