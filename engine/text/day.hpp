// Days of the calendar as descriptions write them.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace packproof::text {

using Day = std::chrono::sys_days;

/// YYYY-MM-DD of the Gregorian calendar (ISO 8601-1, 4.3); nothing for any other text or a day that is none.
[[nodiscard]] std::optional<Day> read_day(std::string_view text);

/// "2026-01-31", of a year from 0 to 9999.
[[nodiscard]] std::string print_day(Day day);

}  // namespace packproof::text
