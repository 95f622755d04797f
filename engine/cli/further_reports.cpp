#include "engine/cli/further_reports.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "engine/cli/output.hpp"

namespace packproof::cli {

namespace {

namespace files = std::filesystem;

// With links resolved as far as something is there: what tells files apart.
std::string real(const std::string& path) {
    std::error_code code;
    files::path found = files::weakly_canonical(files::absolute(path, code), code);
    return code ? path : found.string();
}

bool is_regular(const std::string& path) {
    std::error_code ignored;
    return files::is_regular_file(path, ignored);
}

bool exists(const std::string& path) {
    std::error_code ignored;
    return files::exists(path, ignored);
}

bool was_read(const std::string& path, const text::Sources& sources) {
    if (!is_regular(path)) return false;  // a device is no file that could be lost
    const std::string wanted = real(path);
    for (std::size_t i = 0; i < sources.size(); ++i) {
        const auto source = static_cast<text::SourceIndex>(i);
        if (sources.holds(source) && real(std::string(sources.path(source))) == wanted) return true;
    }
    return false;
}

std::string not_written(const std::string& file, std::string_view why) {
    return fmt::format("the report {} is not written: {}", file, why);
}

}  // namespace

bool may_be_written(const InspectCall& call, Surroundings& around) {
    bool good = true;
    std::set<std::string> named;
    const auto refuse = [&](const std::string& file, std::string_view why) {
        print_trouble(not_written(file, why), "give another name", around);
        good = false;
    };
    for (const FurtherReport& report : call.also) {
        const std::string place = real(report.file);
        const bool exists_elsewhere = !is_regular(report.file) && exists(report.file);
        if (place.ends_with(".toml"))
            refuse(report.file, "a file *.toml is a description or holds rules");
        else if ((!call.since.empty() && place == real(call.since)) ||
                 (!call.touched.empty() && place == real(call.touched)))
            refuse(report.file, "this run reads it");
        else if (!exists_elsewhere && !named.insert(place).second)
            refuse(report.file, "two reports would go into one file");
    }
    return good;
}

int write_further(const std::vector<FurtherReport>& reports, const text::Sources& sources,
                  const std::function<std::optional<std::string>(report::Form)>& print, int code,
                  Surroundings& around) {
    for (const FurtherReport& report : reports) {
        if (was_read(report.file, sources)) {
            print_trouble(not_written(report.file, "this run reads it"), "give another name", around);
            code = exit_trouble;
            continue;
        }
        if (const auto text = print(report.form)) {
            code = put_into(report.file, *text, code, around);
            continue;
        }
        std::error_code ignored;  // one that cannot be taken away could not be written either
        if (is_regular(report.file)) files::remove(real(report.file), ignored);
    }
    return code;
}

}  // namespace packproof::cli
