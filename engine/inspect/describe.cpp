#include "engine/inspect/describe.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/inspect/clears.hpp"
#include "engine/inspect/concession.hpp"
#include "engine/inspect/contradiction.hpp"
#include "engine/inspect/label.hpp"
#include "engine/inspect/next.hpp"
#include "engine/inspect/relation.hpp"
#include "engine/units/print_quantity.hpp"

namespace packproof::inspect {

using language::Context;
using language::Expression;
using language::Input;
using language::Node;
using language::NodeIndex;
using language::Operation;
using model::ItemIndex;
using model::Type;
using model::Value;

namespace {

class Description {
  public:
    Description(Finding& finding, const Expression& demand, ItemIndex item, facts::Facts& facts)
        : finding_(finding),
          demand_(demand),
          item_(item),
          facts_(facts),
          part_(deciding_part(demand, item, facts)),
          node_(demand.nodes[static_cast<std::size_t>(part_.node)]) {}

    [[nodiscard]] const Deciding& part() const { return part_; }

    void compare() {
        finding_.relation = relation_sign(node_.operation);
        switch (node_.operation) {
            case Operation::less:
            case Operation::less_equal:
            case Operation::greater:
            case Operation::greater_equal:
            case Operation::equal:
            case Operation::unequal:
            case Operation::within:
                compare_two();
                break;
            case Operation::in_texts: {
                has(node_.first);
                std::string list;
                for (std::uint32_t a = node_.list_begin; a < node_.list_end; ++a)
                    list += (list.empty() ? "" : ", ") + shown(demand_.arguments[a], 4).text;
                finding_.needs_text = (part_.negated ? "none of " : "one of ") + list;
                break;
            }
            case Operation::in_items:
                has(node_.first);
                finding_.needs_text = (part_.negated ? "not among " : "among ") + shown(node_.second, 4).text;
                break;
            case Operation::matches:
                has(node_.first);
                finding_.needs_text = fmt::format("{}text like '{}'", part_.negated ? "no " : "",
                                                  demand_.patterns[node_.index]);
                break;
            case Operation::is_stated:
                has(node_.first);
                finding_.needs_text = part_.negated ? "not to be stated" : "to be stated";
                break;
            case Operation::is_none:
                has(node_.first);
                finding_.needs_text = part_.negated ? "anything but none" : "none";
                break;
            case Operation::is_assumed:
                has(node_.first);
                finding_.needs_text = part_.negated ? "to be stated or measured" : "to be as assumed";
                break;
            case Operation::is_known:
                has(node_.first);
                finding_.needs_text = part_.negated ? "not to be known" : "to be stated or measured";
                break;
            case Operation::is_mentioned:
                has(node_.first);
                finding_.needs_text = part_.negated ? "not to be mentioned" : "to be mentioned";
                break;
            default:
                if (tell_contradiction(finding_, facts_.model()) || tell_none_of_them()) break;
                has(part_.node);
                finding_.needs_text = part_.negated ? "no" : "yes";
        }
        if (finding_.needs.text.empty()) finding_.needs.text = finding_.needs_text;
    }

    /// Of an `any` that nothing meets: in words, not as a formula. The working shows that.
    bool tell_none_of_them() {
        const bool any = node_.operation == Operation::fold &&
                         static_cast<language::Fold>(node_.index) == language::Fold::any;
        if (!any || part_.negated || finding_.verdict != Verdict::fails) return false;
        finding_.needs_text = "one that meets what is asked";
        if (node_.first != language::no_node) {
            finding_.has.text = "none of those it names";
            return true;
        }
        const model::Model& model = facts_.model();
        std::string kind = model.vocabulary->kinds[node_.kind].name;
        std::replace(kind.begin(), kind.end(), '_', ' ');
        const std::size_t count = model.of_kind[node_.kind].size();
        finding_.has.text = count == 0 ? fmt::format("no {}", kind)
                                       : fmt::format("none of {} {}{}", count, kind, count == 1 ? "" : "s");
        return true;
    }

    /// The input whose tolerance keeps the verdict open: the one without which the result is tightest.
    std::string deciding_input(bool on_guess) {
        const facts::Formula formula = [this](const Context& context) {
            if (node_.first == language::no_node) return value(part_.node, context);
            Value first = value(node_.first, context);
            if (first.number() == nullptr || node_.operation == Operation::within) return first;
            const Value second = value(node_.second, context);
            return second.number() == nullptr ? first : language::difference(first, second);
        };
        if (on_guess) return guessed_inputs(formula);
        constexpr std::size_t most_tried = 60;  // each is a study of its own, with all solvers behind it
        const facts::Study whole = facts_.study(formula);
        if (whole.inputs.size() > most_tried)
            return fmt::format("the tolerances of {} values together", whole.inputs.size());
        double best = std::numeric_limits<double>::infinity();
        std::optional<Input> decides;
        for (const Input& input : whole.inputs) {
            const facts::Study pinned = facts_.study(formula, {input});
            const double width = pinned.refined.missing ? std::numeric_limits<double>::infinity()
                                                        : pinned.refined.range.width();
            if (decides && !(width < best)) continue;
            best = width;
            decides = input;
        }
        if (!decides) return {};
        finding_.decides_input = decides;
        const model::Slot* slot = facts_.model().slot(decides->item, decides->field);
        const bool assumed = slot->origin == model::Origin::assumed;
        return fmt::format("{}{}", input_label(facts_.model(), *decides), assumed ? " (assumed)" : "");
    }

    /// Where to point: the value compared, else the first value that a builder could change, else the item.
    text::Span place() {
        if (node_.first != language::no_node)
            if (const auto input = node_input(demand_, node_.first, item_, part_.variables, facts_))
                if (const text::Span span = span_of(*input); span.source != text::no_source) return span;
        for (const Remedy& remedy : finding_.clears)
            if (const text::Span span = span_of(remedy.input); span.source != text::no_source) return span;
        return facts_.model().items[item_].span;
    }

  private:
    Value value(NodeIndex node, const Context& context) const {
        return language::evaluate_node(demand_, node, item_, part_.variables, context);
    }

    /// A node's value, tight if it is a computed number.
    Value tight(NodeIndex node) {
        Value plain = value(node, facts_.context());
        const model::Number* number = plain.number();
        const bool by_choice = plain.missing() && type(node).kind == Type::Kind::number;
        if (!by_choice && (number == nullptr || number->range.is_point())) return plain;
        const facts::Study study = facts_.study([&](const Context& context) { return value(node, context); });
        if (study.refined.missing) return plain;
        const units::Interval range = study.refined.range;
        const double nominal = number == nullptr ? range.low : number->nominal;
        plain.content = model::Number{range, std::clamp(nominal, range.low, range.high), {}};
        return plain;
    }

    Shown shown(NodeIndex node, int digits) {
        return show(facts_.model(), tight(node), type(node),
                    node_unit(demand_, node, item_, part_.variables, facts_), digits);
    }

    const Type& type(NodeIndex node) const { return demand_.types[static_cast<std::size_t>(node)]; }

    void has(NodeIndex node, int digits = 4) {
        finding_.subject = node_label(demand_, node, item_, part_.variables, facts_);
        finding_.has = shown(node, digits);
        finding_.origin = "computed";
        if (const auto input = node_input(demand_, node, item_, part_.variables, facts_)) {
            const model::Slot* slot = facts_.model().slot(input->item, input->field);
            if (slot == nullptr) return;
            const model::Kind& kind = facts_.model().kind_of(input->item);
            if (is_found_out(kind, kind.fields[input->field].name)) return;
            finding_.origin = slot->origin == model::Origin::measured  ? "measured"
                              : slot->origin == model::Origin::assumed ? "assumed"
                                                                       : "stated";
        }
    }

    void compare_two() {
        const Value left = tight(node_.first);
        const Value right = tight(node_.second);
        const units::Unit unit = shared_unit(left, right);
        const int digits = digits_needed(left, right, unit);
        has(node_.first, digits);
        finding_.has = show(facts_.model(), left, type(node_.first), unit, digits);
        finding_.needs = show(facts_.model(), right, type(node_.second), unit, digits);
        finding_.bound = bound_of(node_.operation, part_.negated);
        std::string words(relation_words(node_.operation, part_.negated));
        if (node_.operation == Operation::within && !part_.negated) words.clear();
        if (type(node_.first).kind != Type::Kind::number && words == "equal to") words.clear();
        finding_.needs_text = words + (words.empty() ? "" : " ") + finding_.needs.text;
        const std::string label = node_label(demand_, node_.second, item_, part_.variables, facts_);
        const Operation second = demand_.nodes[static_cast<std::size_t>(node_.second)].operation;
        if (second == Operation::field || second == Operation::quantity)
            finding_.needs_text += fmt::format(" ({})", label);
        amount(left, right, unit);
    }

    /// Both sides in one unit, the one that the value at hand is written in, unless that is a wire gauge.
    units::Unit shared_unit(const Value& left, const Value& right) {
        const Type& kind = type(node_.first);
        units::Unit unit = node_unit(demand_, node_.first, item_, part_.variables, facts_);
        if (unit.gauge || unit.symbol.empty() || unit.dimension != kind.dimension) {
            unit = node_unit(demand_, node_.second, item_, part_.variables, facts_);
            if (unit.gauge) unit = {};
        }
        double size = 0.0;
        if (const auto* number = left.number()) size = number->nominal;
        if (const auto* number = right.number(); number != nullptr && size == 0.0) size = number->nominal;
        return units::display_unit(kind.dimension, unit, std::isfinite(size) ? size : 1.0, kind.absolute);
    }

    int digits_needed(const Value& left, const Value& right, const units::Unit& unit) const {
        const model::Number* a = left.number();
        const bool absolute = type(node_.first).absolute;
        int digits = 4;
        auto tell = [&](double x, double y) {
            if (std::isfinite(x) && std::isfinite(y) && !units::same_number(x, y))
                digits = std::max(digits, units::digits_to_tell_apart(x, y, unit, absolute, 4));
        };
        if (a == nullptr) return digits;
        for (const double x : {a->range.low, a->nominal, a->range.high}) {
            if (const model::Number* b = right.number())
                for (const double y : {b->range.low, b->nominal, b->range.high})
                    tell(x, y);
            if (const model::Range* r = right.range())
                for (const double y : {r->lower.low, r->upper.high})
                    tell(x, y);
        }
        return digits;
    }

    /// By how much a failing number misses, at its nominal value.
    void amount(const Value& left, const Value& right, const units::Unit& unit) {
        if (finding_.verdict != Verdict::fails) return;
        const model::Number* a = left.number();
        if (a == nullptr || node_.operation == Operation::unequal) return;
        double limit = std::numeric_limits<double>::quiet_NaN();
        if (const model::Number* b = right.number()) limit = b->nominal;
        if (const model::Range* r = right.range())
            limit = a->nominal < r->lower.high ? r->lower.high : r->upper.low;
        const double off = a->nominal - limit;
        if (!std::isfinite(off) || off == 0.0) return;
        const bool absolute = type(node_.first).absolute;
        units::Unit plain = unit;
        plain.offset = 0.0;
        const std::string size = units::print_number(
            std::abs(off), units::display_unit(type(node_.first).dimension, plain, std::abs(off), false),
            false, 3);
        finding_.by = fmt::format("{} too {}", size, off > 0.0 ? "much" : "little");
        if (!absolute && limit != 0.0)
            finding_.by += fmt::format(" ({:.3g} %)", 100.0 * std::abs(off / limit));
    }

    std::string guessed_inputs(const facts::Formula& formula) {
        std::string list;
        for (const Input& input : facts_.inputs_of(formula)) {
            const model::Slot* slot = facts_.model().slot(input.item, input.field);
            if (slot != nullptr && slot->value.basis.guess)
                list += (list.empty() ? "" : ", ") + input_label(facts_.model(), input);
        }
        return list.empty() ? list : list + " (a guess)";
    }

    text::Span span_of(Input input) const {
        const model::Slot* slot = facts_.model().slot(input.item, input.field);
        return slot == nullptr ? text::Span{} : slot->span;
    }

    Finding& finding_;
    const Expression& demand_;
    ItemIndex item_;
    facts::Facts& facts_;
    Deciding part_;
    const Node& node_;
};

void add_shows(Finding& finding, const rules::Application& application, facts::Facts& facts) {
    for (const Expression& expression : application.shows) {
        const Value value = language::evaluate(expression, finding.item, facts.context());
        if (value.missing()) continue;
        const units::Unit unit = node_unit(expression, expression.root, finding.item, {}, facts);
        finding.shows.push_back(fmt::format("{}: {}",
                                            node_label(expression, expression.root, finding.item, {}, facts),
                                            show(facts.model(), value, expression.type(), unit).text));
    }
}

void add_basis(Finding& finding, const Derivation& derivation, const rules::RuleSet& rules) {
    for (model::Authority& authority : authorities_of(derivation, rules))
        if (std::find(finding.basis.begin(), finding.basis.end(), authority) == finding.basis.end())
            finding.basis.push_back(std::move(authority));
}

void describe(Finding& finding, const rules::Rule& rule, const rules::Application& application,
              const Judgement& judgement, facts::Facts& facts, const text::Sources& sources,
              KnownSteps& known) {
    finding.place = facts.model().items[finding.item].span;
    finding.advice = rule.advice;
    finding.basis = rule.basis;
    const std::string& name =
        rule.caution.empty() ? facts.model().kind_of(finding.item).caution : rule.caution;
    if (const rules::Caution* caution = facts.rules().caution(name)) finding.caution = caution->text;
    if (finding.verdict == Verdict::not_stated) {
        for (const language::Gap& gap : judgement.gaps) {
            Wanted one = wanted(gap, facts);
            const bool met = std::any_of(finding.wanted.begin(), finding.wanted.end(), [&](const Wanted& w) {
                return w.text == one.text && w.note == one.note;
            });
            if (!met) finding.wanted.push_back(std::move(one));
        }
        return;
    }
    if (finding.verdict == Verdict::fails) finding.clears = clears(application, finding.item, facts);
    Description description(finding, application.demands, finding.item, facts);
    description.compare();
    if (finding.verdict == Verdict::undecided)
        finding.decides = description.deciding_input(judgement.on_guess);
    finding.place = description.place();
    const Derivation derivation = derivation_of(application.demands, description.part(), finding.item, facts);
    finding.working = working_of(application.demands, description.part(), finding.item, finding.verdict,
                                 derivation, facts, known);
    const facts::Formula demand = [&](const Context& context) {
        return language::evaluate(application.demands, finding.item, context);
    };
    finding.rests_on = rests_on(facts.inputs_of(demand), facts, sources, finding.elsewhere);
    add_basis(finding, derivation, facts.rules());
    add_shows(finding, application, facts);
}

}  // namespace

Finding finding_of(const Verdicted& one, facts::Facts& facts, const text::Sources& sources,
                   KnownSteps& known) {
    const rules::Rule& rule = facts.rules().rules[one.rule];
    Finding finding;
    finding.rule = one.rule;
    finding.rule_name = rule.name;
    finding.asks = rule.asks;
    finding.because = rule.because;
    finding.rule_class = rule.rule_class;
    finding.at_once = rule.at_once;
    finding.announced = !rule.counts;
    finding.verdict = one.judgement.verdict;
    finding.item = one.item;
    finding.item_name = item_label(facts.model(), one.item);
    finding.kind_name = facts.model().kind_of(one.item).name;
    describe(finding, rule, rule.applications[one.application], one.judgement, facts, sources, known);
    return finding;
}

}  // namespace packproof::inspect
