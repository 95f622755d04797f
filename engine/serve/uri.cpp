#include "engine/serve/uri.hpp"

#include <filesystem>

#include "engine/report/sarif_place.hpp"

namespace packproof::serve {

namespace {

std::optional<unsigned> hexadecimal(char c) {
    if (c >= '0' && c <= '9') return static_cast<unsigned>(c - '0');
    if (c >= 'a' && c <= 'f') return static_cast<unsigned>(c - 'a') + 10U;
    if (c >= 'A' && c <= 'F') return static_cast<unsigned>(c - 'A') + 10U;
    return std::nullopt;
}

}  // namespace

std::optional<std::string> path_of_uri(std::string_view uri) {
    constexpr std::string_view scheme = "file:";
    if (!uri.starts_with(scheme)) return std::nullopt;
    uri.remove_prefix(scheme.size());
    if (uri.starts_with("//")) {
        uri.remove_prefix(2);
        if (uri.starts_with("localhost/")) uri.remove_prefix(std::string_view("localhost").size());
    }
    if (!uri.starts_with('/')) return std::nullopt;
    uri = uri.substr(0, uri.find_first_of("?#"));
    std::string path;
    for (std::size_t i = 0; i < uri.size(); ++i) {
        if (uri[i] != '%') {
            path += uri[i];
            continue;
        }
        if (i + 2 >= uri.size()) return std::nullopt;
        const auto high = hexadecimal(uri[i + 1]);
        const auto low = hexadecimal(uri[i + 2]);
        if (!high || !low) return std::nullopt;
        path += static_cast<char>(static_cast<unsigned char>(*high * 16U + *low));
        i += 2;
    }
    if (path.find('\0') != std::string::npos) return std::nullopt;
    return path;
}

std::string uri_of_path(std::string_view path) {
    return report::file_uri(path, "").uri;
}

std::string real_path(const std::string& path) {
    std::error_code failure;
    std::filesystem::path real = std::filesystem::weakly_canonical(path, failure);
    if (failure) return path;
    return real.string();
}

}  // namespace packproof::serve
