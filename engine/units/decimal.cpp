#include "engine/units/decimal.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <numeric>
#include <string>
#include <string_view>
#include <utility>

namespace packproof::units {

namespace {

constexpr std::uint64_t scale_limit = 1'000'000'000'000'000'000;  // digit × part + carry fits 64 bits
constexpr std::uint64_t exact_limit = std::uint64_t{1} << 53U;    // every whole number below is a double
constexpr int exact_powers = 22;                                  // 10^22 is a double, 10^23 is not
constexpr std::size_t quotient_digits = 60;

constexpr std::array<double, exact_powers + 1> powers_of_ten = {
    1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
    1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

constexpr std::string_view pi_digits = "3141592653589793238462643383279502884197";  // × 10^-39

WideInteger magnitude(WideInteger x) {
    return x < 0 ? -x : x;
}

Decimal without_trailing_zeros(Decimal a) {
    if (a.mantissa == 0) return {};
    if (magnitude(a.mantissa) < scale_limit) {  // 64 bits divide far faster
        auto part = static_cast<std::int64_t>(a.mantissa);
        for (; part % 10 == 0; part /= 10)
            ++a.exponent;
        return {part, a.exponent};
    }
    while (a.mantissa % 10 == 0) {
        a.mantissa /= 10;
        ++a.exponent;
    }
    return a;
}

int digit_count(WideInteger x) {
    int count = 0;
    for (x = magnitude(x); x >= scale_limit; x /= 10)
        ++count;
    for (auto part = static_cast<std::uint64_t>(x); part > 0; part /= 10)
        ++count;
    return count;
}

std::string digits_of(WideInteger x) {
    std::string digits;
    for (; x > 0; x /= 10)
        digits.push_back(static_cast<char>('0' + static_cast<int>(x % 10)));
    std::reverse(digits.begin(), digits.end());
    return digits;
}

std::uint64_t digit(char c) {
    return static_cast<std::uint64_t>(c - '0');
}

std::string times(const std::string& digits, std::uint64_t factor) {
    std::string product;
    std::uint64_t carry = 0;
    for (auto c = digits.rbegin(); c != digits.rend() || carry > 0;) {
        if (c != digits.rend()) carry += digit(*c++) * factor;
        product.push_back(static_cast<char>('0' + static_cast<int>(carry % 10)));
        carry /= 10;
    }
    std::reverse(product.begin(), product.end());
    return product;
}

std::string times(const std::string& a, std::string_view b) {
    std::string product(a.size() + b.size(), '0');
    for (std::size_t i = a.size(); i-- > 0;) {
        std::uint64_t carry = 0;
        for (std::size_t j = b.size(); j-- > 0;) {
            carry += digit(product[i + j + 1]) + digit(a[i]) * digit(b[j]);
            product[i + j + 1] = static_cast<char>('0' + static_cast<int>(carry % 10));
            carry /= 10;
        }
        product[i] = static_cast<char>('0' + static_cast<int>(carry));
    }
    return product;
}

/// Long division to 60 digits; a last 1 stands for a rest, so that the rounding after it goes the right way.
struct Quotient {
    std::string digits;
    int exponent = 0;
};

Quotient divided(const std::string& digits, std::uint64_t divisor) {
    Quotient quotient;
    std::uint64_t rest = 0;
    const std::size_t steps = digits.size() + (divisor == 1 ? 0 : quotient_digits);
    for (std::size_t i = 0; i < steps; ++i) {
        rest = rest * 10 + (i < digits.size() ? digit(digits[i]) : 0);
        quotient.digits.push_back(static_cast<char>('0' + static_cast<int>(rest / divisor)));
        rest %= divisor;
        if (i >= digits.size()) --quotient.exponent;
    }
    if (rest > 0) {
        quotient.digits.push_back('1');
        --quotient.exponent;
    }
    return quotient;
}

double read_double(std::string digits, int exponent) {
    digits += 'e';
    digits += std::to_string(exponent);
    double value = 0.0;
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value;
}

double slow_product(WideInteger mantissa, int exponent, Scale scale) {
    std::string digits = times(digits_of(mantissa), scale.numerator);
    for (int i = 0; i < scale.pi; ++i) {
        digits = times(digits, pi_digits);
        exponent -= static_cast<int>(pi_digits.size()) - 1;
    }
    Quotient quotient = divided(digits, scale.denominator);
    double value = read_double(std::move(quotient.digits), exponent + quotient.exponent);
    for (int i = 0; i > scale.pi; --i)
        value /= 3.14159265358979323846;
    return value;
}

/// One division or multiplication of two exact doubles, rounded once by the processor (Clinger 1990);
/// empty where one of them would not be exact.
std::optional<double> fast_product(WideInteger mantissa, int exponent, Scale scale) {
    if (scale.pi != 0 || mantissa >= exact_limit || scale.numerator >= exact_limit) return std::nullopt;
    const WideInteger above = mantissa * static_cast<WideInteger>(scale.numerator);
    if (above >= exact_limit || scale.denominator >= exact_limit) return std::nullopt;
    const auto top = static_cast<double>(static_cast<std::uint64_t>(above));
    const auto bottom = static_cast<double>(scale.denominator);
    const int size = exponent < 0 ? -exponent : exponent;
    if (size > exact_powers) return std::nullopt;
    const double ten = powers_of_ten[static_cast<std::size_t>(size)];
    if (exponent < 0 && bottom * ten <= static_cast<double>(exact_limit)) return top / (bottom * ten);
    if (scale.denominator == 1) return exponent < 0 ? top / ten : top * ten;
    if (exponent >= 0 && top * ten <= static_cast<double>(exact_limit)) return top * ten / bottom;
    return std::nullopt;
}

}  // namespace

std::optional<Scale> multiply(Scale a, Scale b) {
    if (a.numerator == 1 && a.denominator == 1 && b.numerator == 1 && b.denominator == 1)
        return Scale{1, 1, a.ten + b.ten, a.pi + b.pi};
    const std::uint64_t left = std::gcd(a.numerator, b.denominator);
    const std::uint64_t right = std::gcd(b.numerator, a.denominator);
    const WideInteger numerator =
        static_cast<WideInteger>(a.numerator / left) * static_cast<WideInteger>(b.numerator / right);
    const WideInteger denominator =
        static_cast<WideInteger>(a.denominator / right) * static_cast<WideInteger>(b.denominator / left);
    const Decimal short_numerator = without_trailing_zeros({numerator, 0});
    const Decimal short_denominator = without_trailing_zeros({denominator, 0});
    if (short_numerator.mantissa >= scale_limit || short_denominator.mantissa >= scale_limit)
        return std::nullopt;
    return Scale{static_cast<std::uint64_t>(short_numerator.mantissa),
                 static_cast<std::uint64_t>(short_denominator.mantissa),
                 a.ten + b.ten + short_numerator.exponent - short_denominator.exponent, a.pi + b.pi};
}

std::optional<Scale> power(Scale scale, int n) {
    if (n == 1) return scale;
    if (n < 0) {
        std::swap(scale.numerator, scale.denominator);
        scale.ten = -scale.ten;
        scale.pi = -scale.pi;
    }
    std::optional<Scale> result = Scale{};
    for (int i = 0; result && i < (n < 0 ? -n : n); ++i)
        result = multiply(*result, scale);
    return result;
}

std::optional<Decimal> add(Decimal a, Decimal b) {
    a = without_trailing_zeros(a);
    b = without_trailing_zeros(b);
    if (a.mantissa == 0) return b;
    if (b.mantissa == 0) return a;
    if (a.exponent < b.exponent) std::swap(a, b);
    if (digit_count(a.mantissa) + a.exponent - b.exponent > 36) return std::nullopt;
    for (; a.exponent > b.exponent; --a.exponent)
        a.mantissa *= 10;
    return Decimal{a.mantissa + b.mantissa, b.exponent};
}

std::optional<Decimal> multiply(Decimal a, Decimal b) {
    a = without_trailing_zeros(a);
    b = without_trailing_zeros(b);
    if (digit_count(a.mantissa) + digit_count(b.mantissa) > 36) return std::nullopt;
    return Decimal{a.mantissa * b.mantissa, a.exponent + b.exponent};
}

double to_double(Decimal value, Scale scale) {
    if (value.mantissa == 0) return 0.0;
    std::optional<double> result = fast_product(magnitude(value.mantissa), value.exponent + scale.ten, scale);
    if (!result) {
        value = without_trailing_zeros(value);
        const WideInteger size = magnitude(value.mantissa);
        const int exponent = value.exponent + scale.ten;
        result = fast_product(size, exponent, scale);
        if (!result) result = slow_product(size, exponent, scale);
    }
    return value.mantissa < 0 ? -*result : *result;
}

}  // namespace packproof::units
