#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "engine/report/toml_text.hpp"
#include "engine/serve/features.hpp"
#include "engine/serve/field_words.hpp"
#include "engine/serve/spot.hpp"
#include "engine/serve/uri.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::serve {

namespace {

using model::Field;
using model::Kind;

class List {
  public:
    List(const Asked& asked, const Cursor& cursor, Encoding encoding)
        : bytes_(asked.text.text), cursor_(cursor), encoding_(encoding) {
        extent_ = extent_of(bytes_, cursor.begin, cursor.end, encoding);
    }

    void word(const std::string& label, const std::string& detail, Suggestion::Kind kind) {
        add(label, detail, kind, extent_, label);
    }

    /// A text, in quotes if the cursor is not between some.
    void text(const std::string& label, const std::string& detail, Suggestion::Kind kind) {
        if (cursor_.quote == '\'') return add(label, detail, kind, extent_, label);
        std::string written = report::toml_value(label, "\"\"");
        if (cursor_.quoted) written = written.substr(1, written.size() - 2);
        add(label, detail, kind, extent_, written);
    }

    void unit(const std::string& symbol, std::uint32_t begin, std::uint32_t end, bool apart) {
        add(symbol, "unit", Suggestion::Kind::unit, extent_of(bytes_, begin, end, encoding_),
            (apart ? " " : "") + symbol);
    }

    std::vector<Suggestion> all;

  private:
    void add(const std::string& label, const std::string& detail, Suggestion::Kind kind, Extent extent,
             std::string writes) {
        all.push_back({text::safe_print(label), text::safe_print(detail), kind, extent, std::move(writes)});
    }

    std::string_view bytes_;
    const Cursor& cursor_;
    Encoding encoding_;
    Extent extent_;
};

void add_units(const Field& field, const Asked& asked, const Cursor& cursor, List& list) {
    const std::string_view bytes = asked.text.text;
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    std::uint32_t begin = asked.offset;
    while (begin > cursor.begin && bytes[begin - 1] != ' ' && !digit(bytes[begin - 1]))
        --begin;
    const std::string_view before = bytes.substr(cursor.begin, begin - cursor.begin);
    if (std::none_of(before.begin(), before.end(), digit)) return;
    std::uint32_t end = asked.offset;
    while (end < cursor.end && bytes[end] != ' ')
        ++end;
    for (const std::string_view symbol : units::units_of(field.unit.dimension))
        list.unit(std::string(symbol), begin, end, digit(before.back()));
    if (!field.rate_of.empty()) list.unit("C", begin, end, false);
}

void add_references(const Field& field, const Asked& asked, Workspace& workspace, List& list) {
    const auto& vocabulary = workspace.rules_of(nullptr).set.vocabulary;
    for (const KnownItem& item : workspace.items_of(asked.text))
        for (const auto kind : field.kinds) {
            if (vocabulary.kinds[kind].name != item.kind) continue;
            list.text(item.id, item.kind, Suggestion::Kind::reference);
            for (const std::string& point : vocabulary.kinds[kind].points)
                list.text(item.id + "." + point, item.kind, Suggestion::Kind::reference);
        }
}

void add_ids(const Kind& kind, const Asked& asked, Workspace& workspace, List& list, bool as_text) {
    for (const KnownItem& item : workspace.items_of(asked.text)) {
        if (item.kind != kind.name) continue;
        if (as_text)
            list.text(item.id, item.kind, Suggestion::Kind::reference);
        else
            list.word(item.id, item.kind, Suggestion::Kind::reference);
    }
}

void add_value(const Spot& spot, const Asked& asked, Workspace& workspace, List& list) {
    const Field& field = *spot.field;
    switch (field.form) {
        case Field::Form::quantity:
        case Field::Form::range:
            add_units(field, asked, spot.cursor, list);
            break;
        case Field::Form::truth:
            if (!spot.cursor.quoted)
                for (const char* word : {"true", "false"})
                    list.word(word, field.about, Suggestion::Kind::value);
            break;
        case Field::Form::choice:
            for (const std::string& choice : field.choices)
                list.text(choice, field.about, Suggestion::Kind::choice);
            break;
        case Field::Form::reference:
        case Field::Form::references:
            add_references(field, asked, workspace, list);
            break;
        case Field::Form::count:
        case Field::Form::text:
        case Field::Form::date:
            break;
    }
    if (!list.all.empty() && field.form != Field::Form::truth &&
        list.all.front().kind == Suggestion::Kind::unit)
        return;
    list.text("?", "asked, no answer yet", Suggestion::Kind::value);
    list.text("none", "stated to be absent", Suggestion::Kind::value);
}

// `like`, `part`, `source`: what every kind has.
void add_reserved_value(const Spot& spot, const Asked& asked, Workspace& workspace, List& list) {
    const std::string& key = spot.cursor.path.back();
    if (key == "like" || key == "part") return add_ids(*spot.kind, asked, workspace, list, true);
    const bool of_source =
        std::find(spot.cursor.path.begin(), spot.cursor.path.end(), "source") != spot.cursor.path.end();
    if (!of_source) return;
    for (const Kind& kind : workspace.rules_of(nullptr).set.vocabulary.kinds)
        if (kind.role == Kind::Role::document) add_ids(kind, asked, workspace, list, true);
}

void add_keys(const Spot& spot, const Asked& asked, List& list) {
    auto path = spot.cursor.path;
    path.pop_back();
    const auto there = keys_under(asked.text.text, path);
    const auto add = [&](const std::string& key, const std::string& detail) {
        const bool written = std::find(there.begin(), there.end(), key) != there.end();
        if (!written || key == spot.cursor.path.back()) list.word(key, detail, Suggestion::Kind::field);
    };
    for (const Field& field : spot.kind->fields)
        add(field.name, field.about);
    add("like", "copies the fields of another item of this kind");
    add("part", "copies the fields of an item of the parts files");
    add("source", "the document that says so");
}

void add_kinds(const model::Vocabulary& vocabulary, List& list) {
    for (const Kind& kind : vocabulary.kinds)
        list.word(kind.name, kind.about, Suggestion::Kind::name);
}

std::optional<Location> file_named(const std::string& name, const Asked& asked, const Workspace& workspace,
                                   const Inspected* of) {
    namespace files = std::filesystem;
    if (asked.text.path.empty()) return std::nullopt;
    const std::string path = real_path((files::path(asked.text.path).parent_path() / name).string());
    if (of != nullptr)
        for (std::size_t i = 0; i < of->paths.size(); ++i)
            if (of->paths[i] == path) return Location{of->uris[i], {}};
    std::error_code failure;
    if (!files::is_regular_file(path, failure)) return std::nullopt;
    return Location{uri_of_file(path, workspace.texts()), {}};
}

}  // namespace

std::vector<Suggestion> complete_description(const Asked& asked, Workspace& workspace) {
    const auto& vocabulary = workspace.rules_of(nullptr).set.vocabulary;
    const Spot spot = spot_at(asked.text.text, asked.offset, vocabulary);
    List list(asked, spot.cursor, workspace.encoding());
    const auto& path = spot.cursor.path;
    if (spot.cursor.where == Cursor::Where::header) {
        if (path.size() <= 1)
            add_kinds(vocabulary, list);
        else if (path.size() == 2 && spot.kind != nullptr)
            add_ids(*spot.kind, asked, workspace, list, false);
    } else if (spot.cursor.where == Cursor::Where::value) {
        if (spot.field != nullptr)
            add_value(spot, asked, workspace, list);
        else if (spot.kind != nullptr)
            add_reserved_value(spot, asked, workspace, list);
    } else if (path.size() <= 1) {
        for (const char* word : {"format", "parts", "extends", "drop"})
            list.word(word, "of the whole description", Suggestion::Kind::field);
        add_kinds(vocabulary, list);
    } else if (spot.kind != nullptr) {
        add_keys(spot, asked, list);
    }
    return std::move(list.all);
}

std::optional<Location> define_description(const Asked& asked, Workspace& workspace) {
    const auto& rules = workspace.rules_of(nullptr);
    const Spot spot = spot_at(asked.text.text, asked.offset, rules.set.vocabulary);
    const Inspected* of = workspace.inspected(asked.text);
    const auto& path = spot.cursor.path;
    if (spot.cursor.where == Cursor::Where::key && spot.field != nullptr)
        return Telling{rules.read, workspace.encoding()}.location(spot.field->span);
    if (!spot.cursor.quoted || path.empty()) return std::nullopt;
    const std::string word = asked.text.text.substr(spot.cursor.begin, spot.cursor.end - spot.cursor.begin);
    if (path.size() == 1 && (path[0] == "parts" || path[0] == "extends"))
        return file_named(word, asked, workspace, of);
    if (of != nullptr && of->loaded) {
        // An id may hold dots of its own; the whole word counts before what stands before a point.
        for (const std::string& id : {word, word.substr(0, word.rfind('.'))})
            for (const model::Item& item : of->loaded->model.items)
                if (item.id == id && item.stated)
                    if (auto at = Telling{*of, workspace.encoding()}.location(item.span)) return at;
        return std::nullopt;
    }
    for (const Header& header : headers_of(asked.text.text))
        if (header.path.size() == 2 && header.path[1] == word.substr(0, word.find('.')))
            return Location{asked.text.uri,
                            extent_of(asked.text.text, header.begin, header.end, workspace.encoding())};
    return std::nullopt;
}

}  // namespace packproof::serve
