// Decimal numbers as people write them, kept exactly, and the exact scales of units; one rounding turns their
// product into a double. That is why "25.4 mm", "2.54 cm" and "1 in" are the same number.
#pragma once

#include <cstdint>
#include <optional>

namespace packproof::units {

__extension__ typedef __int128 WideInteger;  // a typedef, since -Wpedantic takes __extension__ only there

/// mantissa × 10^exponent.
struct Decimal {
    WideInteger mantissa = 0;
    int exponent = 0;
};

/// numerator / denominator × 10^ten × π^pi; numerator and denominator under 10^18, without common factors.
struct Scale {
    std::uint64_t numerator = 1;
    std::uint64_t denominator = 1;
    int ten = 0;
    int pi = 0;

    friend constexpr bool operator==(const Scale&, const Scale&) = default;
};

/// Empty: would not fit.
[[nodiscard]] std::optional<Scale> multiply(Scale a, Scale b);
[[nodiscard]] std::optional<Scale> power(Scale scale, int n);

/// Empty: more than 36 digits apart.
[[nodiscard]] std::optional<Decimal> add(Decimal a, Decimal b);
[[nodiscard]] std::optional<Decimal> multiply(Decimal a, Decimal b);
[[nodiscard]] inline Decimal negative(Decimal a) {
    return {-a.mantissa, a.exponent};
}

/// value × scale, rounded once to the nearest double.
[[nodiscard]] double to_double(Decimal value, Scale scale = {});

}  // namespace packproof::units
