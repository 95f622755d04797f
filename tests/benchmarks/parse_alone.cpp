#include <toml++/toml.h>

#include "tests/benchmarks/workload.hpp"

namespace packproof::benchmarks {

std::size_t parse_alone(const std::string& text) {
    const toml::table table = toml::parse(std::string_view{text}, std::string_view{"description"});
    return table.size();
}

}  // namespace packproof::benchmarks
