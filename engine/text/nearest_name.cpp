#include "engine/text/nearest_name.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "engine/text/utf8.hpp"

namespace packproof::text {

namespace {

constexpr std::size_t longest_compared = 128;  // a longer word is no slip of a name

std::u32string folded(std::string_view word) {
    std::u32string result;
    for (std::size_t at = 0; at < word.size();) {
        const CodePoint point = code_point_at(word, at);
        char32_t c = point.value;
        if (c >= U'A' && c <= U'Z') c += U'a' - U'A';
        if (c == U'_') c = U'-';
        result.push_back(c);
        at += point.length;
    }
    return result;
}

/// Optimal string alignment: insertions, deletions, replacements and swaps of neighbours, each costing one.
std::size_t distance(const std::u32string& a, const std::u32string& b) {
    std::array<std::vector<std::size_t>, 3> rows;
    for (auto& row : rows)
        row.resize(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        rows[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        auto& row = rows[i % 3];
        const auto& above = rows[(i + 2) % 3];
        const auto& two_above = rows[(i + 1) % 3];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = above[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
            row[j] = std::min({above[j] + 1, row[j - 1] + 1, replaced});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], two_above[j - 2] + 1);
        }
    }
    return rows[a.size() % 3][b.size()];
}

}  // namespace

std::string_view nearest_name(std::string_view written, std::span<const std::string_view> candidates) {
    if (written.empty() || written.size() > longest_compared) return {};
    const std::u32string word = folded(written);
    std::string_view nearest;
    std::size_t least = longest_compared;
    for (const std::string_view candidate : candidates) {
        if (candidate.size() > longest_compared) continue;
        const std::u32string other = folded(candidate);
        const std::size_t longer = std::max(word.size(), other.size());
        const std::size_t allowed = std::min(std::max<std::size_t>(1, longer / 3), longer - 1);
        const std::size_t shortest = longer - std::min(word.size(), other.size());
        if (shortest > allowed || shortest >= least) continue;
        const std::size_t found = distance(word, other);
        if (found > allowed || found >= least) continue;
        nearest = candidate;
        least = found;
    }
    return nearest;
}

}  // namespace packproof::text
