// One linear pass over a TOML text before the parser sees it: where its lines begin, and whether anything
// in it goes beyond the limits. Follows strings and comments as TOML 1.0 defines them.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "engine/document/read_toml.hpp"

namespace packproof::document {

/// Byte offsets of line starts, so that a parser's line and column become an offset.
class Lines {
  public:
    static constexpr std::uint32_t all_ascii = 0xffffffffU;
    struct Line {
        std::uint32_t start = 0;
        std::uint32_t ascii = all_ascii;  ///< how many bytes stand before the first that is not ASCII
    };
    std::vector<Line> lines;

    /// `line` and `column` from 1; the column in code points.
    [[nodiscard]] std::uint32_t offset(std::string_view bytes, std::uint32_t line,
                                       std::uint32_t column) const {
        if (line == 0 || line > lines.size()) return beyond(bytes, line);
        const Line& found = lines[line - 1];
        const std::uint32_t at = found.start + column - 1;
        return column - 1 <= found.ascii && at <= bytes.size() ? at : counted(bytes, found, column);
    }

  private:
    [[nodiscard]] std::uint32_t beyond(std::string_view bytes, std::uint32_t line) const;
    [[nodiscard]] static std::uint32_t counted(std::string_view bytes, const Line& line,
                                               std::uint32_t column);
};

/// Fills `lines`; false, with messages, where a line is too long or a key has too many dots. A byte-order
/// mark belongs to no column.
[[nodiscard]] bool scan(text::SourceIndex source, std::string_view bytes, const Limits& limits, Lines& lines,
                        text::Messages& messages);

}  // namespace packproof::document
