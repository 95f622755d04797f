#include "engine/inspect/inspect.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "engine/cli/commands.hpp"
#include "engine/cli/descriptions.hpp"
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

// Fills in the names of the files whose input has errors; messages are printed as they come. Gives how many
// descriptions were passed over.
std::size_t inspect_each(std::span<const Subject> subjects, const Touched& touched, const InspectCall& call,
                         Surroundings& around, Workspace& workspace, report::Options& told) {
    Progress progress(around, subjects.size());
    std::size_t passed_over = 0;
    const auto take = [&](const Subject& subject, Inspected&& inspected) {
        log_debug("inspected " + name_of(subject));
        if (!inspected.messages.empty()) progress.wipe();
        print_messages(inspected.messages, workspace.sources, around);
        keep(inspected.messages, told);
        if (inspected.report)
            workspace.reports.push_back(*std::move(inspected.report));
        else if (inspected.passed_over)
            ++passed_over;
        else
            told.not_inspected.push_back(name_of(subject));
        progress.step();
    };
    inspect_many(subjects, workspace.rules, workspace.sources, options_of(call), touched, call.jobs, take);
    return passed_over;
}

// The paths in the list that exist, links resolved: what is gone is missed by the description that names it.
Touched read_touched(const std::string& list, text::Messages& messages) {
    if (list.empty()) return std::nullopt;
    text::Sources sources;
    text::Messages trouble;
    const auto source = document::read_file(list, sources, trouble);
    if (!source) {
        messages.error({}, fmt::format("the list {} cannot be read", text::safe_print(list)),
                       "it holds one path a line, as git diff --name-only prints them");
        return std::nullopt;
    }
    std::vector<std::string> paths;
    std::string_view rest = sources.bytes(*source);
    while (!rest.empty()) {
        std::string_view line = rest.substr(0, rest.find('\n'));
        rest.remove_prefix(std::min(rest.size(), line.size() + 1));
        if (line.ends_with('\r')) line.remove_suffix(1);
        std::error_code gone;
        const auto real = std::filesystem::canonical(line, gone);
        if (!line.empty() && !gone) paths.push_back(real.string());
    }
    return paths;
}

// The folder in which the program runs; empty where the system does not say.
std::string this_folder() {
    std::error_code ignored;
    return std::filesystem::current_path(ignored).string();
}

// Compares with the earlier report that was asked for; false, and a message, if it cannot be used.
bool compare_with_earlier(const InspectCall& call, Surroundings& around, Workspace& workspace) {
    if (call.since.empty()) return true;
    text::Messages messages;
    const auto source = document::read_file(call.since, workspace.sources, messages, earlier_limits());
    if (!source) {
        print_messages(messages, workspace.sources, around);
        return false;
    }
    const auto earlier = report::read_earlier(workspace.sources.bytes(*source));
    if (const auto* why = std::get_if<std::string>(&earlier)) {
        print_trouble(fmt::format("{} cannot be compared with: {}", call.since, *why),
                      "packproof inspect --form json writes such a report", around);
        return false;
    }
    inspect::compare(workspace.reports, std::get<0>(earlier), call.since);
    return true;
}

int gate_code(const InspectCall& call, const Workspace& workspace) {
    for (const inspect::Report& report : workspace.reports)
        if (closes_gate(report, call)) return exit_fails;
    return exit_nothing;
}

}  // namespace

int inspect_files(const InspectCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    std::vector<Subject> subjects;
    Touched touched;
    if (loaded) {
        const auto files = find_descriptions(call.paths, workspace.rules.vocabulary, messages);
        subjects = combine(files, call.overlays, messages);
        touched = read_touched(call.touched, messages);
    }
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;

    report::Options options;
    keep(messages, options);
    const std::size_t passed_over = inspect_each(subjects, touched, call, around, workspace, options);
    if (!compare_with_earlier(call, around, workspace)) return exit_trouble;
    options.colour = colour_wanted(call.colour, around);
    options.all = call.all;
    options.width = call.width;
    options.profile = call.profile;
    options.rules = &workspace.rules;
    options.folder = this_folder();
    options.passed_over = passed_over;
    // A SARIF log says what was wrong, so that there is one even if nothing could be inspected.
    const bool trouble = messages.has_errors() || !options.not_inspected.empty();
    int code = trouble ? exit_trouble : gate_code(call, workspace);
    options.exit_code = code;
    for (const FurtherReport& further : call.also)
        if (!trouble || !workspace.reports.empty() || further.form == report::Form::sarif) {
            report::Options plain = options;
            plain.colour = false;
            code = put_into(further.file,
                            report::print(further.form, workspace.reports, workspace.sources, plain), code,
                            around);
        }
    if (trouble && workspace.reports.empty() && call.form != report::Form::sarif) return exit_trouble;
    return put_out(report::print(call.form, workspace.reports, workspace.sources, options), code, around);
}

}  // namespace packproof::cli
