#include "engine/report/bench_list.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "engine/report/bench_html.hpp"
#include "engine/report/bench_words.hpp"
#include "engine/report/json_text.hpp"
#include "engine/report/page.hpp"

namespace packproof::report {

namespace {

using inspect::BenchList;
using inspect::Sheet;
using inspect::SheetLine;
using Json = nlohmann::ordered_json;

constexpr int form_version = 1;
constexpr std::array<std::string_view, 3> names{"text", "html", "json"};
constexpr std::size_t digest_digits = 8;

std::string_view state_name(SheetLine::State state) {
    constexpr std::array<std::string_view, 4> states{"open", "inside", "outside", "uncertain"};
    return states[static_cast<std::size_t>(state)];
}

void write_line(Page& page, const SheetLine& line) {
    page.paragraph(fmt::format("[{}] {}{}", mark_of(line.state), line.hold ? "HOLD: " : "", line.text), 4, 4,
                   line.state == SheetLine::State::outside ? Ink::alarm : Ink::plain);
    std::string values = expect_words(line);
    if (!values.empty() && line.doubt.empty()) values = "expect " + values;
    const std::string read = read_words(line);
    if (!read.empty() || line.measured)
        values += fmt::format("{}read {}", values.empty() ? "" : "; ", read.empty() ? "____________" : read);
    if (!values.empty()) page.paragraph(values, 8, 2, Ink::faint);
}

// What stops the work is told once for lines that share it, below them.
void write_sheet(Page& page, const Sheet& sheet) {
    page.blank();
    page.headline(sheet.title, Ink::strong, "", "");
    if (!sheet.about.empty()) page.paragraph(sheet.about, 4);
    for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
        const SheetLine& line = sheet.lines[i];
        write_line(page, line);
        if (ends_its_stop(sheet, i) && !line.stop.empty())
            page.paragraph("STOP if not: " + line.stop, 8, 2, Ink::strong);
    }
}

std::string print_text(const BenchList& list, const Options& options) {
    Page page(options.width, options.colour);
    page.headline("Bench list", Ink::strong, list.title.empty() ? "" : "  " + list.title, list.file);
    page.paragraph(
        fmt::format("Description, digest {}; rules {}, digest {}", list.input_digest.substr(0, digest_digits),
                    list.rules_version, list.rules_digest.substr(0, digest_digits)),
        0, 0, Ink::faint);
    if (!list.stops.empty()) {
        page.blank();
        page.headline("STOP", Ink::alarm, "  these are critical; packproof inspect shows the working", "");
        for (const std::string& stop : list.stops)
            page.paragraph("- " + stop, 4, 2);
    }
    for (const Sheet& sheet : list.sheets)
        write_sheet(page, sheet);
    if (!list.measure.empty()) {
        page.blank();
        page.headline("To find out", Ink::strong, "  checks wait for these; the first decide most", "");
        for (const inspect::Question& question : list.measure) {
            const std::string how = how_words(question);
            page.paragraph(
                fmt::format("[ ] {}{}{} ____________", question.title, how.empty() ? "" : ": ", how), 4, 4);
        }
    }
    page.blank();
    page.headline("CAUTIONS", Ink::strong, "", "");
    for (std::size_t i = 0; i < list.cautions.size(); ++i)
        page.numbered(i + 1, list.cautions[i]);
    page.paragraph(inspect::general_caution(), 4);
    return page.take();
}

Json sheet_json(const Sheet& sheet) {
    Json lines = Json::array();
    for (const SheetLine& line : sheet.lines)
        lines.push_back(Json{{"item", line.item},
                             {"text", line.text},
                             {"expects", line.expects},
                             {"doubt", line.doubt},
                             {"found", line.found},
                             {"state", std::string(state_name(line.state))},
                             {"measured", line.measured},
                             {"hold", line.hold},
                             {"stop", line.stop}});
    return Json{
        {"name", sheet.name}, {"title", sheet.title}, {"about", sheet.about}, {"lines", std::move(lines)}};
}

std::string print_json(const BenchList& list) {
    Json run{{"form", "packproof-bench"},
             {"version", form_version},
             {"file", list.file},
             {"title", list.title},
             {"rules", Json{{"version", list.rules_version}, {"digest", list.rules_digest}}},
             {"digest", list.input_digest},
             {"stops", list.stops}};
    run["sheets"] = Json::array();
    for (const Sheet& sheet : list.sheets)
        run["sheets"].push_back(sheet_json(sheet));
    run["measure"] = Json::array();
    for (const inspect::Question& question : list.measure)
        run["measure"].push_back(Json{{"title", question.title},
                                      {"how", question.ask},
                                      {"parts", question.parts},
                                      {"decides", question.waiting}});
    run["cautions"] = list.cautions;
    run["caution"] = std::string(inspect::general_caution());
    return escape_invisible(run.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

}  // namespace

std::span<const std::string_view> bench_form_names() {
    return names;
}

std::optional<BenchForm> read_bench_form(std::string_view name) {
    const auto found = std::find(names.begin(), names.end(), name);
    if (found == names.end()) return std::nullopt;
    return static_cast<BenchForm>(found - names.begin());
}

std::string print_bench(BenchForm form, const BenchList& list, const Options& options) {
    switch (form) {
        case BenchForm::text:
            return print_text(list, options);
        case BenchForm::html:
            return print_bench_html(list);
        case BenchForm::json:
            return print_json(list);
    }
    return {};
}

}  // namespace packproof::report
