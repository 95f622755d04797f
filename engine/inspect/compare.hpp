// A report beside an earlier one: which findings are new, which are gone, which changed. Findings are known
// again by rule, kind, item and subject, never by line or file, so that moved lines and renamed files count
// for nothing; of several alike the first meets the first.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

struct EarlierFinding {
    std::string rule_name;
    std::string kind_name;
    std::string item_name;
    std::string subject;
    Class rule_class = Class::major;
    Verdict verdict = Verdict::fails;
    bool conceded = false;
    bool counted = true;  ///< false: conceded, or of a rule that did not count yet
    Shown has;  ///< the value compared and its limit, in SI units; without numbers where it had none
    Shown needs;
    std::string file;  ///< where it was told; line and column from 1, 0: at no place in a file
    std::size_t line = 0;
    std::size_t column = 0;
};

/// What an earlier report says of one description.
struct EarlierReport {
    std::string name;  ///< of the description, with what was laid over it
    std::string title;
    /// All files of that name are still there: the report is of them, and of no other description.
    bool still_there = false;
    std::vector<std::string> files;  ///< the description, and what was laid over it
    std::string digest;
    std::string rules_version;
    std::string rules_digest;
    std::vector<EarlierFinding> findings;  ///< in the order of the report; conforming ones play no part
};

/// The description's name with what was laid over it: what tells reports of one run apart.
[[nodiscard]] std::string name_of(const Report& report);

/// Gives each report the earlier one of the same description: of the same name; else, of those whose own
/// description is gone, one of the same digest; else, of those left over on both sides, the one with most
/// findings in common, if that is half of the shorter list at least (not searched for among more than
/// 100,000 pairs). A copy is no renamed file: what lies beside its original is compared with nothing. Then
/// fills in how each finding stands to it: one that fails as before, but further beyond its limit, or that
/// did not count and counts now, is changed for the worse, whatever its class. Where no earlier one is found,
/// all is new. `file` is the name of the earlier report.
void compare(std::span<Report> reports, std::span<const EarlierReport> earlier, const std::string& file);

/// New, or changed for the worse since the earlier report: what a gate on news alone looks at.
[[nodiscard]] bool is_news(const Finding& finding);

}  // namespace packproof::inspect
