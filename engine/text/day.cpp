#include "engine/text/day.hpp"

#include <fmt/core.h>

namespace packproof::text {

std::optional<Day> read_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const auto number = [text](std::size_t begin, std::size_t count) {
        int value = 0;
        for (std::size_t at = begin; at < begin + count; ++at) {
            if (text[at] < '0' || text[at] > '9') return -1;
            value = value * 10 + (text[at] - '0');
        }
        return value;
    };
    const int year = number(0, 4);
    const int month = number(5, 2);
    const int day = number(8, 2);
    if (year < 0 || month < 1 || day < 1) return std::nullopt;
    const std::chrono::year_month_day date{std::chrono::year{year},
                                           std::chrono::month{static_cast<unsigned>(month)},
                                           std::chrono::day{static_cast<unsigned>(day)}};
    if (!date.ok()) return std::nullopt;
    return std::chrono::sys_days{date};
}

std::string print_day(Day day) {
    const std::chrono::year_month_day date{day};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

}  // namespace packproof::text
