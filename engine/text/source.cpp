#include "engine/text/source.hpp"

#include <algorithm>
#include <iterator>
#include <stdexcept>
#include <utility>

#include "engine/text/utf8.hpp"

namespace packproof::text {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
constexpr std::uint32_t tab_stop = 8;

std::uint32_t short_size(std::size_t size) {
    return static_cast<std::uint32_t>(size);
}

std::size_t mark_length(std::string_view bytes) {
    return bytes.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
}

// The byte-order mark belongs to no line: column 1 of line 1 is the byte after it.
std::vector<std::uint32_t> starts_of_lines(std::string_view bytes) {
    std::vector<std::uint32_t> starts{short_size(mark_length(bytes))};
    for (std::size_t at = bytes.find('\n'); at != std::string_view::npos; at = bytes.find('\n', at + 1))
        starts.push_back(short_size(at + 1));
    return starts;
}

/// A line's bytes [begin, end) without LF or CR LF.
struct Line {
    std::uint32_t number = 0;  ///< from 0
    std::uint32_t begin = 0;
    std::uint32_t end = 0;
};

Line line_number(std::string_view bytes, const std::vector<std::uint32_t>& starts, std::uint32_t number) {
    const std::uint32_t begin = starts[number];
    if (number + 1 == starts.size()) return {number, begin, short_size(bytes.size())};
    std::uint32_t end = starts[number + 1] - 1;
    if (end > begin && bytes[end - 1] == '\r') --end;
    return {number, begin, end};
}

Line line_around(std::string_view bytes, const std::vector<std::uint32_t>& starts, std::uint32_t offset) {
    const auto next = std::upper_bound(starts.begin(), starts.end(), offset);
    const auto number = next == starts.begin() ? 0 : next - starts.begin() - 1;
    return line_number(bytes, starts, static_cast<std::uint32_t>(number));
}

}  // namespace

Sources::Sources(const Sources& trunk, SourceIndex first) : trunk_(&trunk) {
    blocks_.push_back({first, {}});
}

void Sources::adopt(Sources&& branch) {
    for (Block& block : branch.blocks_)
        if (!block.files.empty()) blocks_.push_back(std::move(block));
    branch.blocks_.clear();
}

SourceIndex Sources::add(std::string path, std::string bytes) {
    if (blocks_.empty()) blocks_.emplace_back();
    Block& last = blocks_.back();
    std::vector<std::uint32_t> starts = starts_of_lines(bytes);
    last.files.push_back({std::move(path), std::move(bytes), std::move(starts)});
    return short_size(last.end() - 1);
}

std::size_t Sources::size() const {
    const std::size_t own = blocks_.empty() || blocks_.back().files.empty() ? 0 : blocks_.back().end();
    return std::max(own, trunk_ == nullptr ? 0 : trunk_->size());
}

const Sources::Block* Sources::block_of(SourceIndex source) const {
    const auto next =
        std::upper_bound(blocks_.begin(), blocks_.end(), source,
                         [](SourceIndex number, const Block& block) { return number < block.first; });
    if (next == blocks_.begin() || source >= std::prev(next)->end())
        return trunk_ == nullptr ? nullptr : trunk_->block_of(source);
    return &*std::prev(next);
}

const Sources::File* Sources::find(SourceIndex source) const {
    const Block* block = block_of(source);
    return block == nullptr ? nullptr : &block->files[source - block->first];
}

const Sources::File& Sources::file(SourceIndex source) const {
    const File* found = find(source);
    if (found == nullptr) throw std::out_of_range("no source has this number");
    return *found;
}

Sources::Stretch Sources::read_with(SourceIndex source) const {
    const Block* block = block_of(source);
    if (block == nullptr) return {};
    return {block->first, short_size(block->end())};
}

std::string_view Sources::path(SourceIndex source) const {
    return file(source).path;
}

std::string_view Sources::bytes(SourceIndex source) const {
    return file(source).bytes;
}

void Sources::replace_file(std::string path, std::string bytes) {
    replaced_.insert_or_assign(std::move(path), std::move(bytes));
}

const std::string* Sources::replacement(std::string_view path) const {
    const auto found = replaced_.find(path);
    return found == replaced_.end() ? nullptr : &found->second;
}

std::vector<std::string> Sources::replaced_files() const {
    std::vector<std::string> paths;
    paths.reserve(replaced_.size());
    for (const auto& [path, bytes] : replaced_)
        paths.push_back(path);
    return paths;
}

Place Sources::place(SourceIndex source, std::uint32_t offset) const {
    const File& file = this->file(source);
    const Line line = line_around(file.bytes, file.line_starts, offset);
    const std::size_t stop = std::min(offset, line.end);
    Place place{line.number + 1, 1, 1, 1};
    for (std::size_t at = line.begin; at < stop;) {
        const CodePoint point = code_point_at(file.bytes, at);
        if (at + point.length > stop) break;  // the offset lies inside this code point: it begins here
        place.column += 1;
        place.utf16_column += point.value > 0xFFFF ? 2U : 1U;
        if (point.value == U'\t')
            place.display_column += tab_stop - (place.display_column - 1) % tab_stop;
        else
            place.display_column += short_size(cell_width(point.value));
        at += point.length;
    }
    return place;
}

std::uint32_t Sources::offset(SourceIndex source, std::uint32_t line, std::uint32_t column) const {
    const File& file = this->file(source);
    const auto& starts = file.line_starts;
    if (line > starts.size()) return short_size(file.bytes.size());
    const Line bounds = line_number(file.bytes, starts, std::max(line, 1U) - 1);
    std::size_t at = bounds.begin;
    for (std::uint32_t i = 1; i < column && at < bounds.end; ++i)
        at += code_point_at(file.bytes, at).length;
    return short_size(std::min<std::size_t>(at, bounds.end));
}

std::string_view Sources::line_at(SourceIndex source, std::uint32_t offset) const {
    const File& file = this->file(source);
    const Line line = line_around(file.bytes, file.line_starts, offset);
    return std::string_view{file.bytes}.substr(line.begin, line.end - line.begin);
}

}  // namespace packproof::text
