// What repeated readings of one quantity are worth: their mean and its uncertainty, with what is known of the
// instrument besides. JCGM 100:2008 (GUM), clauses 4.2, 4.3, 5.1.2, 6.2 and annex G.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace packproof::units {

/// A component of uncertainty that the readings do not show (type B, GUM 4.3), in the unit of the readings.
struct TypeB {
    enum class Form : std::uint8_t {
        half_width,  ///< of a rectangular distribution: u = value / sqrt(3), GUM 4.3.7
        standard,    ///< u = value
        expanded,    ///< u = value / factor, GUM 4.3.3
    };
    Form form = Form::standard;
    double value = 0.0;
    double factor = 1.0;                                       ///< k; read for `expanded` only
    double degrees = std::numeric_limits<double>::infinity();  ///< of freedom, at least 1; GUM G.4.2
};

struct RepeatedReadings {
    std::vector<double> readings;
    std::vector<TypeB> components;  ///< independent of each other and of the readings
    double digit_step = 0.0;  ///< the instrument's last digit: uniform, half a step to either side, F.2.2.1
    double coverage = 0.95;   ///< p, the fraction that the expanded uncertainty shall enclose
};

/// Why readings cannot be combined.
enum class Unfit : std::uint8_t {
    no_reading,
    not_finite,            ///< a reading or a component is no finite number, or too large to be squared
    negative_uncertainty,  ///< a component or the digit step is less than nothing
    factor,                ///< the k of an expanded uncertainty is not above 0
    degrees,               ///< of freedom, less than 1 or no number
    coverage,              ///< not between 0 and 1
};

struct Contribution {
    enum class Source : std::uint8_t { scatter, digit, component };
    Source source = Source::component;
    std::size_t component = 0;  ///< index in `components`; 0 of the others
    double standard = 0.0;      ///< standard uncertainty, unit of the readings
    double degrees = 0.0;       ///< of freedom; may be infinite
    double share = 0.0;         ///< of the combined variance, 0 to 1; all add up to 1 unless all are nothing
};

/// In the unit of the readings, where nothing else is said.
struct MeanReading {
    double mean = 0.0;
    std::optional<double> deviation;  ///< s, experimental standard deviation, eq. (4); none of one reading
    std::optional<double> mean_deviation;  ///< type A: s / sqrt(n), n - 1 degrees of freedom, eq. (5)
    double combined = 0.0;                 ///< u_c, eq. (10) with sensitivities 1
    double effective_degrees = 0.0;        ///< Welch-Satterthwaite, eq. (G.2b), not rounded; may be infinite
    double degrees = 0.0;                  ///< the same rounded down, G.4.1 note 1
    double factor = 0.0;                   ///< k = t_p(degrees); no unit
    double expanded = 0.0;                 ///< U_p = k u_c
    std::vector<Contribution>
        contributions;  ///< scatter (if there are two readings), digit (if any), components
};

/// Nothing if the readings can be combined.
[[nodiscard]] std::optional<Unfit> unfit(const RepeatedReadings& given);

/// Nothing if they are unfit. One reading has no scatter: then the components alone speak, and if none is
/// given the uncertainty is 0, which only says that nobody stated one. Correlated readings or components
/// (GUM 5.2), drift and outliers are not looked for: each reading counts as a fresh, independent one.
[[nodiscard]] std::optional<MeanReading> combine(const RepeatedReadings& given);

}  // namespace packproof::units
