#include "engine/rules/rule_set.hpp"

#include <fmt/core.h>

namespace packproof::rules {

using Status = model::Authority::Status;

const Rule* RuleSet::rule(std::string_view name) const {
    for (const Rule& candidate : rules)
        if (candidate.name == name) return &candidate;
    return nullptr;
}

const Caution* RuleSet::caution(std::string_view name) const {
    for (const Caution& candidate : cautions)
        if (candidate.name == name) return &candidate;
    return nullptr;
}

std::string_view class_name(Class c) {
    switch (c) {
        case Class::critical:
            return "critical";
        case Class::major:
            return "major";
        case Class::minor:
            return "minor";
        case Class::observation:
            return "observation";
    }
    return "";
}

std::string_view verdict_name(Verdict v) {
    switch (v) {
        case Verdict::conforms:
            return "conforms";
        case Verdict::fails:
            return "fails";
        case Verdict::undecided:
            return "undecided";
        case Verdict::not_stated:
            return "not stated";
        case Verdict::not_applicable:
            return "not applicable";
    }
    return "";
}

std::string_view status_name(Status s) {
    switch (s) {
        case Status::checked:
            return "checked";
        case Status::recalled:
            return "recalled";
        case Status::common_practice:
            return "common practice";
        case Status::computed:
            return "computed";
    }
    return "";
}

std::optional<Class> read_class(std::string_view name) {
    for (const Class c : {Class::critical, Class::major, Class::minor, Class::observation})
        if (class_name(c) == name) return c;
    return std::nullopt;
}

std::optional<Verdict> read_verdict(std::string_view name) {
    for (const Verdict v : {Verdict::conforms, Verdict::fails, Verdict::undecided, Verdict::not_stated,
                            Verdict::not_applicable})
        if (verdict_name(v) == name) return v;
    return std::nullopt;
}

std::string print_authority(const model::Authority& authority) {
    std::string text = authority.document;
    if (!authority.clause.empty()) text += (text.empty() ? "" : ", ") + authority.clause;
    if (!authority.note.empty()) text += (text.empty() ? "" : "; ") + authority.note;
    switch (authority.status) {
        case Status::checked:
            return text;
        case Status::recalled:
            return text + " (from memory: verify)";
        case Status::common_practice:
            return text.empty() ? "common practice" : "common practice: " + text;
        case Status::computed:
            return text.empty() ? "computed" : "computed: " + text;
    }
    return text;
}

}  // namespace packproof::rules
