// An editor for tests: speaks with a session in process, keeps what it was told, and applies what it is
// offered as LSP 3.17 says.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "engine/serve/session.hpp"

namespace packproof::serve_tests {

using Json = nlohmann::json;

/// A message with its header, written here anew.
[[nodiscard]] std::string framed(const std::string& content);
/// The messages of a stream; throws where it is not made of whole frames.
[[nodiscard]] std::vector<Json> messages_in(std::string_view stream);

class Client {
  public:
    explicit Client(std::vector<std::string> rule_folders = {}, const Json& encodings = nullptr);

    /// The whole answer, with `result` or `error`.
    Json ask(const std::string& method, const Json& params);
    /// The `result` of a question about a place in a text.
    Json at(const std::string& method, const std::string& uri, int line, int character);
    void notify(const std::string& method, const Json& params);

    void open(const std::string& uri, const std::string& text);
    void change(const std::string& uri, const std::string& text);  ///< without settling
    void close(const std::string& uri);
    void settle();

    /// Changes what is open by the edits of a code action, and settles.
    void apply(const Json& action);
    /// Code actions at a place of what was told.
    Json actions(const std::string& uri, const Json& range);

    /// What stands told of a URI with this code; `input` for mistakes of the text.
    [[nodiscard]] std::vector<Json> told(const std::string& uri, const std::string& code) const;

    serve::Session session;
    std::map<std::string, Json> published;  ///< the last PublishDiagnosticsParams by URI
    std::size_t publications = 0;
    std::vector<Json> shown;  ///< window/showMessage
    std::map<std::string, std::string> texts;

  private:
    Json take(const std::string& stream);
    int next_id_ = 1;
    int version_ = 1;
};

/// Labels of a completion's items.
[[nodiscard]] std::vector<std::string> labels(const Json& completion);
/// A file of the source tree: its text, and its URI.
[[nodiscard]] std::string source_text(const std::string& name);
[[nodiscard]] std::string source_uri(const std::string& name);
/// Text with one stretch replaced; throws where it does not occur.
[[nodiscard]] std::string replaced(std::string text, const std::string& old, const std::string& by);
/// Line and character (UTF-16; the text before it on the line is ASCII) of the first `part`, from 0.
[[nodiscard]] std::pair<int, int> place_of(const std::string& text, const std::string& part);

}  // namespace packproof::serve_tests
