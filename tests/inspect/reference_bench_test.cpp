// Readings at the bench by the built-in rules, on ladders of voltages written out here.
#include <algorithm>
#include <set>
#include <utility>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using namespace packproof::inspect_test;

namespace {

constexpr int cells = 16;

/// Voltages of the taps of 16 cells between 3.20 V and 3.35 V, no two neighbours alike.
std::vector<double> ladder() {
    std::vector<double> taps{0.0};
    for (int k = 0; k < cells; ++k)
        taps.push_back(taps.back() + 3.20 + 0.01 * ((k * 7) % cells));
    return taps;
}

/// The taps that the rule finds fault with.
std::set<int> named(const std::vector<double>& taps) {
    std::string text = "pack = { series = 16 }\ncell = { chemistry = \"LFP\" }\n";
    for (std::size_t k = 0; k < taps.size(); ++k)
        text += "[reading.tap-" + std::to_string(k) + "]\ntap = " + std::to_string(k) + "\ntap_voltage = \"" +
                std::to_string(taps[k]) + " V\"\n";
    const Described described(text);
    const auto& rules = built_in().rules;
    std::size_t rule = 0;
    while (rule < rules.size() && rules[rule].name != "tap-stands-where-its-number-says")
        ++rule;
    REQUIRE(rule < rules.size());
    std::set<int> found;
    for (const model::ItemIndex item : described.model->of_kind[*built_in().vocabulary.kind("reading")])
        if (inspect::judge(built_in(), rule, *described.model, item) == inspect::Verdict::fails)
            found.insert(std::stoi(described.model->items[item].id.substr(4)));
    return found;
}

}  // namespace

TEST_CASE("of 17 taps in their order none is found fault with") {
    CHECK(named(ladder()).empty());
}

TEST_CASE("each of the 136 pairs of exchanged taps is named, and no other tap (all cases)") {
    for (std::size_t i = 0; i <= cells; ++i)
        for (std::size_t j = i + 1; j <= cells; ++j) {
            std::vector<double> taps = ladder();
            std::swap(taps[i], taps[j]);
            CAPTURE(i);
            CAPTURE(j);
            const bool both = named(taps) == std::set<int>{static_cast<int>(i), static_cast<int>(j)};
            CHECK(both);
        }
}

TEST_CASE("of a list in reverse every tap but the one in the middle is named") {
    std::vector<double> taps = ladder();
    std::reverse(taps.begin(), taps.end());
    std::set<int> all_but_the_middle;
    for (int k = 0; k <= cells; ++k)
        if (k != cells / 2) all_but_the_middle.insert(k);
    CHECK(named(taps) == all_but_the_middle);
}
