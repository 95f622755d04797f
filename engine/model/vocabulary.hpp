// What may stand in a description: kinds of item and their fields. Comes from rules/, never from C++.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/model/type.hpp"
#include "engine/text/message.hpp"
#include "engine/units/quantity.hpp"

namespace packproof::model {

/// Where a limit, a table or a default comes from.
struct Authority {
    enum class Status : std::uint8_t { checked, recalled, common_practice, computed };
    std::string document;  ///< "IEC 60364-4-43", "ISO 273"; empty for common practice without a source
    std::string clause;
    std::string note;
    Status status = Status::recalled;
    friend bool operator==(const Authority&, const Authority&) = default;
};

/// A default, read once when the vocabulary is loaded.
struct AssumedValue {
    Value value;
    units::Unit unit;
};

/// Who can find a value out: who sold or made the thing, whoever has it in hand, or whoever designs the
/// whole.
enum class AnsweredBy : std::uint8_t { supplier, bench, builder };

struct Field {
    enum class Form : std::uint8_t {
        quantity,    ///< "12 ± 0.2 mm"
        range,       ///< "2.5 .. 3.5 kN"
        count,       ///< whole number
        truth,       ///< true, false
        text,        ///< any text
        choice,      ///< one of `choices`
        date,        ///< 2026-01-31
        reference,   ///< one item, "id" or "id.point"
        references,  ///< a list of them
    };
    std::string name;
    Form form = Form::quantity;
    std::string about;
    units::Unit unit;       ///< of quantity and range: what values are shown in if nothing else is said
    bool absolute = false;  ///< a temperature
    std::vector<std::string> choices;
    std::vector<KindIndex> kinds;  ///< of reference(s)
    double least = 0.0;  ///< SI; the physical sense: outside is an input error; also bounds one-sided values
    double most = std::numeric_limits<double>::infinity();  ///< SI; +inf if none
    bool least_open = false;                                ///< `least` itself is not allowed ("more than 0")
    bool each_choice = false;                               ///< absent choice: every choice is tried
    bool the_only_one = false;  ///< absent reference: the only item of that kind, if there is exactly one
    std::string rate_of;        ///< a C-rate is accepted and multiplies this field of the same item
    std::string assume;         ///< default as text, read like the field itself; empty: none
    std::vector<Authority> assume_basis;
    std::optional<AssumedValue>
        assumed;      ///< filled by prepare() where `assume` is a number, a range or a truth
    std::string ask;  ///< how to find the value out ("caliper, one minute"), may be empty
    AnsweredBy answered_by = AnsweredBy::builder;
    text::Span span;  ///< where it is declared

    [[nodiscard]] Type type() const;
};

struct Kind {
    enum class Role : std::uint8_t { plain, document, claim, concession, measurement, instrument };
    std::string name;
    std::string about;
    std::string caution;  ///< name of the caution that belongs to findings on it; may be empty
    bool single = false;  ///< at most one; `pack.series` names it in expressions
    Role role = Role::plain;
    AnsweredBy answered_by = AnsweredBy::builder;  ///< its fields, where they do not say otherwise
    std::vector<std::string> points;               ///< places on it that a reference may name: "line", "load"
    std::vector<Field> fields;
    text::Span span;

    [[nodiscard]] std::optional<FieldIndex> field(std::string_view name) const;
};

class Vocabulary {
  public:
    std::vector<Kind> kinds;  ///< append only: indices stay valid when a team adds to it

    [[nodiscard]] std::optional<KindIndex> kind(std::string_view name) const;
};

/// Reads every default once; to be called when all kinds and fields are known. Errors, at the field: a
/// default that cannot be read, has the wrong dimension or lies beyond the field's own bounds; a default that
/// is none of the choices. A model built on a vocabulary that was not prepared reads the defaults itself.
void prepare(Vocabulary& vocabulary, text::Messages& messages);

}  // namespace packproof::model
