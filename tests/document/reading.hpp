// Text in, tree or messages out: shared by the tests of this folder.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

#include "engine/document/parts.hpp"

namespace packproof::testing {

/// Everything that was said, as it is printed.
inline std::string printed(const text::Messages& messages, const text::Sources& sources) {
    std::string result;
    for (const text::Message& message : messages.sorted()) {
        result += print_message(message, sources);
        if (result.back() != '\n') result += '\n';
    }
    return result;
}

struct Parsed {
    text::Sources sources;
    text::Messages messages;
    std::optional<document::Node> root;

    [[nodiscard]] std::string said() const { return printed(messages, sources); }
    /// The bytes under a span.
    [[nodiscard]] std::string_view under(text::Span span) const {
        return sources.bytes(span.source).substr(span.begin, span.end - span.begin);
    }
};

inline Parsed parse(std::string bytes, const document::Limits& limits = {}) {
    Parsed result;
    const auto source =
        document::add_text("a.toml", std::move(bytes), result.sources, result.messages, limits);
    if (source) result.root = document::read_toml(*source, result.sources, result.messages, limits);
    return result;
}

/// A folder that goes away with the test.
class TemporaryFolder {
  public:
    TemporaryFolder() {
        static int number = 0;
        path_ = std::filesystem::temp_directory_path() /
                ("packproof-test-" + std::to_string(::getpid()) + "-" + std::to_string(++number));
        std::filesystem::create_directories(path_);
    }
    ~TemporaryFolder() {
        std::error_code code;
        std::filesystem::remove_all(path_, code);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    std::string write(const std::string& name, const std::string& bytes) const {
        const auto file = path_ / name;
        std::filesystem::create_directories(file.parent_path());
        std::ofstream(file, std::ios::binary) << bytes;
        return file.string();
    }
    [[nodiscard]] std::string path(const std::string& name) const { return (path_ / name).string(); }
    [[nodiscard]] const std::filesystem::path& root() const { return path_; }

  private:
    std::filesystem::path path_;
};

struct Loaded {
    text::Sources sources;
    text::Messages messages;
    std::optional<document::Description> description;

    /// Without the temporary folder's own name.
    [[nodiscard]] std::string said(const TemporaryFolder& folder) const {
        std::string text = printed(messages, sources);
        const std::string prefix = folder.root().string() + "/";
        for (std::size_t at = text.find(prefix); at != std::string::npos; at = text.find(prefix))
            text.erase(at, prefix.size());
        return text;
    }
};

inline Loaded load(const std::string& path, const document::Folders& folders = {},
                   const document::Limits& limits = {}) {
    Loaded result;
    result.description = document::load_description(path, result.sources, result.messages, folders, limits);
    return result;
}

}  // namespace packproof::testing
