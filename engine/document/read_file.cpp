#include <fcntl.h>
#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <iostream>
#include <system_error>

#include "engine/document/read_toml.hpp"
#include "engine/document/shown.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::document {
namespace {

std::string too_large(const std::string& path, std::uintmax_t size, const Limits& limits) {
    return fmt::format("{} is {} bytes large; at most {} are read", shown(path), size, limits.file_bytes);
}

// Empty: all is well, and `size` is the file's.
std::string refusal(const std::string& path, const std::string& name, const Limits& limits,
                    std::size_t& size) {
    struct stat status = {};
    if (::stat(path.c_str(), &status) != 0) {
        if (errno == ENOENT || errno == ENOTDIR) return fmt::format("{} is not there", shown(name));
        return fmt::format("{} cannot be read: {}", shown(name), std::generic_category().message(errno));
    }
    if (S_ISDIR(status.st_mode)) return fmt::format("{} is a folder, not a file", shown(name));
    if (!S_ISREG(status.st_mode)) return fmt::format("{} is not a regular file", shown(name));
    size = static_cast<std::size_t>(status.st_size);
    if (size > limits.file_bytes) return too_large(name, size, limits);
    return {};
}

// Adds to `bytes` what `read_into` gives: 0 at the end, less than 0 when it fails. Stops soon after the bytes
// are more than allowed, so that a growing file is noticed.
template <typename Read>
bool read_all(Read read_into, const Limits& limits, std::string& bytes) {
    std::array<char, 2048> block;
    while (bytes.size() <= limits.file_bytes) {
        const auto count = read_into(block.data(), block.size());
        if (count <= 0) return count == 0;
        bytes.append(block.data(), static_cast<std::size_t>(count));
    }
    return true;
}

bool read_input(const Limits& limits, std::string& bytes) {
    const auto read_into = [](char* where, std::size_t most) {
        std::cin.read(where, static_cast<std::streamsize>(most));
        return std::cin.bad() ? std::streamsize{-1} : std::cin.gcount();
    };
    return read_all(read_into, limits, bytes);
}

bool read_disk(const std::string& path, std::size_t size, const Limits& limits, std::string& bytes) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) return false;
    bytes.reserve(size);
    const auto read_into = [file](char* where, std::size_t most) {
        ssize_t count = -1;
        do
            count = ::read(file, where, most);
        while (count < 0 && errno == EINTR);
        return count;
    };
    const bool good = read_all(read_into, limits, bytes);
    ::close(file);
    return good;
}

bool check_bytes(text::SourceIndex source, std::string_view bytes, text::Messages& messages) {
    const auto at = [&](std::size_t offset) {
        const auto begin = static_cast<std::uint32_t>(offset);
        return text::Span{source, begin, begin + 1};
    };
    const text::Utf8Check check = text::check_utf8(bytes);
    if (!check.good) {
        messages.error(at(check.bad_offset),
                       fmt::format("the byte 0x{:02X} is not UTF-8 here",
                                   static_cast<unsigned char>(bytes[check.bad_offset])),
                       "save the file as UTF-8");
        return false;
    }
    const std::size_t nul = bytes.find('\0');
    if (nul != std::string_view::npos) {
        messages.error(at(nul), "a NUL byte stands here: this is not a text file");
        return false;
    }
    return true;
}

}  // namespace

std::optional<text::SourceIndex> add_text(const std::string& name, std::string bytes, text::Sources& sources,
                                          text::Messages& messages, const Limits& limits) {
    if (bytes.size() > limits.file_bytes) {
        messages.error({}, too_large(name, bytes.size(), limits));
        return std::nullopt;
    }
    const text::SourceIndex source = sources.add(name, std::move(bytes));
    if (!check_bytes(source, sources.bytes(source), messages)) return std::nullopt;
    return source;
}

std::optional<text::SourceIndex> read_file(const std::string& path, text::Sources& sources,
                                           text::Messages& messages, const Limits& limits,
                                           text::Span named_at, const std::string& shown_as) {
    const std::string& name = shown_as.empty() ? path : shown_as;
    std::string bytes;
    bool read = false;
    if (const std::string* replaced = sources.replacement(path)) {
        bytes = *replaced;
        read = true;
    } else if (path == "-") {
        read = read_input(limits, bytes);
    } else {
        std::size_t size = 0;
        const std::string why_not = refusal(path, name, limits, size);
        if (!why_not.empty()) {
            messages.error(named_at, why_not);
            return std::nullopt;
        }
        read = read_disk(path, size, limits, bytes);
    }
    if (!read) {
        messages.error(named_at, fmt::format("{} cannot be read", shown(name)),
                       "look at the file's permissions");
        return std::nullopt;
    }
    if (bytes.size() > limits.file_bytes) {
        messages.error(named_at, too_large(name, bytes.size(), limits));
        return std::nullopt;
    }
    return add_text(name == "-" ? "standard input" : name, std::move(bytes), sources, messages, limits);
}

}  // namespace packproof::document
