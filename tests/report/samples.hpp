// Hand-made reports of an invented pack: what the forms are given in these tests.
#pragma once

#include "engine/inspect/finding.hpp"
#include "engine/text/source.hpp"

namespace packproof::samples {

struct Sample {
    text::Sources sources;
    inspect::Report report;
};

/// One critical finding with two consequences, one undecided, one not stated, one that conforms.
[[nodiscard]] Sample cabin_store();

/// A report whose every text holds what an attacker would put there.
[[nodiscard]] Sample hostile(std::string_view text);

}  // namespace packproof::samples
