// A file's bytes and the places in it. Every position in the program is a byte offset into a source; lines
// and columns are worked out only when one is shown. Sources live as long as the Sources object: the
// string_views handed out stay valid, also when more sources are added. Several threads may read; one may
// add, if no other reads meanwhile: threads that add have a branch each, which is adopted afterwards.
#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <map>
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
    Sources() = default;
    /// A branch: sees all of `trunk`, which must neither change nor end before it, and numbers its own files
    /// from `first`, at least the size of the trunk.
    Sources(const Sources& trunk, SourceIndex first);
    /// Takes over the files of a branch under the numbers that they have. They must lie behind all that is
    /// here.
    void adopt(Sources&& branch);

    /// Takes a file's name as the user gave it and its bytes.
    SourceIndex add(std::string path, std::string bytes);

    [[nodiscard]] std::string_view path(SourceIndex source) const;
    [[nodiscard]] std::string_view bytes(SourceIndex source) const;
    /// One past the greatest number in use.
    [[nodiscard]] std::size_t size() const;
    [[nodiscard]] bool holds(SourceIndex source) const { return find(source) != nullptr; }

    /// The numbers [first, end) of those that were read together: of one branch, or of none.
    struct Stretch {
        SourceIndex first = 0;
        SourceIndex end = 0;
    };
    [[nodiscard]] Stretch read_with(SourceIndex source) const;

    /// Line and columns of a byte offset (an offset past the end gives the end). Cost: linear in the file.
    [[nodiscard]] Place place(SourceIndex source, std::uint32_t offset) const;
    /// Byte offset of a line and a code-point column, both from 1, as parsers report them.
    [[nodiscard]] std::uint32_t offset(SourceIndex source, std::uint32_t line, std::uint32_t column) const;
    /// The whole line in which an offset lies, without its line end.
    [[nodiscard]] std::string_view line_at(SourceIndex source, std::uint32_t offset) const;

    /// From now on readers of files take these bytes instead of what lies on disk, there or not. `path` is
    /// absolute, with links resolved. For an editor's open texts.
    void replace_file(std::string path, std::string bytes);
    /// Null: the disk counts.
    [[nodiscard]] const std::string* replacement(std::string_view path) const;
    /// Paths of all replaced files, sorted.
    [[nodiscard]] std::vector<std::string> replaced_files() const;

  private:
    struct File {
        std::string path;
        std::string bytes;
        std::vector<std::uint32_t> line_starts;
    };
    struct Block {
        SourceIndex first = 0;
        std::deque<File> files;
        [[nodiscard]] std::size_t end() const { return first + files.size(); }
    };
    [[nodiscard]] const Block* block_of(SourceIndex source) const;
    [[nodiscard]] const File* find(SourceIndex source) const;
    [[nodiscard]] const File& file(SourceIndex source) const;  // throws std::out_of_range
    const Sources* trunk_ = nullptr;
    std::deque<Block> blocks_;                                  // by number
    std::map<std::string, std::string, std::less<>> replaced_;  // by path
};

}  // namespace packproof::text
