#include <array>

#include "engine/solve/method.hpp"

namespace packproof::solve {

std::span<const Method> methods() {
    static const std::array<Method, 4> all{bundle_method(), pattern_method(), sequence_method(),
                                           plate_method()};
    return all;
}

}  // namespace packproof::solve
