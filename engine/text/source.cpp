#include "engine/text/source.hpp"

#include <algorithm>
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

SourceIndex Sources::add(std::string path, std::string bytes) {
    files_.push_back({std::move(path), std::move(bytes), {}});
    return static_cast<SourceIndex>(files_.size() - 1);
}

std::string_view Sources::path(SourceIndex source) const {
    return files_.at(source).path;
}

std::string_view Sources::bytes(SourceIndex source) const {
    return files_.at(source).bytes;
}

const std::vector<std::uint32_t>& Sources::line_starts(const File& file) const {
    if (file.line_starts.empty()) {
        // The byte-order mark belongs to no line: column 1 of line 1 is the byte after it.
        file.line_starts.push_back(short_size(mark_length(file.bytes)));
        for (std::size_t i = 0; i < file.bytes.size(); ++i)
            if (file.bytes[i] == '\n') file.line_starts.push_back(short_size(i + 1));
    }
    return file.line_starts;
}

Place Sources::place(SourceIndex source, std::uint32_t offset) const {
    const File& file = files_.at(source);
    const Line line = line_around(file.bytes, line_starts(file), offset);
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
    const File& file = files_.at(source);
    const auto& starts = line_starts(file);
    if (line > starts.size()) return short_size(file.bytes.size());
    const Line bounds = line_number(file.bytes, starts, std::max(line, 1U) - 1);
    std::size_t at = bounds.begin;
    for (std::uint32_t i = 1; i < column && at < bounds.end; ++i)
        at += code_point_at(file.bytes, at).length;
    return short_size(std::min<std::size_t>(at, bounds.end));
}

std::string_view Sources::line_at(SourceIndex source, std::uint32_t offset) const {
    const File& file = files_.at(source);
    const Line line = line_around(file.bytes, line_starts(file), offset);
    return std::string_view{file.bytes}.substr(line.begin, line.end - line.begin);
}

}  // namespace packproof::text
