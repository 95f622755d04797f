// Messages on a stream of bytes as the Language Server Protocol 3.17 frames them ("Base Protocol"): a header
// of lines that end in CR LF, among them Content-Length in bytes, an empty line, then the content.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace packproof::serve {

/// The longest content and the longest header that are taken.
inline constexpr std::size_t most_content = 64U << 20U;
inline constexpr std::size_t most_header = 8U << 10U;

class Frames {
  public:
    void add(std::string_view bytes) { waiting_.append(bytes); }

    /// The content of the next whole message; nothing while it has not come in full. A header without a
    /// usable length is passed over and counted in `bad_headers`. Too long a content or header breaks the
    /// stream: see broken().
    [[nodiscard]] std::optional<std::string> next();

    /// Nobody can tell any more where the next message begins.
    [[nodiscard]] bool broken() const { return broken_; }
    /// How many headers had no usable length since the last question.
    [[nodiscard]] std::size_t take_bad_headers();

  private:
    std::string waiting_;
    std::size_t read_ = 0;  ///< of `waiting_`: given out already
    std::size_t bad_headers_ = 0;
    bool broken_ = false;
};

/// A message ready to be written.
[[nodiscard]] std::string framed(std::string_view content);

}  // namespace packproof::serve
