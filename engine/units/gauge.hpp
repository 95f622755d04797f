// American wire gauge: a size to the area of its copper and back (ASTM B258: diameter 0.127 mm × 92 to the
// power (36 - n) / 39; 1/0 to 4/0 are n = 0 to -3). Sizes go from 4/0 to 40.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace packproof::units {

inline constexpr int largest_gauge = -3;  ///< 4/0
inline constexpr int smallest_gauge = 40;

/// "2/0", "00", "4"; empty: no size.
[[nodiscard]] std::optional<int> read_gauge(std::string_view text);
/// In m², n as above.
[[nodiscard]] double gauge_area(int gauge);
/// "2/0", "4".
[[nodiscard]] std::string gauge_name(int gauge);
/// The gauge that has exactly this area (by same_number).
[[nodiscard]] std::optional<int> gauge_of(double area);

}  // namespace packproof::units
