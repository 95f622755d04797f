// The program's version: the same as in project() of CMakeLists.txt, which a test checks.
#pragma once

#include <string_view>

namespace packproof::cli {

inline constexpr std::string_view program_version = "0.1.0";
inline constexpr std::string_view version_date = "2026-11-27";  ///< of the man page: of no clock

}  // namespace packproof::cli
