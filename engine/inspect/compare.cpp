#include "engine/inspect/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <string_view>
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
    bool counted = true;
    bool conceded = false;

    friend bool operator==(const Standing&, const Standing&) = default;
};

int weight(const Standing& standing) {
    constexpr int classes = 4;
    const int by_class = classes - static_cast<int>(standing.rule_class);
    if (!standing.counted) return 0;
    if (standing.verdict == Verdict::fails) return 2 * (classes + 1) + by_class;
    if (standing.verdict == Verdict::undecided) return classes + 1 + by_class;
    return 0;
}

bool speaks(Verdict verdict) {
    return verdict == Verdict::fails || verdict == Verdict::undecided;
}

std::string before_words(const Standing& before) {
    const std::string_view uncounted = before.conceded ? " and was conceded" : " and did not count yet";
    return fmt::format("{}{}, {}", rules::verdict_name(before.verdict), before.counted ? "" : uncounted,
                       rules::class_name(before.rule_class));
}

// How far the worse end of a value lies beyond its limit, in SI units; nothing where that has no meaning.
std::optional<double> beyond(Bound bound, const Shown& has, const Shown& needs) {
    if (bound == Bound::other || !has.is_number || !needs.is_number || has.si_unit != needs.si_unit)
        return {};
    return bound == Bound::at_most ? has.high - needs.low : needs.high - has.low;
}

// Of two checks that both fail, or are both undecided.
bool is_further_beyond(const Finding& finding, const EarlierFinding& was) {
    if (!speaks(finding.verdict) || finding.verdict != was.verdict || finding.has.si_unit != was.has.si_unit)
        return false;
    const auto now = beyond(finding.bound, finding.has, finding.needs);
    const auto then = beyond(finding.bound, was.has, was.needs);
    return now && then && *now > *then && !units::same_number(*now, *then);
}

void stand_to(Finding& finding, const EarlierFinding& was, Comparison& comparison) {
    const Standing before{was.verdict, was.rule_class, was.counted, was.conceded};
    const Standing now{finding.verdict, finding.rule_class, finding.counts(), finding.conceded};
    const bool further = is_further_beyond(finding, was);
    if (before == now && !further) {
        finding.change = Change::unchanged;
        if (speaks(now.verdict)) ++comparison.unchanged;
        return;
    }
    // What waited for a value and fails now is news: it was not known before.
    finding.change = speaks(before.verdict) ? Change::changed : Change::arrived;
    // A milder class does not outweigh a worse value.
    finding.worse = weight(now) > weight(before) || (further && now.counted);
    finding.before = before_words(before);
    if (further) finding.before += fmt::format(" with {}", was.has.text);
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
                                       was->second->subject, was->second->rule_class, was->second->verdict,
                                       was->second->file, was->second->line, was->second->column});
    report.comparison = std::move(comparison);
}

std::vector<Key> sorted_keys(const auto& findings) {
    std::vector<Key> keys = keys_of(findings);
    std::sort(keys.begin(), keys.end());
    return keys;
}

// Which earlier report belongs to which of this run; each is given once.
struct Matches {
    std::vector<const EarlierReport*> of;  // by report of this run
    std::set<const EarlierReport*> taken;

    void give(std::size_t report, const EarlierReport& earlier) {
        of[report] = &earlier;
        taken.insert(&earlier);
    }
};

using Word = const std::string& (*)(const EarlierReport&);

// The first that is free of those of which `word` says the same; one that says nothing is no match.
template <typename Said>
void match(std::span<Report> reports, std::span<const EarlierReport> earlier, Matches& matches, bool of_gone,
           Word word, Said said) {
    std::map<std::string_view, std::vector<const EarlierReport*>> known;
    for (const EarlierReport& candidate : earlier)
        if (!word(candidate).empty() && !matches.taken.contains(&candidate) &&
            !(of_gone && candidate.still_there))
            known[word(candidate)].push_back(&candidate);
    for (std::size_t i = 0; i < reports.size(); ++i) {
        if (matches.of[i] != nullptr) continue;
        const std::string name = said(reports[i]);
        const auto found = known.find(name);
        if (found == known.end() || found->second.empty()) continue;
        matches.give(i, *found->second.front());
        found->second.erase(found->second.begin());
    }
}

// Renamed files whose content changed too: the pair with most in common first.
void match_by_findings(std::span<Report> reports, std::span<const EarlierReport> earlier, Matches& matches) {
    constexpr std::size_t most_pairs = 100'000;  // beyond that a rename is not searched for
    std::vector<std::pair<std::size_t, std::vector<Key>>> now;
    std::vector<std::pair<const EarlierReport*, std::vector<Key>>> before;
    for (std::size_t i = 0; i < reports.size(); ++i)
        if (matches.of[i] == nullptr) now.emplace_back(i, std::vector<Key>());
    for (const EarlierReport& candidate : earlier)
        if (!matches.taken.contains(&candidate) && !candidate.still_there)
            before.emplace_back(&candidate, std::vector<Key>());
    if (now.empty() || before.size() > most_pairs / now.size()) return;
    for (auto& [i, keys] : now)
        keys = sorted_keys(reports[i].findings);
    for (auto& [candidate, keys] : before)
        keys = sorted_keys(candidate->findings);
    std::vector<std::tuple<std::size_t, std::size_t, const EarlierReport*>> pairs;
    for (const auto& [i, keys] : now)
        for (const auto& [candidate, earlier_keys] : before) {
            std::vector<Key> common;
            std::set_intersection(keys.begin(), keys.end(), earlier_keys.begin(), earlier_keys.end(),
                                  std::back_inserter(common));
            const std::size_t shorter = std::min(keys.size(), earlier_keys.size());
            if (!common.empty() && 2 * common.size() >= shorter)
                pairs.emplace_back(common.size(), i, candidate);
        }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const auto& a, const auto& b) { return std::get<0>(a) > std::get<0>(b); });
    for (const auto& [common, report, candidate] : pairs)
        if (matches.of[report] == nullptr && !matches.taken.contains(candidate))
            matches.give(report, *candidate);
}

const std::string& earlier_name(const EarlierReport& report) {
    return report.name;
}

const std::string& earlier_digest(const EarlierReport& report) {
    return report.digest;
}

}  // namespace

std::string name_of(const Report& report) {
    if (report.overlays.empty()) return report.file;
    return fmt::format("{} with {}", report.file, fmt::join(report.overlays, ", "));
}

void compare(std::span<Report> reports, std::span<const EarlierReport> earlier, const std::string& file) {
    Matches matches{std::vector<const EarlierReport*>(reports.size(), nullptr), {}};
    match(reports, earlier, matches, false, earlier_name, name_of);
    match(reports, earlier, matches, true, earlier_digest,
          [](const Report& report) { return report.input_digest; });
    match_by_findings(reports, earlier, matches);
    for (std::size_t i = 0; i < reports.size(); ++i)
        compare_one(reports[i], matches.of[i], file);
}

bool is_news(const Finding& finding) {
    return !finding.change || *finding.change == Change::arrived ||
           (*finding.change == Change::changed && finding.worse);
}

}  // namespace packproof::inspect
