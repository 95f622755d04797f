// The reference: a page for every rule, kind of item with its fields, table, derived quantity, network,
// solver, worksheet, caution and function, as data that the forms of it print.
#pragma once

#include <string>
#include <vector>

#include "engine/rules/rule_set.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// Words, and the page that they lead to.
struct Passage {
    std::string text;
    std::string page;    ///< ReferencePage::file; empty: they lead nowhere
    std::string anchor;  ///< a place on it; may be empty
    bool code = false;   ///< an expression or a name, to stand as it is
};

struct ReferenceLine {
    std::string label;  ///< empty: belongs to the label above
    std::vector<Passage> words;
};

struct ReferenceSection {
    std::string heading;  ///< empty: the beginning of the page
    std::string anchor;
    std::vector<ReferenceLine> lines;
    std::vector<std::string> columns;  ///< of a table; empty: none
    std::vector<std::vector<std::string>> rows;
};

struct ReferencePage {
    std::string group;  ///< "Rules", "Kinds of item", ...
    std::string
        file;  ///< without an ending; unlike that of any other page, and harmless whatever the name is
    std::string title;
    std::string summary;
    std::vector<ReferenceSection> sections;
};

/// In the order of groups, then of the rule set. `set` as loaded from its texts; `sources` where they lie.
[[nodiscard]] std::vector<ReferencePage> reference_pages(const rules::RuleSet& set,
                                                         const text::Sources& sources);

/// The file of a page: "rule-NAME" with letters, digits, -, _ and . as they are and every other byte as ~XX;
/// what is too long for a file system is cut and told apart by a digest.
[[nodiscard]] std::string reference_file(std::string_view group, std::string_view name);

/// "field-NAME", likewise.
[[nodiscard]] std::string reference_anchor(std::string_view field);

}  // namespace packproof::report
