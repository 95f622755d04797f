// A file's bytes and the places in it. Every position in the program is a byte offset into a source; lines
// and columns are worked out only when one is shown. Sources live as long as the Sources object: the
// string_views handed out stay valid, also when more sources are added. Not thread-safe for adding.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

namespace packproof::text {

using SourceIndex = std::uint32_t;
inline constexpr SourceIndex no_source = 0xffffffffU;

/// A stretch of bytes [begin, end) of one source. `source == no_source` means "nowhere in a file".
struct Span {
    SourceIndex source = no_source;
    std::uint32_t begin = 0;
    std::uint32_t end = 0;

    friend bool operator==(const Span&, const Span&) = default;
    friend auto operator<=>(const Span&, const Span&) = default;
};

/// The three views of one byte offset; all count from 1.
struct Place {
    std::uint32_t line = 0;
    std::uint32_t column = 0;          ///< in code points (SARIF `unicodeCodePoints`); what we print
    std::uint32_t utf16_column = 0;    ///< in UTF-16 units (editors)
    std::uint32_t display_column = 0;  ///< in terminal cells, tab stops of 8
};

class Sources {
  public:
    /// Takes a file's name as the user gave it and its bytes.
    SourceIndex add(std::string path, std::string bytes);

    [[nodiscard]] std::string_view path(SourceIndex source) const;
    [[nodiscard]] std::string_view bytes(SourceIndex source) const;
    [[nodiscard]] std::size_t size() const { return files_.size(); }

    /// Line and columns of a byte offset (an offset past the end gives the end). Cost: linear in the file.
    [[nodiscard]] Place place(SourceIndex source, std::uint32_t offset) const;
    /// Byte offset of a line and a code-point column, both from 1, as parsers report them.
    [[nodiscard]] std::uint32_t offset(SourceIndex source, std::uint32_t line, std::uint32_t column) const;
    /// The whole line in which an offset lies, without its line end.
    [[nodiscard]] std::string_view line_at(SourceIndex source, std::uint32_t offset) const;

  private:
    struct File {
        std::string path;
        std::string bytes;
        mutable std::vector<std::uint32_t> line_starts;  // filled at the first question
    };
    const std::vector<std::uint32_t>& line_starts(const File& file) const;
    std::deque<File> files_;
};

}  // namespace packproof::text
