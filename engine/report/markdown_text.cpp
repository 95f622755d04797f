#include "engine/report/markdown_text.hpp"

#include "engine/text/safe_print.hpp"

namespace packproof::report {

std::string markdown_text(std::string_view untrusted) {
    constexpr std::string_view begins_markup = "\\`*_[]<>#|~&!";
    const std::string harmless = text::safe_print(untrusted);
    std::string escaped;
    for (std::size_t i = 0; i < harmless.size(); ++i) {
        const char c = harmless[i];
        const bool inside_word = c == '_' && i > 0 && i + 1 < harmless.size() && harmless[i - 1] != ' ' &&
                                 harmless[i + 1] != ' ' && harmless[i - 1] != '_' && harmless[i + 1] != '_';
        const bool begins_list = i == 0 && (c == '-' || c == '+' || c == '=');
        if ((begins_markup.find(c) != std::string_view::npos && !inside_word) || begins_list) escaped += '\\';
        // "1." at the beginning would begin a list
        if ((c == '.' || c == ')') && i > 0 && harmless.find_first_not_of("0123456789") == i) escaped += '\\';
        escaped += c;
    }
    return escaped;
}

}  // namespace packproof::report
