#include "engine/report/html_text.hpp"

#include "engine/text/safe_print.hpp"

namespace packproof::report {

std::string html_text(std::string_view untrusted) {
    std::string escaped;
    for (const char c : text::safe_print(untrusted)) {
        switch (c) {
            case '&':
                escaped += "&amp;";
                break;
            case '<':
                escaped += "&lt;";
                break;
            case '>':
                escaped += "&gt;";
                break;
            case '"':
                escaped += "&quot;";
                break;
            case '\'':
                escaped += "&#39;";
                break;
            default:
                escaped += c;
        }
    }
    return escaped;
}

std::string html_isolated(std::string_view untrusted) {
    return untrusted.empty() ? std::string() : "<bdi>" + html_text(untrusted) + "</bdi>";
}

}  // namespace packproof::report
