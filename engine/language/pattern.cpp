#include "engine/language/pattern.hpp"

#include <re2/re2.h>

#include <map>
#include <memory>
#include <utility>

namespace packproof::language {
namespace {

constexpr std::int64_t most_memory = 64 << 10;
constexpr std::size_t most_pattern_bytes = 1024;
constexpr std::size_t most_remembered = 64;

RE2::Options options() {
    RE2::Options made;
    made.set_log_errors(false);
    made.set_max_mem(most_memory);
    return made;
}

/// \C matches single bytes, which can split a character.
bool has_byte_escape(std::string_view pattern) {
    for (std::size_t i = 0; i + 1 < pattern.size(); ++i) {
        if (pattern[i] != '\\') continue;
        if (pattern[i + 1] == 'C') return true;
        ++i;
    }
    return false;
}

/// What we do not allow; empty: nothing.
std::string not_allowed(std::string_view pattern) {
    if (pattern.size() > most_pattern_bytes) return "it is longer than 1024 bytes";
    if (has_byte_escape(pattern)) return "\\C is not allowed";
    return {};
}

std::unique_ptr<RE2> compile(std::string_view pattern) {
    if (!not_allowed(pattern).empty()) return nullptr;
    auto made = std::make_unique<RE2>(re2::StringPiece(pattern.data(), pattern.size()), options());
    return made->ok() ? std::move(made) : nullptr;
}

}  // namespace

std::string pattern_error(std::string_view pattern) {
    if (std::string error = not_allowed(pattern); !error.empty()) return error;
    const RE2 compiled(re2::StringPiece(pattern.data(), pattern.size()), options());
    return compiled.ok() ? std::string{} : compiled.error();
}

bool pattern_matches(std::string_view pattern, std::string_view text) {
    // RE2 objects cannot move; a thread that meets many patterns starts afresh.
    thread_local std::map<std::string, std::unique_ptr<RE2>, std::less<>> compiled;
    auto found = compiled.find(pattern);
    if (found == compiled.end()) {
        if (compiled.size() == most_remembered) compiled.clear();
        found = compiled.emplace(std::string(pattern), compile(pattern)).first;
    }
    return found->second != nullptr &&
           RE2::FullMatch(re2::StringPiece(text.data(), text.size()), *found->second);
}

}  // namespace packproof::language
