#include "engine/facts/solvers.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <span>

namespace packproof::facts {

using language::Context;
using language::Expression;
using language::Gap;
using model::ItemIndex;
using model::Truth;
using model::Value;
using rules::SolverDefinition;
using rules::SolverRows;

namespace {

constexpr std::size_t most_remembered = 16;
constexpr std::size_t most_kept = 256;  // of each method, from one inspection to the next

void note(const Context& context, Gap gap) {
    if (context.gaps != nullptr) context.gaps->push_back(std::move(gap));
}

Gap::Reason reason_of(const model::Slot* slot) {
    if (slot == nullptr) return Gap::Reason::not_stated;
    if (slot->state == model::Slot::State::asked) return Gap::Reason::asked;
    return slot->value.none() ? Gap::Reason::known_none : Gap::Reason::not_stated;
}

/// Reads numbers one by one; once one is missing, what it has read is of no use.
class Gathering {
  public:
    Gathering(const model::Model& model, const Context& context) : model_(model), context_(context) {}

    [[nodiscard]] bool complete() const { return complete_; }
    [[nodiscard]] model::Basis basis() const { return basis_; }

    void lack(Gap gap) {
        note(context_, std::move(gap));
        complete_ = false;
    }

    /// The numbers of one row, in the order of its fields.
    solve::MethodRow row(const std::vector<Expression>& values, std::span<const solve::MethodField> fields,
                         ItemIndex item) {
        solve::MethodRow read;
        for (std::size_t i = 0; i < fields.size(); ++i) {
            const bool given = i < values.size() && !values[i].empty();
            if (!given || fields[i].form == Form::items)
                read.emplace_back();
            else
                read.push_back(fields[i].form == Form::truth ? truth(values[i], item)
                                                             : amount(values[i], fields[i], item));
        }
        return read;
    }

    /// The items of one row.
    solve::RowItems items(const std::vector<Expression>& values, std::span<const solve::MethodField> fields,
                          ItemIndex item) {
        solve::RowItems read{item, std::vector<std::vector<solve::ItemKey>>(fields.size())};
        for (std::size_t i = 0; i < fields.size(); ++i) {
            if (fields[i].form != Form::items || i >= values.size() || values[i].empty()) continue;
            const Value value = language::evaluate(values[i], item, context_);
            basis_ = basis_ | value.basis;
            if (value.missing()) complete_ = false;
            if (const auto* listed = value.references())
                for (const model::Reference& one : *listed)
                    if (one.item != model::no_item) read.listed[i].push_back(one.item);
        }
        return read;
    }

    /// The items that are rows, in their order.
    std::vector<ItemIndex> members(const SolverRows& rows, ItemIndex of) {
        std::vector<ItemIndex> found;
        for (const ItemIndex item : candidates(rows, of)) {
            if (rows.when.empty()) {
                found.push_back(item);
                continue;
            }
            switch (language::truth_of(language::evaluate(rows.when, item, context_))) {
                case Truth::yes:
                    found.push_back(item);
                    break;
                case Truth::no:
                    break;
                default:  // its gaps are noted where it is unknown
                    complete_ = false;
            }
        }
        return found;
    }

  private:
    using Form = solve::MethodField::Form;

    std::optional<solve::Amount> truth(const Expression& expression, ItemIndex item) {
        const Value value = language::evaluate(expression, item, context_);
        basis_ = basis_ | value.basis;
        const Truth found = language::truth_of(value);
        if (found == Truth::yes || found == Truth::no) {
            const double as_number = found == Truth::yes ? 1.0 : 0.0;
            return solve::Amount{{as_number, as_number}, as_number};
        }
        complete_ = false;
        return std::nullopt;
    }

    std::optional<solve::Amount> amount(const Expression& expression, const solve::MethodField& field,
                                        ItemIndex item) {
        const Value value = language::evaluate(expression, item, context_);
        basis_ = basis_ | value.basis;
        const model::Number* number = value.number();
        if (number == nullptr) {
            if (value.none() && !field.needed) return std::nullopt;
            complete_ = false;
            if (value.none()) note(context_, {{}, Gap::Reason::known_none, 0});
            return std::nullopt;
        }
        if (!std::isfinite(number->range.low) || !std::isfinite(number->range.high)) {
            lack({{}, Gap::Reason::not_a_number, 0});
            return std::nullopt;
        }
        return solve::Amount{number->range, number->nominal};
    }

    std::vector<ItemIndex> candidates(const SolverRows& rows, ItemIndex of) {
        std::vector<ItemIndex> found;
        if (rows.listed_in) {
            const model::Slot* slot = model_.slot(of, *rows.listed_in);
            const auto* listed = slot == nullptr ? nullptr : slot->value.references();
            if (listed == nullptr) {
                if (slot == nullptr || !slot->value.none()) lack({{of, *rows.listed_in}, reason_of(slot), 0});
                return found;
            }
            if (context_.inputs != nullptr) context_.inputs->push_back({of, *rows.listed_in});
            for (const model::Reference& reference : *listed)
                if (reference.item != model::no_item && model_.items[reference.item].kind == rows.kind)
                    found.push_back(reference.item);
            return found;
        }
        for (const ItemIndex item : model_.of_kind[rows.kind]) {
            if (!model_.items[item].stated) continue;
            if (rows.part_of) {
                const model::Slot* slot = model_.slot(item, *rows.part_of);
                const model::Reference* whole = slot == nullptr ? nullptr : slot->value.reference();
                if (whole == nullptr && (slot == nullptr || !slot->value.none()))
                    lack({{item, *rows.part_of}, reason_of(slot), 0});
                if (whole == nullptr || whole->item != of) continue;
            }
            found.push_back(item);
        }
        return found;
    }

    const model::Model& model_;
    const Context& context_;
    model::Basis basis_;
    bool complete_ = true;
};

}  // namespace

std::optional<SolverGiven> Solvers::given(const SolverDefinition& solver, ItemIndex item,
                                          const Context& context) const {
    const solve::Method& method = rules::method_of(solver);
    SolverGiven found;
    Gathering gathering(model_, context);
    found.input.values = gathering.row(solver.inputs, method.fields, item);
    found.input.lists.resize(method.lists.size());
    found.input.items.resize(method.lists.size());
    found.rows.resize(method.lists.size());
    for (const SolverRows& rows : solver.rows)
        for (const ItemIndex member : gathering.members(rows, item)) {
            found.input.lists[rows.list].push_back(
                gathering.row(rows.values, method.lists[rows.list].fields, member));
            found.input.items[rows.list].push_back(
                gathering.items(rows.values, method.lists[rows.list].fields, member));
            found.rows[rows.list].push_back(member);
        }
    for (std::size_t i = 0; i < method.lists.size(); ++i)
        if (method.lists[i].needed && found.rows[i].empty() && gathering.complete())
            gathering.lack({{}, Gap::Reason::no_such_item, 0});
    if (!gathering.complete()) return std::nullopt;
    found.basis = gathering.basis();
    return found;
}

const std::vector<solve::MethodAnswer>& SolverMemory::answer(std::uint16_t method,
                                                             const solve::MethodInput& input,
                                                             std::uint8_t group) {
    std::list<SolverRun>& known = runs_[method];
    const auto same = std::find_if(known.begin(), known.end(), [&](const SolverRun& one) {
        return one.group == group && one.input == input;
    });
    if (same != known.end()) {
        known.splice(known.end(), known, same);
        return known.back().answers;
    }
    if (known.size() == most_kept) known.pop_front();
    known.push_back({group, input, solve::methods()[method].answer(input, group)});
    return known.back().answers;
}

std::vector<solve::MethodAnswer> Solvers::work_out(std::uint16_t solver, const solve::MethodInput& input,
                                                   std::uint8_t group) {
    const std::uint16_t method = rules_.solvers[solver].method;
    return memory_ != nullptr ? memory_->answer(method, input, group)
                              : solve::methods()[method].answer(input, group);
}

const std::vector<solve::MethodAnswer>& Solvers::run(std::uint16_t solver, ItemIndex item,
                                                     const solve::MethodInput& input, std::uint8_t group) {
    std::vector<SolverRun>& known = runs_[{solver, item}];
    for (const SolverRun& one : known)
        if (one.group == group && one.input == input) return one.answers;
    if (known.size() == most_remembered) known.erase(known.begin());
    known.push_back({group, input, work_out(solver, input, group)});
    return known.back().answers;
}

Solvers::Gathered& Solvers::gathered(std::uint16_t solver, ItemIndex item, const Context& context) {
    const std::pair key{solver, item};
    if (const auto known = gathered_.find(key); known != gathered_.end()) return known->second;
    Gathered fresh;
    std::vector<language::Input> read;
    Context own = context;
    own.gaps = &fresh.gaps;
    own.inputs = &read;
    fresh.given = given(rules_.solvers[solver], item, own);
    std::set<language::Input> met;
    for (const language::Input& input : read)
        if (met.insert(input).second) fresh.inputs.push_back(input);
    return gathered_.emplace(key, std::move(fresh)).first->second;
}

ItemIndex Solvers::whole_of(const rules::SolverAsked& asked, ItemIndex row) const {
    const SolverDefinition& solver = rules_.solvers[asked.solver];
    const solve::MethodQuestion& question = rules::method_of(solver).questions[asked.question];
    if (question.of_each < 0) return row;
    for (const SolverRows& rows : solver.rows) {
        if (static_cast<int>(rows.list) != question.of_each || rows.kind != model_.items[row].kind) continue;
        const auto& owners = model_.of_kind[solver.kind];
        if (rows.part_of) {
            const model::Slot* slot = model_.slot(row, *rows.part_of);
            const model::Reference* whole = slot == nullptr ? nullptr : slot->value.reference();
            return whole == nullptr ? model::no_item : whole->item;
        }
        if (!rows.listed_in) return owners.empty() ? model::no_item : owners.front();
        for (const ItemIndex owner : owners) {
            const model::Slot* slot = model_.slot(owner, *rows.listed_in);
            const auto* listed = slot == nullptr ? nullptr : slot->value.references();
            if (listed != nullptr &&
                std::any_of(listed->begin(), listed->end(),
                            [&](const model::Reference& one) { return one.item == row; }))
                return owner;
        }
    }
    return model::no_item;
}

namespace {

Value value_of(const solve::OneAnswer& answer, const SolverGiven& found, const Context& context) {
    Value value;
    value.basis = found.basis;
    if (const auto* amount = std::get_if<solve::Amount>(&answer)) {
        value.content = model::Number{amount->range, amount->nominal, {}};
    } else if (const auto* row = std::get_if<solve::RowAnswer>(&answer)) {
        value.content = model::Reference{found.rows[row->list][row->row], {}};
    } else if (const auto* text = std::get_if<std::string_view>(&answer)) {
        value.content = model::Text{*text, {}};
    } else if (const auto* truth = std::get_if<bool>(&answer)) {
        value.content = *truth ? Truth::yes : Truth::no;
    } else if (const auto* items = std::get_if<std::vector<solve::ItemKey>>(&answer)) {
        std::vector<model::Reference> listed;
        for (const solve::ItemKey key : *items)
            listed.push_back({key, {}});
        value.content = std::move(listed);
    } else {
        note(context, {{}, Gap::Reason::not_a_number, 0});
    }
    return value;
}

/// Of an answer the whole of it, or that of the row which `item` is.
Value picked(const solve::MethodAnswer& answer, const solve::MethodQuestion& question, ItemIndex item,
             const SolverGiven& found, const Context& context) {
    if (const auto* whole = std::get_if<solve::OneAnswer>(&answer)) return value_of(*whole, found, context);
    const auto& rows = found.rows[static_cast<std::size_t>(question.of_each)];
    const auto at = std::find(rows.begin(), rows.end(), item);
    if (at == rows.end()) {  // its solver leaves this one out
        note(context, {{}, Gap::Reason::no_such_item, 0});
        return {};
    }
    return value_of(std::get<solve::EachAnswer>(answer)[static_cast<std::size_t>(at - rows.begin())], found,
                    context);
}

}  // namespace

Value Solvers::answer(const rules::SolverAsked& asked, ItemIndex item, const Context& context) {
    const SolverDefinition& solver = rules_.solvers[asked.solver];
    const solve::MethodQuestion& question = rules::method_of(solver).questions[asked.question];
    const ItemIndex owner = whole_of(asked, item);
    if (owner == model::no_item) {
        note(context, {{}, Gap::Reason::no_such_item, 0});
        return {};
    }
    if (context.box != nullptr) {
        const std::optional<SolverGiven> given_now = given(solver, owner, context);
        if (!given_now) return {};
        const auto& answers = run(asked.solver, owner, given_now->input, question.group);
        return picked(answers[asked.question], question, item, *given_now, context);
    }
    Gathered& known = gathered(asked.solver, owner, context);
    if (context.gaps != nullptr)
        context.gaps->insert(context.gaps->end(), known.gaps.begin(), known.gaps.end());
    if (context.inputs != nullptr)
        context.inputs->insert(context.inputs->end(), known.inputs.begin(), known.inputs.end());
    if (!known.given) return {};
    auto answers = known.answers.find(question.group);
    if (answers == known.answers.end())
        answers =
            known.answers.emplace(question.group, work_out(asked.solver, known.given->input, question.group))
                .first;
    return picked(answers->second[asked.question], question, item, *known.given, context);
}

}  // namespace packproof::facts
