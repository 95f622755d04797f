#include "engine/rules/flatten.hpp"

#include <cstring>
#include <map>
#include <stdexcept>
#include <string>
#include <tuple>
#include <type_traits>

#include "engine/text/message.hpp"

namespace packproof::rules {

namespace {

class Writer {
  public:
    std::string bytes;

    template <typename T>
    void plain(T& value) {
        bytes.append(reinterpret_cast<const char*>(&value), sizeof value);  // NOLINT: same program reads it
    }
    void text(std::string& value) {
        auto size = static_cast<std::uint32_t>(value.size());
        plain(size);
        bytes.append(value);
    }
    template <typename T>
    void size(std::vector<T>& list) {
        auto size = static_cast<std::uint32_t>(list.size());
        plain(size);
    }
    template <typename T>
    void elements(std::vector<T>& list) {
        bytes.append(reinterpret_cast<const char*>(list.data()),
                     list.size() * sizeof(T));  // NOLINT: as above
    }
    /// In full only the first time that the same bytes come up for its type.
    template <typename T>
    void repeated(T& value) {
        Writer alone;
        carry(alone, value);
        auto& places = std::get<Places<T>>(places_).of;
        const auto next = static_cast<std::uint16_t>(places.size());
        const auto [place, fresh] = places.try_emplace(alone.bytes, next);
        plain(place->second);
        if (fresh) bytes.append(alone.bytes);
    }

  private:
    template <typename T>
    struct Places {
        std::map<std::string, std::uint16_t> of;
    };
    std::tuple<Places<model::Type>, Places<units::Unit>> places_;
};

class Reader {
  public:
    explicit Reader(std::string_view bytes) : rest_(bytes) {}

    template <typename T>
    void plain(T& value) {
        std::memcpy(&value, take(sizeof value).data(), sizeof value);
    }
    void text(std::string& value) {
        std::uint32_t size = 0;
        plain(size);
        value.assign(take(size));
    }
    template <typename T>
    void size(std::vector<T>& list) {
        std::uint32_t size = 0;
        plain(size);
        if (size > rest_.size()) throw std::runtime_error("the built-in rules are damaged");
        list.resize(size);
    }
    template <typename T>
    void elements(std::vector<T>& list) {
        if (!list.empty())
            std::memcpy(list.data(), take(list.size() * sizeof(T)).data(), list.size() * sizeof(T));
    }
    template <typename T>
    void repeated(T& value) {
        std::uint16_t place = 0;
        plain(place);
        auto& known = std::get<std::vector<T>>(known_);
        if (place == known.size()) carry(*this, known.emplace_back());
        if (place >= known.size()) throw std::runtime_error("the built-in rules are damaged");
        value = known[place];
    }
    [[nodiscard]] bool finished() const { return rest_.empty(); }

  private:
    std::string_view take(std::size_t size) {
        if (size > rest_.size()) throw std::runtime_error("the built-in rules are damaged");
        const std::string_view taken = rest_.substr(0, size);
        rest_.remove_prefix(size);
        return taken;
    }
    std::string_view rest_;
    std::tuple<std::vector<model::Type>, std::vector<units::Unit>> known_;  ///< that came up before
};

// One function a struct names its members once, for both directions. Spans are left out: the built-in rules
// have no file to point into.

/// Lists of these are carried in one piece.
template <typename T>
constexpr bool is_plain = std::is_arithmetic_v<T> || std::is_enum_v<T> || std::is_same_v<T, language::Node> ||
                          std::is_same_v<T, language::Member>;

template <typename A, typename T>
requires(std::is_arithmetic_v<T> || std::is_enum_v<T>) void carry(A& a, T& value) {
    a.plain(value);
}
template <typename A>
void carry(A& a, std::string& value) {
    a.text(value);
}
template <typename A, typename T>
void carry(A& a, std::vector<T>& list);

template <typename A, typename... Members>
void carry_all(A& a, Members&... members) {
    (carry(a, members), ...);
}

template <typename A>
void carry(A& a, units::Dimension& d) {
    a.plain(d.exponent);
}
template <typename A>
void carry(A& a, units::Unit& u) {
    carry_all(a, u.symbol, u.dimension, u.factor, u.offset, u.temperature, u.gauge, u.scale.numerator,
              u.scale.denominator, u.scale.ten, u.scale.pi);
}
template <typename A>
void carry(A& a, model::Type& t) {
    carry_all(a, t.kind, t.dimension, t.absolute, t.kinds);
}
template <typename A>
void carry(A& a, model::Authority& x) {
    carry_all(a, x.document, x.clause, x.note, x.status);
}
template <typename A>
void carry(A& a, model::Field& f) {
    carry_all(a, f.name, f.form, f.about, f.unit, f.absolute, f.choices, f.kinds, f.least, f.most,
              f.least_open, f.each_choice, f.the_only_one, f.rate_of, f.assume, f.assume_basis, f.ask,
              f.answered_by);
}
template <typename A>
void carry(A& a, model::Kind& k) {
    carry_all(a, k.name, k.about, k.caution, k.single, k.role, k.answered_by, k.points, k.fields);
}
/// What stands many times over is carried in full the first time and by its number after that.
template <typename A, typename T>
void carry_repeating(A& a, std::vector<T>& list) {
    a.size(list);
    for (T& element : list)
        a.repeated(element);
}
template <typename A>
void carry(A& a, language::Expression& e) {
    carry_all(a, e.text, e.nodes, e.root, e.texts, e.patterns, e.arguments, e.members);
    carry_repeating(a, e.literal_units);
    carry_repeating(a, e.types);
    carry(a, e.variables);
}
template <typename A>
void carry(A& a, Caution& c) {
    carry_all(a, c.name, c.text, c.brief);
}
template <typename A>
void carry(A& a, TableKey& k) {
    carry_all(a, k.name, k.is_text, k.unit, k.absolute, k.take, k.beyond_last);
}
template <typename A>
void carry(A& a, TableColumn& c) {
    carry_all(a, c.name, c.is_text, c.unit, c.absolute);
}
template <typename A>
void carry(A& a, Cell& c) {
    carry_all(a, c.number, c.text, c.none, c.gauge);
}
template <typename A>
void carry(A& a, TableRow& r) {
    carry_all(a, r.keys, r.columns, r.block);
}
template <typename A>
void carry(A& a, TableBlock& b) {
    carry_all(a, b.basis);
}
template <typename A>
void carry(A& a, Table& t) {
    carry_all(a, t.name, t.about, t.keys, t.columns, t.blocks, t.rows);
}
template <typename A>
void carry(A& a, BranchEnd& e) {
    carry_all(a, e.point, e.field);
}
template <typename A>
void carry(A& a, std::optional<model::FieldIndex>& f) {
    bool is_there = f.has_value();
    carry(a, is_there);
    if (!is_there) return;
    if (!f) f.emplace();
    carry(a, *f);
}
template <typename A>
void carry(A& a, NetworkBranch& b) {
    carry_all(a, b.kind, b.role, b.from, b.to, b.same_ends_as, b.when, b.opens, b.length, b.resistance,
              b.voltage, b.drawn);
}
template <typename A>
void carry(A& a, NetworkCase& c) {
    carry_all(a, c.name, c.about);
}
template <typename A>
void carry(A& a, NetworkDefinition& n) {
    carry_all(a, n.name, n.about, n.cases, n.branches);
}
template <typename A>
void carry(A& a, std::optional<Solved>& s) {
    bool is_solved = s.has_value();
    carry(a, is_solved);
    if (!is_solved) return;
    if (!s) s.emplace();
    carry_all(a, s->question, s->network, s->in_case);
}
template <typename A>
void carry(A& a, std::optional<SolverAsked>& s) {
    bool is_asked = s.has_value();
    carry(a, is_asked);
    if (!is_asked) return;
    if (!s) s.emplace();
    carry_all(a, s->solver, s->question);
}
template <typename A>
void carry(A& a, SolverRows& r) {
    carry_all(a, r.list, r.kind, r.part_of, r.listed_in, r.when, r.values);
}
template <typename A>
void carry(A& a, SolverDefinition& s) {
    carry_all(a, s.name, s.about, s.method, s.kind, s.inputs, s.rows);
}
template <typename A>
void carry(A& a, QuantityDefinition& q) {
    carry_all(a, q.kind, q.name, q.about, q.type, q.unit, q.value, q.solved, q.asked, q.basis);
}
template <typename A>
void carry(A& a, Application& x) {
    carry_all(a, x.kind, x.when, x.demands, x.clears, x.shows);
}
template <typename A>
void carry(A& a, Rule& r) {
    carry_all(a, r.name, r.asks, r.because, r.advice, r.caution, r.since, r.question, r.rule_class, r.at_once,
              r.active, r.change_reason, r.counts, r.basis, r.applications);
}
template <typename A>
void carry(A& a, Wording& w) {
    carry_all(a, w.words, w.blanks);
}
template <typename A>
void carry(A& a, std::optional<FoundIn>& f) {
    bool is_there = f.has_value();
    carry(a, is_there);
    if (!is_there) return;
    if (!f) f.emplace();
    carry_all(a, f->kind, f->number, f->value);
}
template <typename A>
void carry(A& a, WorksheetLine& l) {
    carry_all(a, l.kind, l.when, l.by, l.times, l.does, l.detail, l.brief, l.expects, l.adds_up, l.found,
              l.found_in, l.good, l.hold, l.stop);
}
template <typename A>
void carry(A& a, Worksheet& w) {
    carry_all(a, w.name, w.title, w.about, w.brief, w.layout, w.place, w.lines, w.basis);
}
template <typename A>
void carry(A& a, Shape& s) {
    carry_all(a, s.kind, s.form, s.style, s.align, s.when, s.x, s.y, s.to_x, s.to_y, s.width, s.height,
              s.diameter, s.from, s.to, s.label, s.note, s.value, s.adds_up, s.room, s.size, s.bold, s.times,
              s.in_row, s.across, s.down, s.alternates, s.to_next);
}
template <typename A>
void carry(A& a, Drawing& d) {
    carry_all(a, d.name, d.title, d.about, d.place, d.to_scale, d.kind, d.when, d.shapes, d.basis);
}
template <typename A>
void carry(A& a, RuleSet& s) {
    carry_all(a, s.vocabulary.kinds, s.cautions, s.tables, s.networks, s.solvers, s.quantities, s.rules,
              s.worksheets, s.drawings, s.digest);
}

template <typename A, typename T>
void carry(A& a, std::vector<T>& list) {
    a.size(list);
    if constexpr (is_plain<T>) {
        static_assert(std::is_trivially_copyable_v<T>);
        a.elements(list);
    } else {
        for (T& element : list)
            carry(a, element);
    }
}

}  // namespace

std::string flatten(const RuleSet& rules) {
    RuleSet copy = rules;  // the shared description of members takes them as changeable
    Writer writer;
    carry(writer, copy);
    return std::move(writer.bytes);
}

RuleSet unflatten(std::string_view bytes) {
    RuleSet rules;
    Reader reader(bytes);
    carry(reader, rules);
    if (!reader.finished()) throw std::runtime_error("the built-in rules are damaged");
    text::Messages messages;
    model::prepare(rules.vocabulary, messages);  // read defaults are not carried
    if (messages.has_errors()) throw std::runtime_error("the built-in rules are damaged");
    return rules;
}

}  // namespace packproof::rules
