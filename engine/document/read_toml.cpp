#include "engine/document/read_toml.hpp"

#include <fmt/core.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <variant>

#include "engine/document/scan.hpp"
#include "engine/document/shown.hpp"
#include "engine/document/statement.hpp"
#include "engine/document/syntax_message.hpp"

namespace packproof::document {
namespace {

constexpr int most_attempts = 20;

// The parser's tree becomes ours; texts are moved out of it.
class Conversion {
  public:
    Conversion(text::SourceIndex source, std::string_view bytes, const Lines& lines, const Limits& limits,
               text::Messages& messages)
        : source_(source), bytes_(bytes), lines_(lines), limits_(limits), messages_(messages) {}

    Node root(toml::table& table) {
        Node result;
        result.span = {source_, 0, 0};
        members(table, result, 1);
        return result;
    }

  private:
    struct Member {
        const toml::key* key = nullptr;
        toml::node* value = nullptr;
    };

    [[nodiscard]] text::Span span(const toml::source_region& region) const {
        return {source_, lines_.offset(bytes_, region.begin.line, region.begin.column),
                lines_.offset(bytes_, region.end.line, region.end.column)};
    }

    void members(toml::table& table, Node& into, std::size_t depth) {
        // The members of all tables that are open stand in one list, those of this one last.
        const std::size_t first = open_.size();
        for (auto&& [key, value] : table)
            open_.push_back({&key, &value});
        const std::size_t end = open_.size();
        std::sort(
            open_.begin() + static_cast<std::ptrdiff_t>(first), open_.end(),
            [](const Member& a, const Member& b) { return a.key->source().begin < b.key->source().begin; });
        into.children.reserve(end - first);
        for (std::size_t i = first; i < end; ++i) {
            const Member member = open_[i];
            Node& child = into.children.emplace_back();
            child.key = member.key->str();
            child.key_span = span(member.key->source());
            fill(child, *member.value, depth);
        }
        open_.resize(first);
    }

    void fill(Node& into, toml::node& value, std::size_t depth) {
        into.span = span(value.source());
        if (depth > limits_.nesting) {
            messages_.error(into.span, fmt::format("nested deeper than {} levels", limits_.nesting));
            return;
        }
        switch (value.type()) {
            case toml::node_type::table:
                into.kind = Node::Kind::table;
                members(*value.as_table(), into, depth + 1);
                break;
            case toml::node_type::array:
                into.kind = Node::Kind::array;
                elements(*value.as_array(), into, depth + 1);
                break;
            case toml::node_type::string:
                into.kind = Node::Kind::string;
                into.text = std::move(value.as_string()->get());
                break;
            case toml::node_type::integer:
                into.kind = Node::Kind::integer;
                into.integer = value.as_integer()->get();
                break;
            case toml::node_type::floating_point:
                real(into, value.as_floating_point()->get());
                break;
            case toml::node_type::boolean:
                into.kind = Node::Kind::boolean;
                into.boolean = value.as_boolean()->get();
                break;
            default:
                into.kind = Node::Kind::date;
                into.text = std::string(bytes_.substr(into.span.begin, into.span.end - into.span.begin));
        }
    }

    void elements(toml::array& array, Node& into, std::size_t depth) {
        into.children.reserve(array.size());
        for (toml::node& element : array)
            fill(into.children.emplace_back(), element, depth);
    }

    void real(Node& into, double number) {
        into.kind = Node::Kind::real;
        into.real = number;
        if (!std::isfinite(number))
            messages_.error(into.span,
                            fmt::format("{} is not a number of a description",
                                        bytes_.substr(into.span.begin, into.span.end - into.span.begin)),
                            "write \"?\" for what is not known");
    }

    text::SourceIndex source_;
    std::string_view bytes_;
    const Lines& lines_;
    const Limits& limits_;
    text::Messages& messages_;
    std::vector<Member> open_;
};

struct Refusal {
    toml::source_position position;
    std::string said;
};

std::variant<toml::table, Refusal> parse(std::string_view bytes) {
    try {
        return toml::parse(bytes);
    } catch (const toml::parse_error& error) {
        return Refusal{error.source().begin, std::string(error.description())};
    }
}

// After the first refusal: every further one, each line blanked in turn. Line ends stay, so places do too.
class Recovery {
  public:
    Recovery(text::SourceIndex source, const text::Sources& sources, const Limits& limits, Lines& lines,
             text::Messages& messages)
        : source_(source),
          sources_(sources),
          limits_(limits),
          lines_(lines),
          messages_(messages),
          working_(sources.bytes(source)) {}

    void report_all(Refusal refusal) {
        for (int attempt = 1;; ++attempt) {
            const std::size_t offset =
                lines_.offset(working_, refusal.position.line, refusal.position.column);
            report(offset, refusal.said);
            if (attempt == most_attempts) {
                messages_.note(
                    {source_, static_cast<std::uint32_t>(offset), static_cast<std::uint32_t>(offset)},
                    fmt::format("only the first {} mistakes of this file's form are shown", most_attempts));
                return;
            }
            text::Messages unused;  // with a line gone, a text may end elsewhere: look at the limits again
            if (!scan(source_, working_, limits_, lines_, unused)) return;
            auto again = parse(working_);
            if (!std::holds_alternative<Refusal>(again)) return;
            refusal = std::move(std::get<Refusal>(again));
        }
    }

  private:
    void report(std::size_t offset, std::string_view said) {
        const Complaint complaint{source_, working_, offset, said, statement_at(working_, offset)};
        const bool repeat = said.find("cannot redefine") != std::string_view::npos ||
                            said.find("cannot insert") != std::string_view::npos;
        if (!repeat)
            messages_.add(syntax_message(complaint));
        else if (!under_broken_header(complaint.statement))
            messages_.add(repeated(complaint));
        blank(complaint);
    }

    [[nodiscard]] text::Message repeated(const Complaint& complaint) const {
        const std::string before = working_.substr(0, complaint.statement.begin);
        Node tree;
        auto sound = parse(before);
        text::Messages unused;
        if (auto* table = std::get_if<toml::table>(&sound))
            tree = Conversion(source_, before, lines_, limits_, unused).root(*table);
        return repeat_message(complaint, tree, header_over(complaint.statement), sources_);
    }

    // The names of the header that a statement stands under, without brackets.
    [[nodiscard]] std::string_view header_over(const Statement& statement) const {
        if (statement.under == nowhere) return {};
        std::string_view line = trimmed(line_from(working_, statement.under));
        line = line.substr(0, line.find(']'));
        while (!line.empty() && line.front() == '[')
            line.remove_prefix(1);
        return line;
    }

    // What follows a blanked header would seem to repeat keys of the table before it.
    [[nodiscard]] bool under_broken_header(const Statement& statement) const {
        for (std::size_t broken : broken_headers_) {
            const bool after_header = statement.under == nowhere || broken > statement.under;
            if (after_header && broken < statement.begin) return true;
        }
        return false;
    }

    void blank(const Complaint& complaint) {
        const Statement& s = complaint.statement;
        const std::size_t mistake_line =
            working_.rfind('\n', complaint.offset == 0 ? 0 : complaint.offset - 1);
        std::size_t end = next_line(working_, complaint.offset);
        if (s.long_quote && s.open_quote != nowhere) {
            end = working_.size();  // what follows may be its text or not: nothing can be said about it
        } else if (!s.open.empty()) {
            const std::size_t begin = mistake_line == std::string::npos ? 0 : mistake_line + 1;
            if (begin > s.begin && begins_statement(line_from(working_, begin)))
                end = begin;
            else
                end = end_of_brackets(s.open.size(), s.open.back(), complaint.offset, end);
        }
        // A mistake at a line's end lies before the line break.
        if (complaint.offset < working_.size() && working_[complaint.offset] == '\n' && s.open.empty())
            end = std::min(end, complaint.offset + 1);
        if (s.header) broken_headers_.push_back(s.begin);
        for (std::size_t i = s.begin; i < std::max(end, s.begin) && i < working_.size(); ++i)
            if (working_[i] != '\n' && working_[i] != '\r') working_[i] = ' ';
        // A carriage return on its own would be refused again.
        for (std::size_t i = s.begin; i < end && i < working_.size(); ++i)
            if (working_[i] == '\r' && (i + 1 == working_.size() || working_[i + 1] != '\n'))
                working_[i] = ' ';
    }

    // The rest of a list goes too, up to its closing bracket or to the next statement.
    [[nodiscard]] std::size_t end_of_brackets(std::size_t depth, std::size_t innermost, std::size_t offset,
                                              std::size_t line_end) const {
        const auto count = [&](std::string_view line) {
            for (char c : line) {
                if (c == '[' || c == '{') ++depth;
                if ((c == ']' || c == '}') && depth > 0) --depth;
            }
        };
        const bool braces =
            working_[innermost] == '{' && offset < working_.size() && working_[offset] == '\n';
        if (braces) return end_of_braces(line_end);
        count(std::string_view(working_).substr(offset, line_end - offset));
        while (depth > 0 && line_end < working_.size()) {
            const std::string_view line = line_from(working_, line_end);
            if (begins_statement(line)) break;
            count(line);
            line_end = next_line(working_, line_end);
        }
        return line_end;
    }

    // Braces over several lines, which TOML 1.0 does not have: up to their end, if there is one.
    [[nodiscard]] std::size_t end_of_braces(std::size_t line_end) const {
        for (std::size_t at = line_end; at < working_.size(); at = next_line(working_, at)) {
            const std::string_view line = trimmed(line_from(working_, at));
            if (!line.empty() && line.front() == '[') break;
            if (line.find('}') != std::string_view::npos) return next_line(working_, at);
        }
        return line_end;
    }

    text::SourceIndex source_;
    const text::Sources& sources_;
    const Limits& limits_;
    Lines& lines_;
    text::Messages& messages_;
    std::string working_;
    std::vector<std::size_t> broken_headers_;
};

}  // namespace

std::optional<Node> read_toml(text::SourceIndex source, const text::Sources& sources,
                              text::Messages& messages, const Limits& limits) {
    const std::string_view bytes = sources.bytes(source);
    const std::size_t errors = messages.error_count();
    Lines lines;
    if (!scan(source, bytes, limits, lines, messages)) return std::nullopt;
    auto parsed = parse(bytes);
    if (auto* refusal = std::get_if<Refusal>(&parsed)) {
        Recovery(source, sources, limits, lines, messages).report_all(std::move(*refusal));
        return std::nullopt;
    }
    Node root = Conversion(source, bytes, lines, limits, messages).root(std::get<toml::table>(parsed));
    if (messages.error_count() > errors) return std::nullopt;
    return root;
}

}  // namespace packproof::document
