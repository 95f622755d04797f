// A ladder of readings, as a method of rule data.
#include <array>
#include <cmath>
#include <map>

#include "engine/solve/ladder.hpp"
#include "engine/solve/method.hpp"

namespace packproof::solve {

namespace {

constexpr std::array fields{MethodField{"sources", ""}, MethodField{"lowest", "V"},
                            MethodField{"highest", "V"}};
enum LeadField : std::size_t { number, reading, loaded };
constexpr std::array lead_fields{MethodField{"number", ""}, MethodField{"reading", "V"},
                                 MethodField{"loaded", "V", false}};
constexpr std::array lists{MethodList{"leads", lead_fields}};

enum Question : std::size_t { mistake, also, concerned_sources, certain, sits, concerned };
using Form = MethodQuestion::Form;
constexpr std::array questions{
    MethodQuestion{"mistake", Form::text, ""},
    MethodQuestion{"or else", Form::text, ""},
    MethodQuestion{"first source concerned", Form::number, ""},
    MethodQuestion{"surely right", Form::number, ""},
    MethodQuestion{"sits at", Form::number, "", 0, 0},
    MethodQuestion{"is concerned", Form::truth, "", 0, 0},
};

/// A lead read against itself shows the meter's own offset.
constexpr double offset_of_meter = 0.05;
/// Decimal readings are not exact in binary.
constexpr double tiny = 1e-9;
constexpr double most_sources = static_cast<double>(most_leads) - 1.0;

std::string_view words_of(Mistake which) {
    switch (which) {
        case Mistake::none:
            return "none";
        case Mistake::exchanged:
            return "two leads exchanged";
        case Mistake::reversed:
            return "leads in reverse order";
        case Mistake::signs:
            return "leads of the meter exchanged";
        case Mistake::open:
            return "a lead open";
        case Mistake::left_out:
            return "leads one place too far";
        case Mistake::doubled:
            return "leads one place too low";
        case Mistake::turned:
            return "a source turned round";
        case Mistake::number:
            return "another number of sources";
        case Mistake::reordered:
            return "several leads in another order";
        case Mistake::outside:
            return "a source outside its limits";
        case Mistake::joint:
            return "a joint that gives way under load";
        case Mistake::unexplained:
            return "no single mistake explains it";
    }
    return {};
}

/// The ladder, and for each row the number of its lead; nothing where a number is none of the ladder's, or
/// stands twice.
struct Laid {
    Ladder ladder;
    std::vector<std::size_t> lead_of;
};

std::optional<Laid> lay(const MethodInput& input) {
    const double sources = std::round(input.values[0]->nominal);
    if (!(sources >= 1.0) || sources > most_sources) return std::nullopt;
    Laid laid;
    const std::size_t leads = static_cast<std::size_t>(sources) + 1;
    laid.ladder.readings.resize(leads);
    laid.ladder.source = {input.values[1]->range.low, input.values[2]->range.high};
    bool any_loaded = false;
    std::vector<std::optional<units::Interval>> under_load(leads);
    std::vector<bool> met(leads, false);
    for (const MethodRow& row : input.lists[0]) {
        const double lead = std::round(row[number]->nominal);
        if (!(lead >= 0.0) || lead > sources || met[static_cast<std::size_t>(lead)]) return std::nullopt;
        const auto at = static_cast<std::size_t>(lead);
        met[at] = true;
        laid.lead_of.push_back(at);
        const bool is_nothing = at == 0 && std::abs(row[reading]->nominal) < offset_of_meter;
        laid.ladder.readings[at] = is_nothing ? units::Interval{0.0, 0.0} : row[reading]->range;
        if (!row[loaded]) continue;
        under_load[at] = row[loaded]->range;
        any_loaded = true;
    }
    if (any_loaded) laid.ladder.loaded = std::move(under_load);
    return laid;
}

/// 1 if every rise between leads that were read lies within the limits for every value within the tolerances;
/// 0 to 1 where it may.
Amount surely_right(const Ladder& ladder) {
    std::optional<std::size_t> before;
    bool sure = true;
    for (std::size_t lead = 0; lead < ladder.readings.size(); ++lead) {
        if (!ladder.readings[lead]) continue;
        if (before) {
            const auto steps = static_cast<double>(lead - *before);
            const units::Interval rise = *ladder.readings[lead] - *ladder.readings[*before];
            sure = sure && rise.low >= steps * ladder.source.low - tiny &&
                   rise.high <= steps * ladder.source.high + tiny;
        }
        before = lead;
    }
    return sure ? Amount{{1.0, 1.0}, 1.0} : Amount{{0.0, 1.0}, 0.0};
}

std::vector<MethodAnswer> answer(const MethodInput& input, std::uint8_t) {
    const std::size_t rows = input.lists[0].size();
    std::vector<MethodAnswer> answers(questions.size());
    answers[sits] = EachAnswer(rows);
    answers[concerned] = EachAnswer(rows);
    const auto laid = lay(input);
    const auto found = laid ? examine(laid->ladder) : std::nullopt;
    if (!found) return answers;
    const bool none = found->explanation.mistake == Mistake::none;
    answers[certain] = OneAnswer{none ? surely_right(laid->ladder) : Amount{{0.0, 0.0}, 0.0}};
    answers[mistake] = OneAnswer{words_of(found->explanation.mistake)};
    if (!found->other.empty()) answers[also] = OneAnswer{words_of(found->other.front().mistake)};
    if (!found->explanation.sources.empty()) {
        const auto first = static_cast<double>(found->explanation.sources.front());
        answers[concerned_sources] = OneAnswer{Amount{{first, first}, first}};
    }
    EachAnswer places(rows);
    EachAnswer marked(rows, OneAnswer{false});
    const Mistake which = found->explanation.mistake;
    const bool all = which == Mistake::signs || which == Mistake::unexplained;
    for (std::size_t i = 0; i < rows; ++i) {
        const std::size_t lead = laid->lead_of[i];
        if (const auto place = found->sits_at[lead]) {
            const auto value = static_cast<double>(*place);
            places[i] = Amount{{value, value}, value};
        }
        bool is_concerned = all && (!found->sits_at[lead] || *found->sits_at[lead] != lead);
        for (const std::size_t one : found->explanation.leads)
            is_concerned = is_concerned || one == lead;
        for (const std::size_t source : found->explanation.sources)
            is_concerned = is_concerned || source == lead;  // the lead at its upper end
        marked[i] = is_concerned;
    }
    answers[sits] = std::move(places);
    answers[concerned] = std::move(marked);
    return answers;
}

}  // namespace

const Method& ladder_method() {
    static const Method method{
        "ladder of readings",
        "which mistake explains readings along a chain of sources, each against the first lead",
        fields,
        lists,
        questions,
        answer};
    return method;
}

}  // namespace packproof::solve
