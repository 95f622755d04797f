// A description laid over the one that it extends.
#pragma once

#include "engine/document/value.hpp"
#include "engine/text/message.hpp"

namespace packproof::document {

/// Key by key: tables join, everything else of `over` replaces. The base keeps its order; new keys follow.
void merge(Node& base, Node&& over);

/// Takes out of `base` what the list of dotted paths names; an unknown one is an error with the nearest name.
void drop_members(Node& base, const Node& list, text::Messages& messages);

}  // namespace packproof::document
