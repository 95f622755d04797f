#include "engine/inspect/inspect.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "engine/cli/commands.hpp"
#include "engine/cli/descriptions.hpp"
#include "engine/cli/further_reports.hpp"
#include "engine/cli/log.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/progress.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/document/read_toml.hpp"
#include "engine/inspect/compare.hpp"
#include "engine/inspect/judging_day.hpp"
#include "engine/report/earlier.hpp"
#include "engine/report/form.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

using rules::Class;

bool at_or_above(std::optional<Class> gravest, Class gate) {
    return gravest && *gravest <= gate;
}

// Reports of many descriptions are larger than descriptions may be.
document::Limits earlier_limits() {
    document::Limits limits;
    limits.file_bytes = std::size_t{1} << 30U;
    return limits;
}

// Of an earlier report only what is new or worse counts, if that was asked for.
bool news_closes_gate(const inspect::Report& report, const InspectCall& call) {
    return std::any_of(report.findings.begin(), report.findings.end(), [&](const inspect::Finding& finding) {
        const bool weighs = finding.verdict == inspect::Verdict::fails ||
                            (call.undecided && finding.verdict == inspect::Verdict::undecided);
        return weighs && finding.counts() && finding.rule_class <= call.gate && inspect::is_news(finding);
    });
}

bool closes_gate(const inspect::Report& report, const InspectCall& call) {
    if (call.new_only) return news_closes_gate(report, call);
    return at_or_above(report.gravest_failing(), call.gate) ||
           (call.undecided && at_or_above(report.gravest_undecided(), call.gate));
}

inspect::Options options_of(const InspectCall& call) {
    inspect::Options options;
    options.folders.libraries = call.libraries;
    options.item = call.item;
    options.conforming = call.all;
    options.new_rules_count = call.new_rules;
    inspect::set_day(call.day, options);
    return options;
}

void keep(const text::Messages& messages, report::Options& kept) {
    for (text::Message& message : messages.sorted())
        kept.messages.push_back(std::move(message));
}

std::string name_of(const Subject& subject) {
    return subject.overlays.empty()
               ? subject.file
               : fmt::format("{} with {}", subject.file, fmt::join(subject.overlays, ", "));
}

// A mistake in a file that several descriptions read is told once.
text::Messages not_told_yet(const text::Messages& messages, const text::Sources& sources,
                            std::set<std::string>& told) {
    text::Messages fresh;
    for (text::Message& message : messages.sorted())
        if (told.insert(text::print_message(message, sources)).second) fresh.add(std::move(message));
    return fresh;
}

// Fills in the names of the files whose input has errors; messages are printed as they come. Gives how many
// descriptions were passed over.
std::size_t inspect_each(std::span<const Subject> subjects, const Touched& touched, const InspectCall& call,
                         Surroundings& around, Workspace& workspace, report::Options& kept) {
    Progress progress(around, subjects.size());
    std::size_t passed_over = 0;
    std::set<std::string> told;
    std::vector<bool> matched(touched ? touched->size() : 0);
    const auto take = [&](const Subject& subject, Inspected&& inspected) {
        log_debug("inspected " + name_of(subject));
        if (!inspected.messages.empty()) progress.wipe();
        const text::Messages fresh = not_told_yet(inspected.messages, workspace.sources, told);
        print_messages(fresh, workspace.sources, around);
        keep(fresh, kept);
        for (const std::size_t at : inspected.touched)
            matched[at] = true;
        if (inspected.report)
            workspace.reports.push_back(*std::move(inspected.report));
        else if (inspected.passed_over)
            ++passed_over;
        else
            kept.not_inspected.push_back(name_of(subject));
        progress.step();
    };
    inspect_many(subjects, workspace.rules, workspace.sources, options_of(call), touched, call.jobs, take);
    if (touched)
        if (const std::string words = unmatched_words(*touched, matched); !words.empty())
            print_note(words, around);
    return passed_over;
}

// The folder in which the program runs; empty where the system does not say.
std::string this_folder() {
    std::error_code ignored;
    return std::filesystem::current_path(ignored).string();
}

bool is_file(const std::string& path) {
    std::error_code ignored;
    return std::filesystem::is_regular_file(path, ignored);
}

// Compares with the earlier report that was asked for; false, and a message, if it cannot be used.
bool compare_with_earlier(const InspectCall& call, Workspace& workspace, text::Messages& messages) {
    if (call.since.empty()) return true;
    const auto source = document::read_file(call.since, workspace.sources, messages, earlier_limits());
    if (!source) return false;
    auto read = report::read_earlier(workspace.sources.bytes(*source));
    if (const auto* why = std::get_if<std::string>(&read)) {
        messages.error({},
                       fmt::format("{} cannot be compared with: {}", text::safe_print(call.since),
                                   text::safe_print(*why)),
                       "packproof inspect --form json writes such a report");
        return false;
    }
    auto& earlier = std::get<0>(read);
    for (inspect::EarlierReport& report : earlier) {
        report.still_there = std::all_of(report.files.begin(), report.files.end(), is_file);
        if (!call.item.empty())  // nothing was asked of the others, so that none of them is gone
            std::erase_if(report.findings, [&](const inspect::EarlierFinding& finding) {
                return finding.item_name != call.item;
            });
    }
    inspect::compare(workspace.reports, earlier, call.since);
    return true;
}

int gate_code(const InspectCall& call, const Workspace& workspace) {
    for (const inspect::Report& report : workspace.reports)
        if (closes_gate(report, call)) return exit_fails;
    return exit_nothing;
}

}  // namespace

int inspect_files(const InspectCall& call, Surroundings& around, Workspace& workspace) {
    if (!may_be_written(call, around)) return exit_trouble;
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    Descriptions found;
    std::vector<Subject> subjects;
    Touched touched;
    bool may_begin = loaded;  // without the list nobody knows what is asked for
    if (loaded) {
        found = find_descriptions(call.paths, call.overlays, call.libraries, workspace.rules.vocabulary,
                                  messages);
        subjects = combine(found.files, call.overlays, messages);
        const std::size_t before = messages.error_count();
        touched = read_touched(call.touched, messages);
        may_begin = messages.error_count() == before;
    }
    print_messages(messages, workspace.sources, around);
    if (const std::string words = left_out_words(found); !words.empty()) print_note(words, around);
    if (!may_begin)
        return write_further(
            call.also, workspace.sources, [](report::Form) { return std::optional<std::string>(); },
            exit_trouble, around);

    report::Options options;
    keep(messages, options);
    options.passed_over = inspect_each(subjects, touched, call, around, workspace, options);
    text::Messages comparing;
    const bool compared = compare_with_earlier(call, workspace, comparing);
    print_messages(comparing, workspace.sources, around);
    keep(comparing, options);
    options.colour = colour_wanted(call.colour, around);
    options.all = call.all;
    options.width = call.width;
    options.profile = call.profile;
    options.rules = &workspace.rules;
    options.folder = this_folder();
    const bool trouble = messages.has_errors() || !options.not_inspected.empty() || !compared;
    int code = trouble ? exit_trouble : gate_code(call, workspace);
    options.exit_code = code;
    // A SARIF log says what was wrong, so that there is one even if nothing could be inspected.
    const auto is_due = [&](report::Form form) {
        return form == report::Form::sarif || (compared && (!trouble || !workspace.reports.empty()));
    };
    const auto print_plain = [&](report::Form form) -> std::optional<std::string> {
        if (!is_due(form)) return std::nullopt;
        report::Options plain = options;
        plain.colour = false;
        return report::print(form, workspace.reports, workspace.sources, plain);
    };
    code = write_further(call.also, workspace.sources, print_plain, code, around);
    if (!is_due(call.form)) return exit_trouble;
    return put_out(report::print(call.form, workspace.reports, workspace.sources, options), code, around);
}

}  // namespace packproof::cli
