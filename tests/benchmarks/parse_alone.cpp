#include <toml++/toml.h>

#include "tests/benchmarks/workload.hpp"

namespace packproof::benchmarks {

std::size_t parse_alone(std::string_view text) {
    const toml::table table = toml::parse(text, std::string_view{"description"});
    return table.size();
}

}  // namespace packproof::benchmarks
