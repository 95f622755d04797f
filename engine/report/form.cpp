#include "engine/report/form.hpp"

#include <array>

#include "engine/report/inspection_html.hpp"
#include "engine/report/json.hpp"
#include "engine/report/lines.hpp"
#include "engine/report/sarif.hpp"
#include "engine/report/table.hpp"
#include "engine/report/text.hpp"

namespace packproof::report {

namespace {

constexpr std::array<std::string_view, 6> names{"text", "lines", "json", "sarif", "table", "html"};

}  // namespace

std::span<const std::string_view> form_names() {
    return names;
}

std::optional<Form> read_form(std::string_view name) {
    for (std::size_t i = 0; i < names.size(); ++i)
        if (names[i] == name) return static_cast<Form>(i);
    return std::nullopt;
}

std::string print(Form form, std::span<const inspect::Report> reports, const text::Sources& sources,
                  const Options& options) {
    switch (form) {
        case Form::text:
            return print_text(reports, sources, options);
        case Form::lines:
            return print_lines(reports, sources, options);
        case Form::json:
            return print_json(reports, sources, options);
        case Form::sarif:
            return print_sarif(reports, sources, options);
        case Form::table:
            return print_table(reports, options);
        case Form::html:
            return print_inspection_html(reports, sources, options);
    }
    return {};
}

}  // namespace packproof::report
