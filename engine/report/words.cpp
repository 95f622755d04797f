#include "engine/report/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "engine/inspect/concession.hpp"
#include "engine/inspect/relaxed.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Report;
using inspect::Verdict;

struct Tally {
    std::array<std::size_t, 4> causes{};  // by class
    std::size_t nonconformities = 0;
    std::size_t observations = 0;
    std::size_t consequences = 0;
};

Tally tally_of(const Report& report) {
    Tally tally;
    for (const Finding& finding : report.findings) {
        if (finding.verdict != Verdict::fails || !finding.counts()) continue;
        if (is_consequence(finding)) {
            ++tally.consequences;
        } else if (finding.rule_class == Class::observation) {
            ++tally.observations;
        } else {
            ++tally.causes[static_cast<std::size_t>(finding.rule_class)];
            ++tally.nonconformities;
        }
    }
    return tally;
}

std::string classes_words(const Tally& tally) {
    std::string words;
    for (const Class c : {Class::critical, Class::major, Class::minor}) {
        const std::size_t count = tally.causes[static_cast<std::size_t>(c)];
        if (count == 0) continue;
        words += fmt::format("{}{} {}", words.empty() ? "" : ", ", count, rules::class_name(c));
    }
    return words;
}

// "FIELD of ITEM: VALUE" in its parts; a text of another form is all `field`.
struct AssumptionParts {
    std::string_view field;
    std::string_view item;
    std::string_view value;

    bool joins(const AssumptionParts& other) const {
        return !item.empty() && field == other.field && value == other.value;
    }
};

AssumptionParts parts_of(std::string_view text) {
    constexpr std::string_view of = " of ";
    constexpr std::string_view colon = ": ";
    const std::size_t first = text.find(of);
    if (first == std::string_view::npos) return {text, {}, {}};
    const std::size_t item = first + of.size();
    const std::size_t second = text.find(colon, item);
    if (second == std::string_view::npos) return {text, {}, {}};
    return {text.substr(0, first), text.substr(item, second - item), text.substr(second + colon.size())};
}

std::string first_part(const Report& report, const Tally& tally) {
    const auto& coverage = report.coverage;
    const std::size_t made = coverage.conforming + coverage.failing + coverage.undecided;
    if (tally.nonconformities > 0) {
        std::string words =
            fmt::format("{}: {}", counted(tally.nonconformities, "nonconformity", "nonconformities"),
                        classes_words(tally));
        if (tally.consequences > 0)
            words += ", with " + counted(tally.consequences, "consequence", "consequences");
        return words;
    }
    if (coverage.conceded == 0 && made == 0 && coverage.applicable == 0)
        return "No check applies to this description";
    if (coverage.conceded == 0 && made == 0) return "No check could be made";
    if (coverage.conceded > 0)
        return "Nothing fails that is not conceded, among the " +
               counted(made + coverage.conceded, "check", "checks") + " that could be made";
    if (coverage.failing > 0)
        return "No nonconformity among the " + counted(made, "check", "checks") + " that could be made";
    return "Nothing fails among the " + counted(made, "check", "checks") + " that could be made";
}

}  // namespace

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string verdict_sentence(const Report& report) {
    const Tally tally = tally_of(report);
    std::string sentence = first_part(report, tally);
    if (tally.observations > 0) sentence += "; " + counted(tally.observations, "observation", "observations");
    if (report.coverage.conceded > 0) sentence += fmt::format("; {} conceded", report.coverage.conceded);
    const auto announced =
        std::count_if(report.findings.begin(), report.findings.end(), [](const Finding& finding) {
            return finding.verdict == Verdict::fails && finding.announced && !finding.conceded;
        });
    if (announced > 0) sentence += fmt::format("; {} by rules that count from a later release on", announced);
    if (report.coverage.undecided > 0)
        sentence += "; " + counted(report.coverage.undecided, "check", "checks") + " undecided";
    if (report.coverage.not_stated > 0)
        sentence += fmt::format("; {} for values not stated",
                                counted(report.coverage.not_stated, "check waits", "checks wait"));
    return sentence + ".";
}

std::string item_words(const Finding& finding) {
    if (finding.item_name == finding.kind_name || finding.kind_name.empty()) return finding.item_name;
    if (finding.item_name.empty()) return finding.kind_name;
    return finding.item_name + " (" + finding.kind_name + ")";
}

std::string has_words(const Finding& finding) {
    std::string words = finding.subject;
    if (!finding.has.text.empty()) words += (words.empty() ? "" : ": ") + finding.has.text;
    if (!finding.origin.empty() && !words.empty()) words += ", " + finding.origin;
    return words;
}

std::string needs_words(const Finding& finding) {
    if (!finding.needs_text.empty()) return finding.needs_text;
    if (finding.needs.text.empty()) return {};
    return finding.relation.empty() ? finding.needs.text : finding.relation + " " + finding.needs.text;
}

std::vector<inspect::Assumption> joined_assumptions(std::span<const inspect::Assumption> assumptions) {
    std::vector<inspect::Assumption> joined;
    std::vector<bool> used(assumptions.size(), false);
    for (std::size_t i = 0; i < assumptions.size(); ++i) {
        if (used[i]) continue;
        const AssumptionParts first = parts_of(assumptions[i].text);
        std::string items(first.item);
        for (std::size_t j = i + 1; j < assumptions.size(); ++j) {
            const AssumptionParts other = parts_of(assumptions[j].text);
            if (used[j] || !first.joins(other) || assumptions[j].basis != assumptions[i].basis) continue;
            items += fmt::format(", {}", other.item);
            used[j] = true;
        }
        joined.push_back({first.item.empty() ? assumptions[i].text
                                             : fmt::format("{} of {}: {}", first.field, items, first.value),
                          assumptions[i].basis});
    }
    return joined;
}

std::string missing_words(const inspect::Wanted& wanted) {
    std::string words = wanted.text;
    if (wanted.asked) words += " (asked, no answer yet)";
    if (!wanted.note.empty() && wanted.note != wanted.text) words += " (" + wanted.note + ")";
    return words;
}

std::string_view answerer_name(model::AnsweredBy who) {
    constexpr std::array<std::string_view, 3> answerers{"supplier", "bench", "builder"};
    return answerers[static_cast<std::size_t>(who)];
}

std::string_view answerer_name(const inspect::Wanted& wanted) {
    return wanted.answered_by ? answerer_name(*wanted.answered_by) : std::string_view{};
}

std::string concession_words(const inspect::Concession& one) {
    std::string words = inspect::conceded_words(one);
    if (!one.honoured)
        words += fmt::format("{} Not honoured: {}.", words.ends_with('.') ? "" : ".",
                             fmt::join(one.refused_by, ", "));
    return words;
}

std::string comparison_words(const inspect::Comparison& since) {
    if (since.earlier_file.empty())
        return fmt::format("This description is not in {}: all is new.", since.earlier);
    return fmt::format("Since {}: {} new, {} changed, {} unchanged, {} gone.", since.earlier, since.arrived,
                       since.changed, since.unchanged, since.gone.size());
}

std::string gone_words(const inspect::Gone& gone) {
    return fmt::format("{} on {}, {} {}", gone.rule_name,
                       gone.item_name.empty() ? gone.kind_name : gone.item_name,
                       rules::class_name(gone.rule_class), rules::verdict_name(gone.verdict));
}

std::string relaxed_words(const inspect::Relaxed& one) {
    return inspect::relaxed_words(one);
}

std::string change_words(const Finding& finding) {
    if (!finding.change) return {};
    switch (*finding.change) {
        case inspect::Change::arrived:
            return "new";
        case inspect::Change::unchanged:
            return "unchanged";
        case inspect::Change::changed:
            break;
    }
    return fmt::format("{}: {}", finding.worse ? "worse" : "changed", finding.before);
}

bool is_consequence(const Finding& finding) {
    return finding.cause.has_value();
}

}  // namespace packproof::report
