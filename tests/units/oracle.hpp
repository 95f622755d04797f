// Outside programs that know units. A test that needs one fails if it is not installed; it does not skip.
#pragma once

#include <string>

namespace packproof::tests {

/// What GNU units 2.22 (Debian package "units") says that one of `from` is in `to`, fifteen digits.
[[nodiscard]] double ask_gnu_units(const std::string& from, const std::string& to);

/// The same of UDUNITS-2 (Debian package "udunits-bin"), which prints six digits.
[[nodiscard]] double ask_udunits(const std::string& from, const std::string& to);

}  // namespace packproof::tests
