#include <fmt/format.h>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/report/field_words.hpp"
#include "engine/report/page.hpp"
#include "engine/report/schema.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::cli {

namespace {

using model::Field;
using model::Kind;
using model::Vocabulary;

void write_kind(report::Page& page, const Kind& kind, const Vocabulary& vocabulary) {
    page.headline("[" + kind.name + (kind.single ? "]" : ".ID]"), report::Ink::strong, "  " + kind.about, "");
    if (!kind.points.empty()) page.labelled("points", fmt::format("{}", fmt::join(kind.points, ", ")));
    for (const Field& field : kind.fields) {
        page.paragraph(field.name + ": " + report::form_words(field, vocabulary), 4, 4);
        page.paragraph(field.about, 8);
        if (!field.assume.empty()) page.paragraph("assumed if not stated: " + field.assume, 8);
    }
    page.blank();
}

int unknown_kind(const std::string& name, const Vocabulary& vocabulary, Surroundings& around) {
    std::vector<std::string_view> names;
    for (const Kind& kind : vocabulary.kinds)
        names.push_back(kind.name);
    const std::string_view nearest = text::nearest_name(name, names);
    print_trouble(
        "there is no kind of item named " + name,
        nearest.empty() ? "packproof vocabulary lists them all" : fmt::format("did you mean {}", nearest),
        around);
    return exit_trouble;
}

}  // namespace

int print_vocabulary(const VocabularyCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;
    const Vocabulary& vocabulary = workspace.rules.vocabulary;
    if (call.schema && !call.kind.empty()) {
        print_trouble("a schema is of a whole description, not of one kind of item", "leave out the kind",
                      around);
        return exit_trouble;
    }
    if (call.schema) return put_out(report::print_schema(vocabulary), exit_nothing, around);
    if (!call.kind.empty() && !vocabulary.kind(call.kind)) return unknown_kind(call.kind, vocabulary, around);
    report::Page page(call.width, false);
    for (const Kind& kind : vocabulary.kinds)
        if (call.kind.empty() || kind.name == call.kind) write_kind(page, kind, vocabulary);
    return put_out(page.take(), exit_nothing, around);
}

}  // namespace packproof::cli
