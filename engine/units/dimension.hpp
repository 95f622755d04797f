// The physical kind of a number: exponents of the seven SI base units. Angles and counts have none.
#pragma once

#include <array>
#include <cstdint>
#include <string>

namespace packproof::units {

struct Dimension {
    enum Base { length, mass, time, current, temperature, amount, luminous };
    std::array<std::int8_t, 7> exponent{};

    friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
    friend constexpr Dimension operator*(Dimension a, const Dimension& b) {
        for (std::size_t i = 0; i < a.exponent.size(); ++i)
            a.exponent[i] = static_cast<std::int8_t>(a.exponent[i] + b.exponent[i]);
        return a;
    }
    friend constexpr Dimension operator/(Dimension a, const Dimension& b) {
        for (std::size_t i = 0; i < a.exponent.size(); ++i)
            a.exponent[i] = static_cast<std::int8_t>(a.exponent[i] - b.exponent[i]);
        return a;
    }
    /// Raised to a whole power.
    [[nodiscard]] constexpr Dimension power(int n) const {
        Dimension d = *this;
        for (auto& e : d.exponent)
            e = static_cast<std::int8_t>(e * n);
        return d;
    }
    /// True if every exponent is even, so that a square root exists.
    [[nodiscard]] constexpr bool is_square() const {
        for (auto e : exponent)
            if (e % 2 != 0) return false;
        return true;
    }
    [[nodiscard]] constexpr Dimension root() const {
        Dimension d = *this;
        for (auto& e : d.exponent)
            e = static_cast<std::int8_t>(e / 2);
        return d;
    }
    [[nodiscard]] constexpr bool none() const { return *this == Dimension{}; }
};

/// What people call it: "current", "area", "torque or energy"; unnamed ones as base units, "m²·kg/s³".
[[nodiscard]] std::string dimension_name(const Dimension& dimension);

}  // namespace packproof::units
