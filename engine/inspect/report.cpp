#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

namespace {

std::optional<Class> gravest(const std::vector<Finding>& findings, Verdict verdict) {
    std::optional<Class> found;
    for (const Finding& finding : findings)
        if (finding.verdict == verdict && finding.counts() && (!found || finding.rule_class < *found))
            found = finding.rule_class;
    return found;
}

}  // namespace

std::optional<Class> Report::gravest_failing() const {
    return gravest(findings, Verdict::fails);
}

std::optional<Class> Report::gravest_undecided() const {
    return gravest(findings, Verdict::undecided);
}

std::string_view rule_set_version() {
    return PACKPROOF_VERSION;
}

std::string_view general_caution() {
    return "Local code and licensed practice come first. This report says what was checked against the facts "
           "stated, "
           "and what was not; it does not replace a competent person's inspection of the pack itself.";
}

}  // namespace packproof::inspect
