// The nearest name: distances are by optimal string alignment, worked out by hand.
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include <doctest/doctest.h>

#include "engine/text/nearest_name.hpp"

using packproof::text::nearest_name;

namespace {

std::string nearest(std::string_view written, const std::vector<std::string_view>& candidates) {
    return std::string{nearest_name(written, candidates)};
}

}  // namespace

TEST_CASE("one slip is found: a letter missing, added, changed or swapped") {
    const std::vector<std::string_view> names = {"thickness", "capacity", "clamp_force", "terminal_torque"};
    CHECK(nearest("thicknes", names) == "thickness");
    CHECK(nearest("capaccity", names) == "capacity");
    CHECK(nearest("clamp_farce", names) == "clamp_force");
    CHECK(nearest("temrinal_torque", names) == "terminal_torque");
}

TEST_CASE("case and the kind of dash count as nothing") {
    CHECK(nearest("Clamp-Force", {"clamp_forces", "clamp_force"}) == "clamp_force");
    CHECK(nearest("MAIN_BREAKER", {"main-breaker"}) == "main-breaker");
}

TEST_CASE("up to a third of the longer word may differ, and no more") {
    CHECK(nearest("abcdxy", {"abcdef"}) == "abcdef");           // 2 of 6
    CHECK(nearest("abcxyz", {"abcdef"}).empty());               // 3 of 6
    CHECK(nearest("abcxyz123", {"abcdef123"}) == "abcdef123");  // 3 of 9
    CHECK(nearest("zebra", {"capacity", "thickness"}).empty());
}

TEST_CASE("short words may differ by one letter, but not by all of them") {
    CHECK(nearest("ab", {"ac"}) == "ac");
    CHECK(nearest("a", {"ab"}) == "ab");
    CHECK(nearest("a", {"b"}).empty());
}

TEST_CASE("the nearest wins, and of equals the first") {
    CHECK(nearest("cell", {"cells", "cell"}) == "cell");
    CHECK(nearest("bolt", {"bolts", "volt", "boat"}) == "bolts");
    CHECK(nearest("bolt", {"volt", "bolts"}) == "volt");
}

TEST_CASE("letters beyond ASCII count as one each") {
    CHECK(nearest("m\u03A9", {"mΩ"}) == "mΩ");
    CHECK(nearest("größe", {"grösse", "grüße"}) == "grüße");
}

TEST_CASE("nothing, bad text and very long text find nothing and do no harm") {
    CHECK(nearest("", {"a"}).empty());
    CHECK(nearest("a", {}).empty());
    CHECK(nearest("abc", {""}).empty());
    const std::string longest(100'000, 'a');
    CHECK(nearest(longest, {"aaaa"}).empty());
    CHECK(nearest("aaaa", {longest}).empty());
    CHECK(nearest("\xff\xfe\xfd", {"abc"}).empty());
}
