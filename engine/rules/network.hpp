// A network as rule data: which kinds of item are its branches, where their ends are, and what their values
// are in each case. And what a derived quantity may ask of it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/language/tree.hpp"
#include "engine/solve/network.hpp"

namespace packproof::rules {

/// One end of a branch: a point of the item itself, or what a reference field of it names.
struct BranchEnd {
    std::string point;            ///< "plus"; empty: the field decides
    model::FieldIndex field = 0;  ///< of form reference
};

struct NetworkBranch {
    model::KindIndex kind = 0;
    solve::Branch::Role role = solve::Branch::Role::conductor;
    BranchEnd from;
    BranchEnd to;
    /// A reference field: where it names an item, the branch's own points are that item's.
    std::optional<model::FieldIndex> same_ends_as;
    language::Expression when;    ///< may be empty: every item of the kind
    language::Expression opens;   ///< may be empty: none
    language::Expression length;  ///< may be empty: none
    // one for each case, each may be empty: not in that case
    std::vector<language::Expression> resistance;
    std::vector<language::Expression> voltage;
    std::vector<language::Expression> drawn;
};

struct NetworkCase {
    std::string name;
    std::string about;
};

struct NetworkDefinition {
    std::string name;
    std::string about;
    std::vector<NetworkCase> cases;
    std::vector<NetworkBranch> branches;
};

/// What a quantity asks. The first group rests on the shape alone, the second on the values of a case.
enum class Question : std::uint8_t {
    in_circuit,      ///< truth: it lies on a closed way with a source; missing where nothing is closed at all
    place_in_chain,  ///< of a source, from 1 at the negative pole; missing where they stand in no line
    sources_beside,  ///< sources at the same place, this one counted
    length_of_chain,  ///< places of the longest chain; the item does not matter
    against_chain,    ///< truth: it stands the wrong way round
    shorted,          ///< truth: conductors alone join its ends
    from_joined,      ///< truth: something else is joined where it begins
    to_joined,
    opened_by,             ///< items that open by themselves and are in series with it
    distance_from_source,  ///< least length of the way to it from a source's own end
    greatest_fault,        ///< greatest current through it into a short, from a pole to either of its ends
    least_fault,           ///< least current through it when a sink that it feeds is shorted
    current,               ///< with the sinks drawing
    resistance,            ///< between its ends, sources standing for their own
};

/// Which question a quantity asks of which network.
struct Solved {
    Question question = Question::in_circuit;
    std::uint16_t network = 0;
    std::uint16_t in_case = 0;
};

[[nodiscard]] std::string_view question_name(Question question);
[[nodiscard]] std::optional<Question> read_question(std::string_view name);
[[nodiscard]] std::vector<std::string_view> question_names();
/// Whether it rests on the values of a case.
[[nodiscard]] bool needs_case(Question question);

}  // namespace packproof::rules
