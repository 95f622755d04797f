#include "engine/serve/framing.hpp"

#include <fmt/format.h>

#include <charconv>

namespace packproof::serve {

namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_word(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (lower(a[i]) != lower(b[i])) return false;
    return true;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t'))
        text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t'))
        text.remove_suffix(1);
    return text;
}

// Names of header fields are compared without case (RFC 9110, 5.1). Nothing: none, two or no whole number.
std::optional<std::size_t> length_of(std::string_view header) {
    std::optional<std::size_t> length;
    while (!header.empty()) {
        const std::size_t end = std::min(header.find("\r\n"), header.size());
        const std::string_view line = header.substr(0, end);
        header.remove_prefix(std::min(end + 2, header.size()));
        const std::size_t colon = line.find(':');
        if (colon == std::string_view::npos) continue;
        if (!same_word(trimmed(line.substr(0, colon)), "content-length")) continue;
        const std::string_view digits = trimmed(line.substr(colon + 1));
        std::size_t number = 0;
        const auto [stop, failure] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
        if (failure == std::errc::result_out_of_range) return most_content + 1;
        if (failure != std::errc{} || stop != digits.data() + digits.size() || length) return std::nullopt;
        length = number;
    }
    return length;
}

}  // namespace

std::optional<std::string> Frames::next() {
    while (!broken_) {
        const std::string_view waiting = std::string_view(waiting_).substr(read_);
        const std::size_t end = waiting.substr(0, most_header).find("\r\n\r\n");
        if (end == std::string_view::npos) {
            if (waiting.size() >= most_header) broken_ = true;
            break;
        }
        const std::size_t begin = end + 4;
        const auto length = length_of(waiting.substr(0, end));
        if (!length) {
            ++bad_headers_;
            read_ += begin;
            continue;
        }
        if (*length > most_content) {
            broken_ = true;
            break;
        }
        if (waiting.size() - begin < *length) break;
        std::string content(waiting.substr(begin, *length));
        read_ += begin + *length;
        if (read_ == waiting_.size()) {
            waiting_.clear();
            read_ = 0;
        }
        return content;
    }
    waiting_.erase(0, read_);
    read_ = 0;
    return std::nullopt;
}

std::size_t Frames::take_bad_headers() {
    const std::size_t count = bad_headers_;
    bad_headers_ = 0;
    return count;
}

std::string framed(std::string_view content) {
    return fmt::format("Content-Length: {}\r\n\r\n{}", content.size(), content);
}

}  // namespace packproof::serve
