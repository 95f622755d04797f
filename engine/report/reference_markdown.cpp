#include "engine/report/reference_markdown.hpp"

#include <fmt/format.h>

#include "engine/report/markdown_text.hpp"

namespace packproof::report {

namespace {

constexpr std::string_view written_by = "<!-- written by packproof manual -->\n\n";

// A name of a file has letters, digits, -, _, . and ~ only.
std::string shown(const Passage& passage) {
    const std::string words = markdown_text(passage.text);
    if (passage.page.empty()) return words;
    return fmt::format("[{}]({}.md{}{})", words, passage.page, passage.anchor.empty() ? "" : "#",
                       passage.anchor);
}

void write_section(std::string& out, const ReferenceSection& section) {
    if (!section.heading.empty()) {
        const std::string anchor =
            section.anchor.empty() ? std::string() : fmt::format("<a id=\"{}\"></a>", section.anchor);
        out += fmt::format("## {}{}\n\n", anchor, markdown_text(section.heading));
    }
    for (const ReferenceLine& line : section.lines) {
        out += line.label.empty() ? "  - " : fmt::format("- *{}* ", markdown_text(line.label));
        for (std::size_t i = 0; i < line.words.size(); ++i)
            out += (i > 0 ? (line.words[i].code && line.words[i - 1].code ? ", " : " ") : "") +
                   shown(line.words[i]);
        out += "\n";
    }
    if (!section.lines.empty()) out += "\n";
    if (section.columns.empty()) return;
    const auto row = [&out](const std::vector<std::string>& cells) {
        for (const std::string& cell : cells)
            out += "| " + markdown_text(cell) + " ";
        out += "|\n";
    };
    row(section.columns);
    for (std::size_t i = 0; i < section.columns.size(); ++i)
        out += "|---";
    out += "|\n";
    for (const auto& cells : section.rows)
        row(cells);
    out += "\n";
}

}  // namespace

std::string print_reference_markdown(const ReferencePage& page) {
    std::string out = fmt::format("{}[Reference](index.md), {}\n\n# {}\n\n", written_by,
                                  markdown_text(page.group), markdown_text(page.title));
    if (!page.summary.empty()) out += markdown_text(page.summary) + "\n\n";
    for (const ReferenceSection& section : page.sections)
        write_section(out, section);
    return out;
}

std::string print_reference_index_markdown(std::span<const ReferencePage> pages) {
    std::string out = std::string(written_by) + "# Reference\n";
    std::string_view group;
    for (const ReferencePage& page : pages) {
        if (page.group != group) {
            group = page.group;
            out += fmt::format("\n## {}\n\n", markdown_text(group));
        }
        out += fmt::format("- [{}]({}.md) {}\n", markdown_text(page.title), page.file,
                           markdown_text(page.summary));
    }
    return out;
}

}  // namespace packproof::report
