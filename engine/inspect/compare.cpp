#include "engine/inspect/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <tuple>

#include "engine/units/interval.hpp"

namespace packproof::inspect {

namespace {

using Key = std::tuple<std::string, std::string, std::string, std::string, std::size_t>;

// Keys in the order of a list; alike ones are numbered.
template <typename List>
std::vector<Key> keys_of(const List& findings) {
    std::map<Key, std::size_t> count;
    std::vector<Key> keys;
    for (const auto& finding : findings) {
        Key key{finding.rule_name, finding.kind_name, finding.item_name, finding.subject, 0};
        std::get<4>(key) = count[key]++;
        keys.push_back(std::move(key));
    }
    return keys;
}

// How much it weighs, heaviest first: verdict before class, so that a check that fails now and was undecided
// before is worse whatever its class.
struct Standing {
    Verdict verdict = Verdict::conforms;
    Class rule_class = Class::major;
    bool conceded = false;

    friend bool operator==(const Standing&, const Standing&) = default;
};

int weight(const Standing& standing) {
    constexpr int classes = 4;
    const int by_class = classes - static_cast<int>(standing.rule_class);
    if (standing.conceded) return 0;
    if (standing.verdict == Verdict::fails) return 2 * (classes + 1) + by_class;
    if (standing.verdict == Verdict::undecided) return classes + 1 + by_class;
    return 0;
}

bool speaks(Verdict verdict) {
    return verdict == Verdict::fails || verdict == Verdict::undecided;
}

std::string before_words(const Standing& before) {
    return fmt::format("{}{}, {}", rules::verdict_name(before.verdict),
                       before.conceded ? " and was conceded" : "", rules::class_name(before.rule_class));
}

// How far the worse end of a value lies beyond its limit, in SI units; nothing where that has no meaning.
std::optional<double> beyond(Bound bound, const Shown& has, const Shown& needs) {
    if (bound == Bound::other || !has.is_number || !needs.is_number || has.si_unit != needs.si_unit)
        return {};
    return bound == Bound::at_most ? has.high - needs.low : needs.high - has.low;
}

bool is_further_beyond(const Finding& finding, const EarlierFinding& was) {
    if (!speaks(finding.verdict) || finding.has.si_unit != was.has.si_unit) return false;
    const auto now = beyond(finding.bound, finding.has, finding.needs);
    const auto then = beyond(finding.bound, was.has, was.needs);
    return now && then && *now > *then && !units::same_number(*now, *then);
}

void stand_to(Finding& finding, const EarlierFinding& was, Comparison& comparison) {
    const Standing before{was.verdict, was.rule_class, was.conceded};
    const Standing now{finding.verdict, finding.rule_class, finding.conceded};
    if (before == now && is_further_beyond(finding, was)) {
        finding.change = Change::changed;
        finding.worse = !finding.conceded;
        finding.before = fmt::format("{} with {}", before_words(before), was.has.text);
        ++comparison.changed;
        return;
    }
    if (before == now) {
        finding.change = Change::unchanged;
        if (speaks(now.verdict)) ++comparison.unchanged;
        return;
    }
    // What waited for a value and fails now is news: it was not known before.
    finding.change = speaks(before.verdict) ? Change::changed : Change::arrived;
    finding.worse = weight(now) > weight(before);
    finding.before = before_words(before);
    if (!speaks(now.verdict) && !speaks(before.verdict)) return;
    ++(finding.change == Change::arrived ? comparison.arrived : comparison.changed);
}

void compare_one(Report& report, const EarlierReport* earlier, const std::string& file) {
    Comparison comparison;
    comparison.earlier = file;
    std::map<Key, const EarlierFinding*> left;
    std::vector<Key> order;
    if (earlier != nullptr) {
        comparison.earlier_file = earlier->name;
        comparison.earlier_rules_version = earlier->rules_version;
        comparison.earlier_rules_digest = earlier->rules_digest;
        order = keys_of(earlier->findings);
        for (std::size_t i = 0; i < order.size(); ++i)
            left[order[i]] = &earlier->findings[i];
    }
    const std::vector<Key> keys = keys_of(report.findings);
    for (std::size_t i = 0; i < keys.size(); ++i) {
        Finding& finding = report.findings[i];
        const auto was = left.find(keys[i]);
        if (was != left.end()) {
            stand_to(finding, *was->second, comparison);
            left.erase(was);
            continue;
        }
        finding.change = Change::arrived;
        finding.worse = speaks(finding.verdict);
        if (speaks(finding.verdict)) ++comparison.arrived;
    }
    for (const Key& key : order)
        if (const auto was = left.find(key); was != left.end() && speaks(was->second->verdict))
            comparison.gone.push_back({was->second->rule_name, was->second->kind_name, was->second->item_name,
                                       was->second->subject, was->second->rule_class, was->second->verdict});
    report.comparison = std::move(comparison);
}

std::size_t in_common(const Report& report, const EarlierReport& earlier) {
    std::vector<Key> keys = keys_of(report.findings);
    std::vector<Key> before = keys_of(earlier.findings);
    std::sort(keys.begin(), keys.end());
    std::sort(before.begin(), before.end());
    std::vector<Key> common;
    std::set_intersection(keys.begin(), keys.end(), before.begin(), before.end(), std::back_inserter(common));
    return common.size();
}

using Matches = std::vector<const EarlierReport*>;

template <typename Same>
void match(std::span<Report> reports, std::span<const EarlierReport> earlier, Matches& matches, Same same) {
    for (std::size_t i = 0; i < reports.size(); ++i) {
        if (matches[i] != nullptr) continue;
        for (const EarlierReport& candidate : earlier) {
            const bool taken = std::find(matches.begin(), matches.end(), &candidate) != matches.end();
            if (taken || !same(reports[i], candidate)) continue;
            matches[i] = &candidate;
            break;
        }
    }
}

// Renamed files whose content changed too: the pair with most in common first.
void match_by_findings(std::span<Report> reports, std::span<const EarlierReport> earlier, Matches& matches) {
    constexpr std::size_t most_pairs = 10'000;  // beyond that a rename is not searched for
    std::vector<std::tuple<std::size_t, std::size_t, const EarlierReport*>> pairs;
    for (std::size_t i = 0; i < reports.size(); ++i) {
        if (matches[i] != nullptr) continue;
        for (const EarlierReport& candidate : earlier) {
            if (std::find(matches.begin(), matches.end(), &candidate) != matches.end()) continue;
            if (pairs.size() == most_pairs) return;
            const std::size_t common = in_common(reports[i], candidate);
            const std::size_t shorter = std::min(reports[i].findings.size(), candidate.findings.size());
            if (common > 0 && 2 * common >= shorter) pairs.emplace_back(common, i, &candidate);
        }
    }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const auto& a, const auto& b) { return std::get<0>(a) > std::get<0>(b); });
    for (const auto& [common, report, candidate] : pairs)
        if (matches[report] == nullptr &&
            std::find(matches.begin(), matches.end(), candidate) == matches.end())
            matches[report] = candidate;
}

}  // namespace

std::string name_of(const Report& report) {
    if (report.overlays.empty()) return report.file;
    return fmt::format("{} with {}", report.file, fmt::join(report.overlays, ", "));
}

void compare(std::span<Report> reports, std::span<const EarlierReport> earlier, const std::string& file) {
    Matches matches(reports.size(), nullptr);
    match(reports, earlier, matches,
          [](const Report& now, const EarlierReport& before) { return name_of(now) == before.name; });
    match(reports, earlier, matches, [](const Report& now, const EarlierReport& before) {
        return !before.digest.empty() && now.input_digest == before.digest;
    });
    match_by_findings(reports, earlier, matches);
    for (std::size_t i = 0; i < reports.size(); ++i)
        compare_one(reports[i], matches[i], file);
}

bool is_news(const Finding& finding) {
    return !finding.change || *finding.change == Change::arrived ||
           (*finding.change == Change::changed && finding.worse);
}

}  // namespace packproof::inspect
