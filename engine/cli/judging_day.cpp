#include "engine/cli/judging_day.hpp"

namespace packproof::cli {

void set_day(const std::string& given, inspect::Options& options) {
    options.day = text::read_day(given);
    options.is_today = !options.day;
    if (!options.day) options.day = std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
}

}  // namespace packproof::cli
