#include <array>

#include "engine/solve/method.hpp"

namespace packproof::solve {

std::span<const Method> methods() {
    static const std::array<Method, 6> all{bundle_method(), grouping_method(), pattern_method(),
                                           ladder_method(), sequence_method(), plate_method()};
    return all;
}

}  // namespace packproof::solve
