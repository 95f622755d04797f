// What an editor is told and offered, on the descriptions of specs/ (invented) and the built-in rules.
// Expected verdicts and limits are those of the .findings files beside them and of the first report in
// README.md; severities and kinds are those of LSP 3.17.
#include <doctest/doctest.h>

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "client.hpp"

using namespace packproof::serve_tests;

namespace {

bool holds(const std::vector<std::string>& list, const std::string& word) {
    return std::find(list.begin(), list.end(), word) != list.end();
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

// A folder with its files, gone after the test.
class Folder {
  public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "serve-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        path = std::filesystem::canonical(name).string();
    }
    ~Folder() { std::filesystem::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    void write(const std::string& name, const std::string& text) const {
        std::filesystem::create_directories(std::filesystem::path(path + "/" + name).parent_path());
        std::ofstream(path + "/" + name) << text;
    }
    std::string path;
};

const std::string faulty = "specs/cabin/faulty-breaker-too-large-for-the-cable.toml";
const std::string devices = "specs/cabin/parts/devices.toml";

}  // namespace

TEST_CASE(
    "findings are told where the value at fault stands, in another file too, and taken back on closing") {
    Client client;
    const std::string uri = source_uri(faulty);
    client.open(uri, source_text(faulty));
    const auto critical = client.told(source_uri(devices), "breaker-protects-conductor");
    REQUIRE(critical.size() == 2);  // one for each of the two conductors
    CHECK(critical[0].at("severity") == 1);
    CHECK(critical[0].at("source") == "packproof");
    CHECK(critical[0].at("range").at("start") ==
          Json{{"line", 28}, {"character", 20}});  // 29:21 in the report
    CHECK(has(critical[0].at("message"), "175 A"));
    CHECK(has(critical[0].at("message"), "at most 160.2 A"));
    CHECK_FALSE(critical[0].at("relatedInformation").empty());
    CHECK_FALSE(critical[0].at("data").at("clears").empty());
    const auto minor = client.told(uri, "cable-at-the-breaker-is-not-too-thin");
    REQUIRE_FALSE(minor.empty());
    CHECK(minor[0].at("severity") == 2);
    CHECK(client.published.at(uri).contains("version"));
    CHECK_FALSE(client.published.at(source_uri(devices)).contains("version"));
    client.close(uri);
    CHECK(client.published.at(source_uri(devices)).at("diagnostics").empty());
    CHECK(client.published.at(uri).at("diagnostics").empty());
}

TEST_CASE("a concession is weighed while it is written: what it permits is no error, a slip in it is one") {
    const Folder folder;
    const std::string uri = "file://" + folder.path + "/a.toml";
    // Far too large for the cable, as in tests/cli/concession_test.cpp. The year after the end is never over.
    const std::string pack =
        "format = 1\npack = { series = 16, practice = \"iec\" }\n"
        "cell = { chemistry = \"LFP\", terminal_thread = \"M6\" }\n"
        "device.d = { kind = \"breaker\", rated_current = \"160 A\", rated_voltage = \"80 V\" }\n"
        "conductor.plus = { section = \"10 mm²\", insulation_temperature = \"90 °C\", laying = \"clipped\", "
        "protected_by = \"d\" }\n[concession.one]\nrule = \"breaker-protects-conductor\"\n"
        "reason = \"tried on the bench\"\nby = \"A. Example\"\nuntil = 2020-01-01\n";
    Client client;
    client.open(uri, pack + "item = \"plus\"\nsecond = \"B. Example\"\n");
    const auto refused = client.told(uri, "breaker-protects-conductor");
    REQUIRE(refused.size() == 1);
    CHECK(refused[0].at("severity") == 1);
    CHECK(has(refused[0].at("message"), "A. Example"));
    CHECK(has(refused[0].at("message"), "concession-has-not-ended"));
    Client other;
    other.open(uri, pack + "item = \"pluss\"\n");
    const auto slip = other.told(uri, "input");
    REQUIRE(slip.size() == 1);
    CHECK(has(slip[0].at("message"), "did you mean \"plus\"?"));
}

TEST_CASE("an open part stands in place of the file on disk, and what reads it is inspected anew") {
    Client client;
    const std::string pack = "specs/cabin/pack.toml";
    client.open(source_uri(pack), source_text(pack));
    CHECK(client.told(source_uri(devices), "breaker-protects-conductor").empty());
    const std::string text = source_text(devices);
    client.open(source_uri(devices), text);
    const std::string fuse = text.substr(0, text.find("[device.fuse-175]"));
    client.change(source_uri(devices),
                  fuse + replaced(text.substr(fuse.size()), "rated_current     = \"175 A\"",
                                  "rated_current     = \"400 A\""));
    client.settle();
    CHECK_FALSE(client.told(source_uri(devices), "breaker-protects-conductor").empty());
    client.change(source_uri(devices), text + "[device");
    client.settle();
    CHECK_FALSE(client.told(source_uri(devices), "input").empty());
    client.close(source_uri(devices));  // the disk counts again
    CHECK(client.told(source_uri(devices), "input").empty());
    CHECK(client.told(source_uri(devices), "breaker-protects-conductor").empty());
}

TEST_CASE("what is kept from one inspection to the next changes nothing that is told") {
    const std::string pack = "specs/cabin/pack.toml";
    const std::string uri = source_uri(pack);
    const std::string sound = source_text(pack);
    // 4 mm is too thin (specs/cabin/faulty-plate-too-thin.toml).
    const std::size_t plate = sound.find("[plate.end-plate]");
    REQUIRE(plate != std::string::npos);
    const std::size_t line = sound.find("thickness", plate);
    const std::string thin =
        sound.substr(0, line) + "thickness = \"4 mm\"" + sound.substr(sound.find('\n', line));
    Client warm;
    warm.open(uri, sound);
    const Json before = warm.published.at(uri).at("diagnostics");
    warm.change(uri, thin);
    warm.settle();
    Client fresh;
    fresh.open(uri, thin);
    CHECK(warm.published.at(uri).at("diagnostics") == fresh.published.at(uri).at("diagnostics"));
    CHECK(warm.published.at(uri).at("diagnostics") != before);
    warm.change(uri, sound);
    warm.settle();
    CHECK(warm.published.at(uri).at("diagnostics") == before);
}

TEST_CASE("a fix that is offered clears its finding") {
    Client client;
    const std::string uri = source_uri(faulty);
    client.open(uri, source_text(faulty));
    REQUIRE(client.told(source_uri(devices), "breaker-protects-conductor").size() == 2);
    const auto [line, character] = place_of(client.texts.at(uri), "\"35 mm²\"");
    const Json here{{"line", line}, {"character", character + 1}};
    const Json actions = client.actions(uri, {{"start", here}, {"end", here}});
    const auto larger = std::find_if(actions.begin(), actions.end(), [](const Json& action) {
        return has(action.at("title"), "section of plus-to-fuse: at least 50 mm²");
    });
    REQUIRE(larger != actions.end());
    CHECK(larger->at("kind") == "quickfix");
    client.apply(*larger);
    CHECK(has(client.texts.at(uri), "section = \"50 mm²\""));
    CHECK(client.told(source_uri(devices), "breaker-protects-conductor").size() == 1);
    CHECK(client
              .actions(uri,
                       {{"start", {{"line", 0}, {"character", 0}}}, {"end", {{"line", 0}, {"character", 0}}}})
              .empty());
}

TEST_CASE("mistakes of the text are repaired by the nearest word, a unit or the value without quotes") {
    const std::string sound =
        "[pack]\nseries = 16\n[device.main-fuse]\nkind = \"fuse\"\nrated_current = \"100 A\"\n"
        "[conductor.plus]\nlength = \"20 mm\"\nprotected_by = \"main-fuse\"\nfrom = \"main-fuse.load\"\n";
    struct Slip {
        std::string right;
        std::string wrong;
    };
    for (const Slip& slip : {Slip{"series", "serie"}, Slip{"kind = \"fuse\"", "kind = \"fusee\""},
                             Slip{"conductor.plus", "conducter.plus"}, Slip{"20 mm", "20 MM"},
                             Slip{"\"20 mm\"", "20"}, Slip{"series = 16", "series = \"16\""},
                             Slip{"protected_by = \"main-fuse", "protected_by = \"main-fuze"},
                             Slip{"main-fuse.load", "main-fuse.loat"}}) {
        CAPTURE(slip.wrong);
        Client client;
        client.open("untitled:slip", replaced(sound, slip.right, slip.wrong));
        const auto told = client.told("untitled:slip", "input");
        REQUIRE(told.size() == 1);
        CHECK(told[0].at("severity") == 1);
        const Json actions = client.actions("untitled:slip", told[0].at("range"));
        REQUIRE(actions.size() == 1);
        client.apply(actions[0]);
        CHECK(client.told("untitled:slip", "input").empty());
        if (slip.wrong != "20")
            CHECK(client.texts.at("untitled:slip") == sound);  // the unit itself is a guess
    }
}

TEST_CASE("hover tells what a field means, what was read, what is derived and how a finding came about") {
    Client client;
    const std::string uri = source_uri(faulty);
    const std::string text = source_text(faulty);
    client.open(uri, text);
    auto [line, character] = place_of(text, "\"35 mm²\"");
    const std::string value = client.at("hover", uri, line, character).at("contents").at("value");
    CHECK(has(value, "**section** of conductor"));
    CHECK(has(value, "quantity in mm²"));
    CHECK(has(value, "read as: 35 mm²"));
    CHECK(has(value, "at most 160.2 A"));  // the finding that it would clear
    std::tie(line, character) = place_of(text, "plus-to-fuse");
    const std::string item = client.at("hover", uri, line, character + 2).at("contents").at("value");
    CHECK(has(item, "**plus-to-fuse**, conductor"));
    CHECK(has(item, "carrying_capacity = 160.2 A"));
    CHECK(has(item, "working:"));
    CHECK(client.at("hover", uri, 0, 3).is_null());
}

TEST_CASE("words of strangers stay words in a hover") {
    Client client;
    const std::string text =
        "[pack]\nname = \"<script>alert(1)</script> [x](http://y) **z** \\u001b[31m \\u202e\"\nseries = 16\n";
    client.open("untitled:strange", text);
    const std::string hover = client.at("hover", "untitled:strange", 1, 2).at("contents").at("value");
    CHECK_FALSE(has(hover, "<script>"));
    CHECK(has(hover, "\\[x\\](http"));
    CHECK_FALSE(has(hover, "**z"));
    CHECK_FALSE(has(hover, "\x1b"));
    CHECK_FALSE(has(hover, "\u202e"));
    CHECK(has(hover, "script"));
}

TEST_CASE("completion: kinds, fields, choices, units of the dimension, items with their points") {
    Client client;
    const std::string uri = "untitled:more";
    const std::string begun =
        "[pack]\nseries = 16\n[device.main-fuse]\nkind = \"fuse\"\n[busbar.link]\nwidth = \"20 "
        "mm\"\n[conductor.plus]\n";
    const auto after = [&](const std::string& typed) {
        client.open(uri, begun + typed);
        const auto line = static_cast<int>(std::count(begun.begin(), begun.end(), '\n'));
        return labels(client.at("completion", uri, line, static_cast<int>(typed.size())));
    };
    CHECK(holds(after("["), "conductor"));
    CHECK(holds(after("[conductor."), "plus"));
    CHECK(holds(after("sec"), "section"));
    CHECK(holds(after("material = "), "copper"));
    CHECK(holds(after("material = \""), "copper"));
    CHECK(holds(after("protected_by = \""), "main-fuse"));
    CHECK_FALSE(holds(after("protected_by = \""), "link"));
    CHECK(holds(after("from = \""), "main-fuse.load"));
    const auto units = after("section = \"35 ");
    CHECK(holds(units, "mm²"));
    CHECK_FALSE(holds(units, "mm"));
    CHECK(holds(after("section = \"35 m"), "mm²"));
    CHECK(holds(after("section = \""), "?"));
    // What is taken is a description that reads.
    client.open(uri, begun + "material = ");
    const Json all = client.at("completion", uri, 7, 11).at("items");
    const auto copper =
        std::find_if(all.begin(), all.end(), [](const Json& item) { return item.at("label") == "copper"; });
    REQUIRE(copper != all.end());
    client.open(uri, begun + "material = " + copper->at("textEdit").at("newText").get<std::string>());
    CHECK(client.told(uri, "input").empty());
}

TEST_CASE("definition goes to the item in its file and to a file that is named") {
    Client client;
    const std::string pack = "specs/cabin/pack.toml";
    const std::string text = source_text(pack);
    client.open(source_uri(pack), text);
    auto [line, character] = place_of(text, "\"main-breaker\"");
    Json at = client.at("definition", source_uri(pack), line, character + 3);
    CHECK(at.at("uri") == source_uri(pack));
    CHECK(at.at("range").at("start").at("line") == place_of(text, "[device.main-breaker]").first);
    std::tie(line, character) = place_of(text, "\"breaker-150\"");
    at = client.at("definition", source_uri(pack), line, character + 3);
    CHECK(at.at("uri") == source_uri(devices));
    CHECK(at.at("range").at("start").at("line") ==
          place_of(source_text(devices), "[device.breaker-150]").first);
    std::tie(line, character) = place_of(text, "parts/devices.toml");
    CHECK(client.at("definition", source_uri(pack), line, character + 3).at("uri") == source_uri(devices));
}

TEST_CASE("a value that is asked is a hint, not noise") {
    Client client;
    const std::string ten = "specs/ten-lines.toml";
    client.open(source_uri(ten), source_text(ten));
    for (const Json& one : client.published.at(source_uri(ten)).at("diagnostics"))
        CHECK(one.at("severity") == 4);
    const auto asked = client.told(source_uri(ten), "asked");
    REQUIRE(asked.size() == 1);
    CHECK(asked[0].at("range").at("start").at("line") == place_of(source_text(ten), "\"?\"").first);
    CHECK(has(client.told(source_uri(ten), "coverage").at(0).at("message"), "119 checks wait"));
}

TEST_CASE("names of files are percent-decoded, and a file need not be on disk") {
    const Folder folder;
    Client client;
    const std::string uri = "file://" + folder.path + "/a%20%C3%BC%23.toml";
    client.open(uri, "extends = \"base.toml\"\n");
    REQUIRE(client.told(uri, "input").size() == 1);
    client.open("file://" + folder.path + "/base.toml", "[pack]\nseries = 16\n");
    CHECK(client.told(uri, "input").empty());
    client.open("file://" + folder.path + "/a%20%C3%BC%23.readings.toml", "nonsense = 1\n");
    CHECK(client.told("file://" + folder.path + "/a%20%C3%BC%23.readings.toml", "input").size() == 1);
}

namespace {

const std::string house_rule = R"([quantity.conductor.half_length]
unit  = "m"
about = "half of it"
value = "length / 2"

[rule.house-length]
asks    = "Is the cable short enough for this house?"
of      = "conductor"
demands = "half_length <= 2 m"
class   = "minor"
because = "The house is small."
basis   = [{ status = "common practice" }]
clears  = ["length"]
[[rule.house-length.example]]
verdict = "conforms"
with.conductor.a = { length = "4 m" }
[[rule.house-length.example]]
verdict = "fails"
with.conductor.a = { length = "4.1 m" }
)";

}  // namespace

TEST_CASE("a rule file is read on top of the built-in rules, its mistakes told inside expressions too") {
    Client client;
    const std::string uri = "untitled:rules";
    client.open(uri, house_rule);
    CHECK(client.published.at(uri).at("diagnostics").empty());
    const std::string slip = replaced(house_rule, "\"half_length <= 2 m\"", "\"half_lenght <= 2 m\"");
    client.change(uri, slip);
    client.settle();
    const auto told = client.told(uri, "input");
    REQUIRE(told.size() == 1);
    CHECK(told[0].at("range").at("start").at("line") == place_of(slip, "half_lenght").first);
    CHECK(told[0].at("range").at("start").at("character") == place_of(slip, "half_lenght").second);
    const Json actions = client.actions(uri, told[0].at("range"));
    REQUIRE(actions.size() == 1);
    client.apply(actions[0]);
    CHECK(client.texts.at(uri) == house_rule);
    CHECK(client.published.at(uri).at("diagnostics").empty());
    // An example that does not get its verdict is a mistake too.
    client.change(uri, replaced(house_rule, "4.1 m", "3.9 m"));
    client.settle();
    CHECK(client.told(uri, "input").size() == 1);
}

TEST_CASE("rule files have hover, completion and definition") {
    Client client;
    const std::string uri = "untitled:rules";
    client.open(uri, house_rule);
    auto [line, character] = place_of(house_rule, "half_length <=");
    CHECK(has(client.at("hover", uri, line, character + 2).at("contents").at("value"), "half of it"));
    CHECK(client.at("definition", uri, line, character + 2).at("range").at("start").at("line") ==
          place_of(house_rule, "[quantity.conductor.half_length]").first);
    const auto names = labels(client.at("completion", uri, line, character + 2));
    CHECK(holds(names, "half_length"));
    CHECK(holds(names, "length"));
    CHECK(holds(names, "lookup"));
    CHECK(holds(names, "pack"));
    std::tie(line, character) = place_of(house_rule, "\"minor\"");
    CHECK(holds(labels(client.at("completion", uri, line, character + 1)), "critical"));
    std::tie(line, character) = place_of(house_rule, "house-length");
    CHECK(has(client.at("hover", uri, line, character + 2).at("contents").at("value"), "short enough"));
    std::tie(line, character) = place_of(house_rule, "because");
    CHECK(has(client.at("hover", uri, line, character + 2).at("contents").at("value"), "why it matters"));
    // Half-written: through a reference, and a table's columns.
    const std::string through = replaced(house_rule, "half_length <= 2 m", "protected_by.");
    client.change(uri, through);
    std::tie(line, character) = place_of(through, "protected_by.");
    CHECK(holds(labels(client.at("completion", uri, line, character + 13)), "rated_current"));
    const std::string table = replaced(house_rule, "half_length <= 2 m", "lookup(practice.");
    client.change(uri, table);
    std::tie(line, character) = place_of(table, "lookup(practice.");
    CHECK_FALSE(labels(client.at("completion", uri, line, character + 16)).empty());
}

TEST_CASE("open texts below --rules count for every description, the last sound ones while they are broken") {
    const Folder folder;
    folder.write("house/rules.toml", house_rule);
    const std::string pack = "untitled:pack";
    const std::string text = "[pack]\nseries = 16\n[conductor.plus]\nlength = \"5 m\"\n";
    const std::string rules = "file://" + folder.path + "/house/rules.toml";
    Client client({folder.path + "/house"});
    client.open(pack, text);
    CHECK(client.told(pack, "house-length").size() == 1);
    client.open(rules, house_rule);
    std::string longer = replaced(house_rule, "half_length <= 2 m", "half_length <= 3 m");
    longer = replaced(replaced(longer, "\"4 m\"", "\"6 m\""), "\"4.1 m\"", "\"6.1 m\"");
    client.change(rules, longer);
    client.settle();
    CHECK(client.told(pack, "house-length").empty());
    CHECK(client.told(rules, "input").empty());
    client.change(rules, longer + "[rule.broken\n");
    client.settle();
    CHECK_FALSE(client.told(rules, "input").empty());
    CHECK(client.told(pack, "house-length").empty());
    client.close(rules);
    CHECK(client.told(rules, "input").empty());
    CHECK(client.told(pack, "house-length").size() == 1);
    Client other({folder.path + "/absent"});
    other.open(pack, text);
    CHECK(other.shown.size() == 1);
}
