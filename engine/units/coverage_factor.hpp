// The factor of Student's t distribution: how many standard uncertainties to either side enclose a fraction p
// of it. JCGM 100:2008 (GUM), annex G.3 and table G.2.
#pragma once

#include <optional>

namespace packproof::units {

/// t_p(degrees): P(-t < T < t) = p for T of that many degrees of freedom, whole or not; infinite degrees give
/// the normal distribution. No unit. Relative error below 1e-9. Nothing unless 0 < p < 1 and degrees >= 1.
/// The tail is the incomplete beta function (M. Abramowitz, I. Stegun, 26.7.1 and 26.5.8), inverted by
/// bisection; above a million degrees it is the expansion about the normal factor (there, 26.7.5).
[[nodiscard]] std::optional<double> coverage_factor(double p, double degrees);

}  // namespace packproof::units
