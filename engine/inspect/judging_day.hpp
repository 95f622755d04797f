// The day on which a run judges what has an end.
#pragma once

#include <string>

#include "engine/inspect/inspect.hpp"

namespace packproof::inspect {

/// The day that was given, YYYY-MM-DD; else today by the system's clock, in UTC so that it is the same day
/// everywhere. Every command that looks at concessions asks here.
void set_day(const std::string& given, Options& options);

}  // namespace packproof::inspect
