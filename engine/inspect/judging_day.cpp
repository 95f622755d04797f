#include "engine/inspect/judging_day.hpp"

namespace packproof::inspect {

void set_day(const std::string& given, Options& options) {
    options.day = text::read_day(given);
    options.is_today = !options.day;
    if (!options.day) options.day = std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
}

}  // namespace packproof::inspect
