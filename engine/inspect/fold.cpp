#include "engine/inspect/fold.hpp"

#include <algorithm>
#include <compare>
#include <map>
#include <string>

namespace packproof::inspect {

namespace {

bool stands_before(const Finding& a, const Finding& b) {
    static constexpr int order[] = {3, 0, 1, 2, 4};  // by Verdict: conforms, fails, undecided, not stated
    const int first = order[static_cast<std::size_t>(a.verdict)];
    const int second = order[static_cast<std::size_t>(b.verdict)];
    if (first != second) return first < second;
    if (a.at_once != b.at_once) return a.at_once;
    if (a.counts() != b.counts()) return a.counts();
    if (a.rule_class != b.rule_class) return a.rule_class < b.rule_class;
    if (a.item != b.item) return a.item < b.item;
    return a.rule_name < b.rule_name;
}

/// A value that several findings fail by: one written value counts once, also where items took it over from
/// one another.
struct Cause {
    text::SourceIndex source = text::no_source;
    std::size_t begin = 0;
    language::Input input;  ///< where nothing is written
    std::string rule;       ///< of a finding that no change of a value was found to clear
    friend auto operator<=>(const Cause&, const Cause&) = default;
};

std::vector<Cause> causes_of(const Finding& finding) {
    std::vector<Cause> causes;
    for (const Remedy& remedy : finding.clears) {
        Cause cause{remedy.span.source, remedy.span.begin, {}, {}};
        if (remedy.span.source == text::no_source) cause.input = remedy.input;
        causes.push_back(std::move(cause));
    }
    if (causes.empty() && finding.place.source != text::no_source)
        causes.push_back({finding.place.source, finding.place.begin, {}, finding.rule_name});
    return causes;
}

/// A cause that explains something grave goes before one that explains several small things.
std::size_t weight_of(const std::vector<std::size_t>& list, const std::vector<Finding>& findings) {
    static constexpr std::size_t weights[] = {1000, 100, 10, 1};  // by Class
    std::size_t weight = 0;
    for (const std::size_t f : list)
        weight += weights[static_cast<std::size_t>(findings[f].rule_class)];
    return weight;
}

}  // namespace

void order_findings(std::vector<Finding>& findings) {
    std::stable_sort(findings.begin(), findings.end(), stands_before);
}

void fold_consequences(std::vector<Finding>& findings) {
    std::map<Cause, std::vector<std::size_t>> cleared_by;  // ordered: same input, same bytes out
    for (std::size_t f = 0; f < findings.size(); ++f) {
        // What does not count neither hides what does nor is hidden by it.
        if (findings[f].verdict != Verdict::fails || !findings[f].counts()) continue;
        for (const Cause& cause : causes_of(findings[f])) {
            auto& list = cleared_by[cause];
            if (list.empty() || list.back() != f) list.push_back(f);
        }
    }
    while (true) {
        const std::vector<std::size_t>* best = nullptr;
        std::size_t best_weight = 0;
        for (const auto& [cause, list] : cleared_by) {
            if (list.size() < 2) continue;
            const std::size_t weight = weight_of(list, findings);
            if (best != nullptr &&
                (weight < best_weight || (weight == best_weight && list.front() >= best->front())))
                continue;
            best = &list;
            best_weight = weight;
        }
        if (best == nullptr) return;
        const std::vector<std::size_t> group = *best;
        const std::size_t cause = group.front();  // findings stand gravest first
        for (std::size_t i = 1; i < group.size(); ++i) {
            findings[group[i]].cause = cause;
            findings[cause].consequences.push_back(group[i]);
        }
        // The cause may gather more through its other inputs; what is folded is done with, and a cause stays
        // one.
        for (auto& entry : cleared_by) {
            std::vector<std::size_t>& list = entry.second;
            const bool keeps_cause = &list != best && !list.empty() && list.front() == cause;
            std::erase_if(list, [&](std::size_t f) {
                if (f == cause) return !keeps_cause;
                return std::find(group.begin(), group.end(), f) != group.end();
            });
        }
    }
}

}  // namespace packproof::inspect
