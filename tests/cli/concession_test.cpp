// Concessions against the built-in rules: what must hold so that one is honoured, on both sides of each
// limit. In the pack below a 160 A breaker stands before 10 mm² of copper: far more than it carries (BS 7671,
// table 4E1A).
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "bench.hpp"
#include "engine/rules/person_name.hpp"

using namespace packproof::bench;
using Json = nlohmann::json;

namespace {

const std::string pack = R"(format = 1
pack                = { series = 16, practice = "iec" }
cell                = { chemistry = "LFP", terminal_thread = "M6" }
device.main-breaker = { kind = "breaker", rated_current = "160 A", rated_voltage = "80 V" }
conductor.plus      = { section = "10 mm²", insulation_temperature = "90 °C", laying = "clipped", protected_by = "main-breaker" }
[concession.one]
)";

struct Fields {
    std::string rule = "\"breaker-protects-conductor\"";
    std::string item = "\"plus\"";
    std::string reason = "\"tried on the bench at 20 A\"";
    std::string by = "\"A. Example\"";
    std::string second = "\"B. Example\"";
    std::string until = "2026-06-01";
    std::string has;
    std::string needs = {};
};

std::string written(const Fields& fields) {
    std::string text = pack;
    const auto add = [&text](const char* name, const std::string& value) {
        if (!value.empty()) text += std::string(name) + " = " + value + "\n";
    };
    add("rule", fields.rule);
    add("item", fields.item);
    add("reason", fields.reason);
    add("by", fields.by);
    add("second", fields.second);
    add("until", fields.until);
    add("has", fields.has);
    add("needs", fields.needs);
    return text;
}

Outcome inspected(const Fields& fields, const char* form = "json") {
    const Folder folder;
    return call_with_real_rules(
        {"inspect", "--form", form, "--date", "2026-06-01", folder.write("a.toml", written(fields))});
}

bool has_part(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

bool is_honoured(const Fields& fields) {
    const Outcome run = inspected(fields);
    const Json report = Json::parse(run.out);
    for (const Json& finding : report["findings"])
        if (finding["rule"] == "breaker-protects-conductor" && finding["item"] == "plus") {
            CHECK(finding["verdict"] == "fails");  // whatever is permitted
            CHECK(finding["counts"] == !finding["conceded"].get<bool>());
            return finding["conceded"].get<bool>();
        }
    FAIL("the finding is not in the report");
    return false;
}

Fields with(std::string Fields::*field, const std::string& value) {
    Fields fields;
    fields.*field = value;
    return fields;
}

}  // namespace

TEST_CASE("a concession holds on its last day, for a year at most, and not after") {
    CHECK(is_honoured({}));
    CHECK(is_honoured(with(&Fields::until, "2027-06-02")));  // 366 days
    CHECK_FALSE(is_honoured(with(&Fields::until, "2027-06-03")));
    CHECK_FALSE(is_honoured(with(&Fields::until, "2026-05-31")));
    CHECK_FALSE(is_honoured(with(&Fields::until, "")));
    CHECK_FALSE(is_honoured(with(&Fields::until, "\"?\"")));
}

TEST_CASE("what is critical needs a second person, who is another one") {
    CHECK_FALSE(is_honoured(with(&Fields::second, "")));
    CHECK_FALSE(is_honoured(with(&Fields::second, "\"A. Example\"")));
    CHECK_FALSE(is_honoured(with(&Fields::second, "\"a example\"")));
    CHECK_FALSE(is_honoured(with(&Fields::second, "\"none\"")));
    CHECK_FALSE(is_honoured(with(&Fields::by, "")));
}

TEST_CASE("a name has a letter, is of one alphabet and is not another spelling of the first") {
    using namespace packproof::rules;
    for (const char* name : {"A. Example", "Ä", "王伟", "Иван Пример"}) {
        CAPTURE(name);
        CHECK(is_person_name(name));
    }
    // The last: Cyrillic А before Latin letters.
    for (const char* name : {"", "-", "n/a", "None", "\u200b", "\u00a0", "\u3164", "7", "А. Example"}) {
        CAPTURE(name);
        CHECK_FALSE(is_person_name(name));
    }
    const std::string first = "J. Müller-Example";
    for (const char* other : {"J. Müller-Example", "J.\u00a0M\u00fcller Example", "J. MU\u0308LLER EXAMPLE",
                              "Example-Müller, J.", "J Mül\u200bler Example", "J.Müller-Example"}) {
        CAPTURE(other);
        CHECK(may_be_one_person(first, other));
        CHECK(may_be_one_person(other, first));
    }
    CHECK_FALSE(may_be_one_person(first, "K. Müller-Example"));
    CHECK_FALSE(may_be_one_person("王伟", "李娜"));
    CHECK_FALSE(is_honoured(with(&Fields::second, "\"n/a\"")));
    CHECK_FALSE(is_honoured(with(&Fields::by, "\"\\u200b\"")));
    CHECK_FALSE(is_honoured(with(&Fields::reason, "\"\\u200b\\u200b\\u200b\"")));
}

TEST_CASE("a concession without a reason, for all items or for another rule permits nothing") {
    CHECK_FALSE(is_honoured(with(&Fields::reason, "")));
    CHECK_FALSE(is_honoured(with(&Fields::reason, "\" \"")));
    CHECK_FALSE(is_honoured(with(&Fields::item, "\"*\"")));
    CHECK_FALSE(is_honoured(with(&Fields::item, "")));
    CHECK_FALSE(is_honoured(with(&Fields::rule, "\"*\"")));
    CHECK_FALSE(is_honoured(with(&Fields::rule, "\"device-stands-the-full-voltage\"")));
}

TEST_CASE("a concession that was granted for a value holds while the value is no worse") {
    CHECK(is_honoured(with(&Fields::has, "\"160 A\"")));
    CHECK(is_honoured(with(&Fields::has, "\"161 A\"")));
    CHECK_FALSE(is_honoured(with(&Fields::has, "\"159 A\"")));
    // What a report prints, copied into the description after the value has moved.
    CHECK(is_honoured(with(&Fields::has, "\"rated_current of main-breaker: 165 A, stated\"")));
    CHECK_FALSE(is_honoured(with(&Fields::has, "\"159.96 A\"")));
    CHECK(is_honoured(with(&Fields::has, "\"150 A to 170 A\"")));
    CHECK(is_honoured(with(&Fields::has, "\"160 A (150 A to 170 A)\"")));
    CHECK_FALSE(is_honoured(with(&Fields::has, "\"none of 2 leads\"")));
    const Json report = Json::parse(inspected({}).out);
    Json finding;
    for (const Json& one : report["findings"])
        if (one["rule"] == "breaker-protects-conductor") finding = one;
    REQUIRE(finding.is_object());
    const std::string limit = finding["needs"]["text"].get<std::string>();
    CAPTURE(limit);
    CHECK(is_honoured(with(&Fields::needs, "\"" + limit + "\"")));
    CHECK(is_honoured(with(&Fields::needs, "\"at most " + limit + " (carrying_capacity of plus)\"")));
    CHECK(is_honoured(with(&Fields::needs, "\"at most 20 A (carrying_capacity of plus)\"")));
    CHECK_FALSE(is_honoured(with(&Fields::needs, "\"at most 500 A (400 A to 600 A)\"")));
    const Outcome wrong = inspected(with(&Fields::has, "\"160 mm\""));
    CHECK(wrong.code == 2);
    CHECK(wrong.out.empty());
    CHECK(has_part(wrong.err, "a.toml:13:7: error: "));
}

TEST_CASE("names that do not exist are mistakes of writing, with the nearest name") {
    const Outcome rule = inspected(with(&Fields::rule, "\"breaker-protect-conductor\""));
    CHECK(rule.code == 2);
    CHECK(has_part(rule.err, "did you mean \"breaker-protects-conductor\"?"));
    const Outcome item = inspected(with(&Fields::item, "\"pluss\""));
    CHECK(item.code == 2);
    CHECK(has_part(item.err, "a.toml:8:8: error: no item is named \"pluss\""));
    CHECK(has_part(item.err, "did you mean \"plus\"?"));
}

TEST_CASE("what the engine finds out cannot be stated, and a file of concessions holds concessions") {
    const Folder folder;
    const auto run = [&folder](const std::string& text) {
        return call_with_real_rules({"inspect", "--date", "2026-06-01", folder.write("a.toml", text)});
    };
    const Outcome forged = run(written({}) + "is_used = true\ntwo_people = true\n");
    CHECK(forged.code == 2);
    CHECK(has_part(forged.err, "a.toml:13:11: error: is_used of a concession is found out, not stated"));
    CHECK(has_part(forged.err, "a.toml:14:14: error: two_people of a concession is found out"));
    const std::string bare = pack.substr(0, pack.find("[concession"));
    folder.write("a.concessions.toml", "format = 1\nconductor.minus = { section = \"10 mm²\" }\n");
    const Outcome added = run(bare);
    CHECK(added.code == 2);
    CHECK(has_part(added.err, "a.concessions.toml:2:11: error: \"minus\" is no concession"));
    folder.write("a.concessions.toml", "format = 1\n");
    folder.write("a.readings.toml", "format = 1\n[concession.x]\nrule = \"a\"\n");
    CHECK(run(bare).code == 2);
}

TEST_CASE("every form of a report says who permits what, or that it is not honoured") {
    for (const char* form : {"text", "lines", "json", "sarif", "html"}) {
        CAPTURE(form);
        const std::string told = inspected({}, form).out;
        CHECK(has_part(told, "A. Example"));
        CHECK(has_part(told, "B. Example"));
        const std::string refused = inspected(with(&Fields::reason, "\" \""), form).out;
        CHECK(has_part(refused, "concession-says-why"));
    }
    CHECK(has_part(inspected({}, "table").out, "CONCEDED"));
    CHECK_FALSE(has_part(inspected(with(&Fields::reason, "\" \""), "table").out, "CONCEDED"));
    const Json good = Json::parse(inspected({}, "sarif").out);
    const Json bad = Json::parse(inspected(with(&Fields::second, ""), "sarif").out);
    const auto status = [](const Json& log) {
        for (const Json& result : log["runs"][0]["results"])
            if (result["ruleId"] == "breaker-protects-conductor" && !result["suppressions"].empty())
                return result["suppressions"][0]["status"].get<std::string>();
        return std::string();
    };
    CHECK(status(good) == "accepted");  // SARIF 2.1.0, 3.35.3
    CHECK(status(bad) == "rejected");
}

TEST_CASE("a team that switches a critical rule off is named in every report") {
    const Folder folder;
    const std::string file = folder.write("a.toml", written({}).substr(0, pack.find("[concession")));
    folder.write(
        "team/change.toml",
        "[change.breaker-protects-conductor]\nactive = false\nreason = \"tried\"\nby = \"C. Example\"\n");
    for (const char* form : {"text", "lines", "table", "json", "sarif", "html"}) {
        CAPTURE(form);
        const Outcome run =
            call_with_real_rules({"inspect", "--form", form, "--rules", folder.path("team"), file});
        CHECK(has_part(run.out, "C. Example"));
    }
    for (const char* command : {"bench", "sheet"}) {
        CAPTURE(command);
        CHECK(has_part(call_with_real_rules({command, "--rules", folder.path("team"), file}).out,
                       "C. Example"));
    }
}

TEST_CASE("a team that relaxes a condition of concessions answers for it; two people stay a condition") {
    const Folder folder;
    Fields alone;
    alone.second = "";
    const std::string file = folder.write("a.toml", written(alone));
    const std::string change =
        "[change.concession-of-what-is-critical-has-two-names]\nactive = false\nreason = \"tried\"\n";
    const auto run = [&folder, &file](const std::string& text) {
        folder.write("team/change.toml", text);
        return call_with_real_rules(
            {"inspect", "--date", "2026-06-01", "--rules", folder.path("team"), file});
    };
    const Outcome nameless = run(change);
    CHECK(nameless.code == 2);
    CHECK(has_part(nameless.err, "does not say who answers for it"));
    CHECK(run(change + "by = \"-\"\n").code == 2);
    const Outcome named = run(change + "by = \"C. Example\"\n");
    CHECK(named.code == 1);
    CHECK(has_part(named.out, "switched off by C. Example"));
    CHECK(has_part(named.out, "what is critical needs two people"));
}
