#include "engine/units/gauge.hpp"

#include <cmath>

#include "engine/units/interval.hpp"

namespace packproof::units {

namespace {

constexpr long double pi = 3.14159265358979323846264338327950288L;

}  // namespace

std::optional<int> read_gauge(std::string_view text) {
    if (text.empty() || text.size() > 4) return std::nullopt;
    if (text.find_first_not_of('0') == std::string_view::npos) return 1 - static_cast<int>(text.size());
    if (text.size() == 3 && text.substr(1) == "/0" && text[0] >= '1' && text[0] <= '4') return '1' - text[0];
    int number = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        number = number * 10 + (c - '0');
    }
    return text[0] != '0' && number <= smallest_gauge ? std::optional<int>{number} : std::nullopt;
}

double gauge_area(int gauge) {
    const long double diameter =
        0.000127L * std::pow(92.0L, (36.0L - static_cast<long double>(gauge)) / 39.0L);
    return static_cast<double>(pi / 4.0L * diameter * diameter);
}

std::string gauge_name(int gauge) {
    return gauge > 0 ? std::to_string(gauge) : std::to_string(1 - gauge) + "/0";
}

std::optional<int> gauge_of(double area) {
    if (!(area > 0.0) || std::isinf(area)) return std::nullopt;
    const double diameter = std::sqrt(area * 4.0 / static_cast<double>(pi));
    const double n = std::round(36.0 - 39.0 * std::log(diameter / 0.000127) / std::log(92.0));
    if (!(n >= largest_gauge && n <= smallest_gauge)) return std::nullopt;
    const int gauge = static_cast<int>(n);
    return same_number(gauge_area(gauge), area) ? std::optional<int>{gauge} : std::nullopt;
}

}  // namespace packproof::units
