// What SARIF 2.1.0 demands of a log beyond its schema, which neither a schema nor a checker of files sees;
// clauses of the OASIS specification beside each.
#pragma once

#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

namespace packproof::samples {

/// Empty if there is nothing to complain of.
[[nodiscard]] std::vector<std::string> sarif_complaints(const nlohmann::json& log);

}  // namespace packproof::samples
