// The tables of engineering's three-valued logic with absence, written out by hand from the design: under
// `and` no > unknown > open > yes, under `or` mirrored.
#include <doctest/doctest.h>

#include "engine/language/evaluate.hpp"

using packproof::language::both;
using packproof::language::either;
using packproof::language::opposite;
using packproof::model::Truth;

namespace {
constexpr Truth yes = Truth::yes, no = Truth::no, open = Truth::open, unknown = Truth::unknown;
constexpr Truth order[4] = {yes, no, open, unknown};
}  // namespace

TEST_CASE("and is decided by no, then by what is unknown, then by what is open") {
    constexpr Truth expected[4][4] = {// yes      no  open     unknown
                                      {yes, no, open, unknown},
                                      {no, no, no, no},
                                      {open, no, open, unknown},
                                      {unknown, no, unknown, unknown}};
    for (int a = 0; a < 4; ++a)
        for (int b = 0; b < 4; ++b)
            CHECK(both(order[a], order[b]) == expected[a][b]);
}

TEST_CASE("or is decided by yes, then by what is unknown, then by what is open") {
    constexpr Truth expected[4][4] = {// yes  no       open     unknown
                                      {yes, yes, yes, yes},
                                      {yes, no, open, unknown},
                                      {yes, open, open, unknown},
                                      {yes, unknown, unknown, unknown}};
    for (int a = 0; a < 4; ++a)
        for (int b = 0; b < 4; ++b)
            CHECK(either(order[a], order[b]) == expected[a][b]);
}

TEST_CASE("not turns yes and no round and leaves the rest") {
    CHECK(opposite(yes) == no);
    CHECK(opposite(no) == yes);
    CHECK(opposite(open) == open);
    CHECK(opposite(unknown) == unknown);
}
