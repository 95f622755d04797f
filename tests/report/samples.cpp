#include "samples.hpp"

#include <limits>

namespace packproof::samples {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Verdict;
using Status = model::Authority::Status;

constexpr std::string_view description = R"([pack]
name = "Cabin store"
series = 16

[device.main-breaker]
rated_current = "200 A"

[conductor.main-positive]
section = "50 mm²"
)";

text::Span span_of(text::SourceIndex source, std::string_view words) {
    const auto begin = static_cast<std::uint32_t>(description.find(words));
    return {source, begin, begin + static_cast<std::uint32_t>(words.size())};
}

Finding breaker_finding(text::SourceIndex source) {
    Finding finding;
    finding.rule_name = "breaker-protects-conductor";
    finding.asks = "Does the breaker open before the conductor overheats?";
    finding.because = "A breaker rated above the conductor's capacity lets it overheat without opening.";
    finding.rule_class = Class::critical;
    finding.verdict = Verdict::fails;
    finding.item_name = "main-positive";
    finding.kind_name = "conductor";
    finding.place = span_of(source, "\"200 A\"");
    finding.subject = "rated_current of main-breaker";
    finding.has = {"200 A", true, 200.0, 200.0, "A"};
    finding.origin = "stated";
    finding.relation = "<=";
    finding.needs = {"174 A", true, 174.0, 174.0, "A"};
    finding.needs_text = "at most 174 A (carrying_capacity of main-positive)";
    finding.by = "26 A (15 %)";
    finding.working = {
        {"carrying_capacity of main-positive", "table_current * ambient_factor", "192 A × 0.906", "174 A"},
        {"rated_current <= carrying_capacity", "", "200 A <= 174 A", "fails"}};
    finding.clears = {
        {"rated_current of main-breaker: at most 160 A", {}, {"160 A", true, 0, 160.0, "A"}, {}},
        {"section of main-positive: at least 70 mm²",
         {},
         {"70 mm²", true, 7e-5, std::numeric_limits<double>::infinity(), "m²"},
         {}}};
    finding.rests_on = {"rated_current of main-breaker = 200 A (stated, cabin.toml:6)",
                        "section of main-positive = 50 mm² (stated, cabin.toml:9)"};
    finding.basis = {{"Handbook of invented limits", "4.2", "", Status::recalled}};
    finding.caution = "A pack cannot be switched off: its terminals stay live.";
    finding.consequences = {1};
    return finding;
}

Finding drop_finding(text::SourceIndex source) {
    Finding finding;
    finding.rule_name = "voltage-drop";
    finding.asks = "Does the load see enough voltage?";
    finding.rule_class = Class::minor;
    finding.verdict = Verdict::fails;
    finding.item_name = "main-positive";
    finding.kind_name = "conductor";
    finding.place = span_of(source, "\"50 mm²\"");
    finding.has = {"2.1 V", true, 2.1, 2.1, "m²·kg/(s³·A)"};
    finding.needs_text = "at most 1.5 V";
    finding.cause = 0;
    return finding;
}

Finding clamp_finding() {
    Finding finding;
    finding.rule_name = "clamp-force";
    finding.asks = "Do the bolts clamp the cells as their maker wants?";
    finding.because = "Too little lets cells swell, too much crushes them.";
    finding.rule_class = Class::major;
    finding.verdict = Verdict::undecided;
    finding.item_name = "fixture";
    finding.kind_name = "fixture";
    finding.subject = "force of fixture";
    finding.has = {"2500 N (1625 N to 3375 N)", true, 1625.0, 3375.0, "m·kg/s²"};
    finding.origin = "computed";
    finding.needs_text = "2500 N to 3500 N (clamp_force of cell)";
    finding.decides = "nut_factor of fixture (assumed)";
    finding.basis = {{"", "", "", Status::common_practice}};
    finding.caution = "A pack cannot be switched off: its terminals stay live.";
    return finding;
}

Finding waiting_finding() {
    Finding finding;
    finding.rule_name = "bend-radius";
    finding.rule_class = Class::minor;
    finding.verdict = Verdict::not_stated;
    finding.item_name = "main-positive";
    finding.kind_name = "conductor";
    finding.wanted = {{"outer_diameter of main-positive", "caliper, one minute", 3, 0, false, ""}};
    return finding;
}

Finding conforming_finding() {
    Finding finding;
    finding.rule_name = "insulation-voltage";
    finding.verdict = Verdict::conforms;
    finding.item_name = "main-positive";
    finding.kind_name = "conductor";
    finding.has = {"600 V", true, 600.0, 600.0, "m²·kg/(s³·A)"};
    finding.needs_text = "at least 58.4 V";
    return finding;
}

}  // namespace

Sample cabin_store() {
    Sample sample;
    const auto source = sample.sources.add("cabin.toml", std::string(description));
    auto& report = sample.report;
    report.file = "cabin.toml";
    report.title = "Cabin store";
    report.rules_version = "0.1";
    report.rules_digest = "3f2a91c4d5e6f708";
    report.input_digest = "9b01aa42c0ffee00";
    report.findings = {breaker_finding(source), drop_finding(source), clamp_finding(), waiting_finding(),
                       conforming_finding()};
    report.coverage = {48, 41, 2, 1, 4, 0, 12};
    report.next = {{report.findings[3].wanted[0], 3, 2.5, {"bend-radius"}},
                   {{"pitch of link", "", 4, 1, true, ""}, 1, 1.0, {"hole-pattern"}}};
    report.assumptions = {
        {"nut_factor of fixture: 0.148 to 0.308", "VDI 2230, table A5 (from memory: verify)"}};
    report.tried = {"practice of pack: iec, nec, marine"};
    return sample;
}

Sample hostile(std::string_view text) {
    Sample sample = cabin_store();
    const std::string bad(text);
    auto& report = sample.report;
    sample.sources = {};
    const auto source = sample.sources.add(bad, "a\nb\n");
    report.file = report.title = report.rules_version = report.rules_digest = report.input_digest = bad;
    for (Finding& finding : report.findings) {
        for (std::string* each : {&finding.rule_name, &finding.asks, &finding.because, &finding.item_name,
                                  &finding.kind_name, &finding.subject, &finding.origin, &finding.needs_text,
                                  &finding.by, &finding.decides, &finding.caution, &finding.advice})
            *each = bad;
        finding.has.text = finding.has.si_unit = finding.needs.text = finding.relation = bad;
        finding.elsewhere = {{bad, {source, 0, 1}}};
        finding.place = {source, 2, 3};
        finding.rests_on = {bad};
        finding.shows = {bad};
        finding.working = {{bad, bad, "1 " + bad, bad}};
        finding.clears = {{bad, {}, {bad, false, 0, 0, ""}, {source, 2, 3}, {bad}}};
        finding.wanted = {{bad, bad, 0, 0, true, bad}};
        finding.basis = {{bad, bad, bad, Status::checked}};
    }
    report.next = {{{bad, bad, 0, 0, true, bad}, 1, 1.0, {bad}}};
    report.assumptions = {{bad, bad}};
    report.chosen = {bad};
    report.tried = {bad};
    return sample;
}

}  // namespace packproof::samples
