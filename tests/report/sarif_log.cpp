#include "sarif_log.hpp"

#include <algorithm>
#include <set>
#include <tuple>

namespace packproof::samples {

namespace {

using nlohmann::json;

class Reader {
  public:
    std::vector<std::string> complaints;

    void read(const json& run) {
        say(run.value("columnKind", "") != "unicodeCodePoints", "columnKind");  // 3.14.27
        for (const json& artifact : run["artifacts"])
            if (artifact.contains("hashes")) say(!artifact["hashes"].contains("sha-256"), "hash");  // 3.24.11
        for (const json& invocation : run["invocations"]) {
            const auto& told = invocation["toolExecutionNotifications"];  // 3.20.21, 3.20.22
            const bool bad = std::any_of(told.begin(), told.end(),
                                         [](const json& one) { return one["level"] == "error"; });
            say(bad && invocation["executionSuccessful"] == true, "successful in spite of an error");
        }
        everywhere(run, run);
        std::set<std::string> prints;
        for (const json& result : run.value("results", json::array())) {
            read_result(result, run);
            for (const auto& [name, print] : result["partialFingerprints"].items())
                say(!prints.insert(print.get<std::string>()).second, "fingerprint " + name + " twice");
        }
    }

  private:
    void say(bool bad, const std::string& what) {
        if (bad) complaints.push_back(what);
    }

    void read_result(const json& result, const json& run) {
        const bool fails = result["kind"] == "fail";  // 3.27.10
        say(fails == (result["level"] == "none"), "level beside kind");
        const auto& rules = run["tool"]["driver"]["rules"];
        const auto index = result["ruleIndex"].get<std::size_t>();
        say(index >= rules.size() || rules[index]["id"] != result["ruleId"], "ruleIndex");  // 3.27.6
        say(result["locations"].size() != 1, "locations");                                  // 3.27.12
        const json& first = run["results"][0];  // on all results or on none: 3.27.23, 3.27.24
        for (const char* name : {"baselineState", "suppressions"})
            say(result.contains(name) != first.contains(name), "on all results or none");
        say(result.contains("fingerprints"), "fingerprints of a direct producer");  // 3.27.16
        std::multiset<std::int64_t> ids;
        for (const json& place : result.value("relatedLocations", json::array()))
            ids.insert(place["id"].get<std::int64_t>());
        for (const char* form : {"text", "markdown"})
            read_links(result["message"][form].get<std::string>(), ids);
    }

    // 3.11.6: a link's number is the id of exactly one location of the result.
    void read_links(const std::string& text, const std::multiset<std::int64_t>& ids) {
        for (std::size_t at = text.find("]("); at != std::string::npos; at = text.find("](", at + 1)) {
            if (at > 0 && text[at - 1] == '\\') continue;
            const std::size_t end = text.find(')', at);
            const std::string target = text.substr(at + 2, end - at - 2);
            const bool number =
                !target.empty() && target.find_first_not_of("0123456789") == std::string::npos;
            say(!number || ids.count(std::stoll(target)) != 1, "link to " + target);
        }
    }

    // 3.11.5: a brace that is no placeholder is doubled; we have no placeholders.
    static bool single_brace(const std::string& text) {
        for (std::size_t i = 0; i < text.size(); ++i) {
            if (text[i] != '{' && text[i] != '}') continue;
            if (i + 1 >= text.size() || text[i + 1] != text[i]) return true;
            ++i;
        }
        return false;
    }

    void read_region(const json& region) {  // 3.30
        const auto number = [&](const char* name) { return region.value(name, 0); };
        say(number("startLine") < 1 || number("startColumn") < 1, "region without a start");
        say(std::tuple(number("endLine"), number("endColumn")) <
                std::tuple(number("startLine"), number("startColumn")),
            "region ends before it begins");
    }

    void read_file(const json& file, const json& run) {
        const std::string uri = file.value("uri", "");
        const char* good = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._~%/:";
        say(uri.find_first_not_of(good) != std::string::npos, "uri " + uri);  // 3.10.4
        const bool based = file.contains("uriBaseId");
        say(based && (uri.find(':') != std::string::npos || uri.starts_with("..")), "uri beside its base");
        say(based && !run["originalUriBaseIds"].contains(file["uriBaseId"].get<std::string>()), "uriBaseId");
        if (!file.contains("index")) return;
        const auto index = file["index"].get<std::size_t>();
        say(index >= run["artifacts"].size() || run["artifacts"][index]["location"].value("uri", "") != uri,
            "index of a file");  // 3.4.5
    }

    void everywhere(const json& node, const json& run) {
        if (node.is_object()) {
            for (const auto& [name, value] : node.items()) {
                if (name == "properties" || name == "insertedContent") continue;  // no message strings
                if (value.is_string() && (name == "text" || name == "markdown"))
                    say(single_brace(value.get<std::string>()), "brace");
                if (name == "region" || name == "deletedRegion") read_region(value);
                if (name == "artifactLocation" || name == "analysisTarget") read_file(value, run);
                everywhere(value, run);
            }
        } else if (node.is_array()) {
            for (const json& value : node)
                everywhere(value, run);
        }
    }
};

}  // namespace

std::vector<std::string> sarif_complaints(const json& log) {
    Reader reader;
    for (const json& run : log["runs"])
        reader.read(run);
    return reader.complaints;
}

}  // namespace packproof::samples
