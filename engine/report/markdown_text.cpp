#include "engine/report/markdown_text.hpp"

#include <algorithm>

#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

// Whether a word that came to stand at the beginning of a line would begin a list there, or make a heading of
// the line above: "-", "===", "1.". Letters are broken into lines after their words were made harmless.
bool begins_block(std::string_view word) {
    if (word.find_first_not_of("-+=") == std::string_view::npos) return true;
    const std::size_t digits = word.find_first_not_of("0123456789");
    return digits > 0 && digits + 1 == word.size() && (word.back() == '.' || word.back() == ')');
}

std::size_t end_of_word(std::string_view text, std::size_t at) {
    return std::min(text.find(' ', at), text.size());
}

}  // namespace

std::string markdown_text(std::string_view untrusted) {
    constexpr std::string_view begins_markup = "\\`*_[]<>#|~&!";
    const std::string harmless = text::safe_print(untrusted);
    std::string escaped;
    std::size_t escaped_at = harmless.size();  // the character of this word that must not begin a block
    for (std::size_t i = 0; i < harmless.size(); ++i) {
        const char c = harmless[i];
        const bool begins_word = c != ' ' && (i == 0 || harmless[i - 1] == ' ');
        if (begins_word) {
            const std::size_t end = end_of_word(harmless, i);
            if (begins_block(std::string_view(harmless).substr(i, end - i)))
                escaped_at = c >= '0' && c <= '9' ? end - 1 : i;
        }
        const bool inside_word = c == '_' && i > 0 && i + 1 < harmless.size() && harmless[i - 1] != ' ' &&
                                 harmless[i + 1] != ' ' && harmless[i - 1] != '_' && harmless[i + 1] != '_';
        if ((begins_markup.find(c) != std::string_view::npos && !inside_word) || i == escaped_at)
            escaped += '\\';
        escaped += c;
    }
    return escaped;
}

}  // namespace packproof::report
