#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "engine/document/read_toml.hpp"
#include "engine/document/shown.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::document {
namespace {

std::string too_large(const std::string& path, std::uintmax_t size, const Limits& limits) {
    return fmt::format("{} is {} bytes large; at most {} are read", shown(path), size, limits.file_bytes);
}

// Empty: all is well.
std::string refusal(const std::string& path, const std::string& name, const Limits& limits) {
    namespace files = std::filesystem;
    std::error_code code;
    const files::file_status status = files::status(path, code);
    if (status.type() == files::file_type::not_found) return fmt::format("{} is not there", shown(name));
    if (code) return fmt::format("{} cannot be read: {}", shown(name), code.message());
    if (files::is_directory(status)) return fmt::format("{} is a folder, not a file", shown(name));
    if (!files::is_regular_file(status)) return fmt::format("{} is not a regular file", shown(name));
    const std::uintmax_t size = files::file_size(path, code);
    if (!code && size > limits.file_bytes) return too_large(name, size, limits);
    return {};
}

// Reads at most one byte more than allowed, so that a growing file is noticed.
bool read_bytes(std::istream& stream, const Limits& limits, std::string& bytes) {
    // Blocks grow, so that a small file does not pay for clearing a large one.
    std::size_t block = 8U << 10U;
    while (bytes.size() <= limits.file_bytes) {
        const std::size_t before = bytes.size();
        block = std::max(block, before);
        bytes.resize(before + block);
        stream.read(bytes.data() + before, static_cast<std::streamsize>(block));
        bytes.resize(before + static_cast<std::size_t>(stream.gcount()));
        if (!stream) break;
    }
    return !stream.bad();
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
    if (path == "-") {
        read = read_bytes(std::cin, limits, bytes);
    } else {
        const std::string why_not = refusal(path, name, limits);
        if (!why_not.empty()) {
            messages.error(named_at, why_not);
            return std::nullopt;
        }
        std::ifstream stream(path, std::ios::binary);
        read = stream.is_open() && read_bytes(stream, limits, bytes);
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
