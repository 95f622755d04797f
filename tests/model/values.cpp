// From text to typed values. SI values are worked out beside each.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/model/small_vocabulary.hpp"

using packproof::testing::Built;

namespace {

std::string cell(const std::string& line, const char* field) {
    return Built("[cell]\n" + line + "\n").value("cell", field);
}

std::string said(const std::string& text) {
    return Built(text).said();
}

}  // namespace

TEST_CASE("a quantity has its tolerance, in SI units") {
    CHECK(cell("thickness = \"12 mm\"", "thickness") == "0.012");
    CHECK(cell("thickness = \"72.0 ± 0.5 mm\"", "thickness") == "0.072 (0.0715 .. 0.0725)");
    CHECK(cell("capacity = \"280 Ah\"", "capacity") == "1008000");  // 280 A · 3600 s
    CHECK(cell("thickness = \"~ 70 mm\"", "thickness") == "0.07 guess");
}

TEST_CASE("a slot keeps how and where it was written") {
    const Built built(
        "[cell]\nthickness = \"72.0 ± 0.5 mm\"\nvented = true\n[fixture]\nbolts = 4\nnut_factor = 0.2\n");
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.slot("cell", "thickness")->written == "72.0 ± 0.5 mm");
    CHECK(built.under(built.slot("cell", "thickness")->span) == "\"72.0 ± 0.5 mm\"");
    CHECK(built.slot("cell", "thickness")->unit.symbol == "mm");
    CHECK(built.slot("cell", "vented")->written == "true");
    CHECK(built.slot("fixture", "bolts")->written == "4");
    CHECK(built.slot("fixture", "nut_factor")->written == "0.2");
}

TEST_CASE("the open end of a one-sided quantity is where its field ends") {
    // More than 0 mΩ, at most 0.25 mΩ = 0.00025 Ω; no upper bound is declared.
    CHECK(cell("resistance = \"<= 0.25 mΩ\"", "resistance") == "0.00025 (0 .. 0.00025)");
    CHECK(cell("resistance = \">= 0.25 mΩ\"", "resistance") == "0.00025 (0.00025 .. inf)");
    CHECK(Built("[fixture]\nshare = \">= 40 %\"\n").value("fixture", "share") == "0.4 (0.4 .. 1)");
    CHECK(Built("[fixture]\nshare = \"<= 40 %\"\n").value("fixture", "share") == "0.4 (0 .. 0.4)");
}

TEST_CASE("a permitted range keeps an absent end open") {
    CHECK(cell("clamp_force = \"2.5 .. 3.5 kN\"", "clamp_force") == "[2500] to [3500]");
    CHECK(cell("clamp_force = \"<= 3.5 kN\"", "clamp_force") == "[-inf] to [3500]");
    CHECK(cell("temperature = \"0 .. 55 °C\"", "temperature") == "[273.15] to [328.15]");
}

TEST_CASE("counts, truths, texts, choices and dates are read as what they are") {
    CHECK(Built("[pack]\nseries = 16\n").value("pack", "series") == "16");
    CHECK(cell("vented = true", "vented") == "yes");
    CHECK(cell("vented = false", "vented") == "no");
    CHECK(cell("terminal_thread = \"M6\"", "terminal_thread") == "M6");
    CHECK(cell("chemistry = \"LFP\"", "chemistry") == "LFP");
    CHECK(Built("[conductor]\nmade = 2024-02-29\n").value("conductor", "made") == "2024-02-29");
    CHECK(Built("[conductor]\nmade = \"2024-02-29\"\n").value("conductor", "made") == "2024-02-29");
}

TEST_CASE("days that the calendar does not have are refused") {
    // 2100 is no leap year, 2000 is (Gregorian rule).
    for (const char* day : {"2023-02-29", "2100-02-29", "2024-13-01", "2024-00-10", "2024-04-31", "2024-1-31",
                            "31.12.2024", "2024-04-00"})
        CHECK_MESSAGE(
            said("[conductor]\nmade = \"" + std::string(day) + "\"\n").find("is not a date for made") !=
                std::string::npos,
            day);
    CHECK(said("[conductor]\nmade = \"2000-02-29\"\n").empty());
    CHECK(said("[conductor]\nmade = 2024-02-29T10:00:00\n")
              .find("wants a day such as 2026-01-31, without a time") != std::string::npos);
}

TEST_CASE("asked and none are said of every form") {
    for (const char* line : {"series", "name", "practice", "ambient", "indoors"}) {
        CHECK(Built("[pack]\n" + std::string(line) + " = \"?\"\n").value("pack", line) == "missing asked");
        CHECK(Built("[pack]\n" + std::string(line) + " = \"none\"\n").value("pack", line) == "none");
    }
    for (const char* line : {"from", "made", "section"}) {
        CHECK(Built("[conductor]\n" + std::string(line) + " = \"?\"\n").value("conductor", line) ==
              "missing asked");
        CHECK(Built("[conductor]\n" + std::string(line) + " = \"none\"\n").value("conductor", line) ==
              "none");
    }
    CHECK(cell("clamp_force = \"none\"", "clamp_force") == "none");
    CHECK(Built("[joint]\nlayers = \"none\"\n").value("joint", "layers") == "none");
}

TEST_CASE("a rate multiplies the field that it belongs to") {
    // 0.5 per hour of 280 A·h is 140 A; of 100 A·h 50 A.
    CHECK(cell("capacity = \"280 Ah\"\ncharge_current = \"0.5C\"", "charge_current") == "140");
    const Built built(
        "[cell.a]\ncapacity = \"280 Ah\"\ncharge_current = \"0.5C\"\n[cell.b]\nlike = \"a\"\ncapacity = "
        "\"100 Ah\"\n");
    CHECK(built.value("b", "charge_current") == "50");
    CHECK(built.slot("b", "charge_current")->unit.symbol == "A");
    CHECK(built.slot("b", "charge_current")->written == "0.5C");
    // Permitted up to 1C of 280 A·h ± 5 %: the end itself is in doubt, 266 A to 294 A.
    CHECK(cell("capacity = \"280 Ah ± 5 %\"\ndischarge_current = \"<= 1C\"", "discharge_current") ==
          "[-inf] to [266 .. 294]");
    CHECK(cell("charge_current = \"0.5C\"", "charge_current") == "missing");
    CHECK(cell("capacity = \"?\"\ncharge_current = \"0.5C\"", "charge_current") == "missing");
    CHECK(cell("capacity = \"none\"\ncharge_current = \"0.5C\"", "charge_current") == "missing");
    CHECK(cell("capacity = \"280 Ah\"\ncharge_current = \"140 A\"", "charge_current") == "140");
    // What a guess is multiplied with is a guess.
    CHECK(cell("capacity = \"~ 280 Ah\"\ncharge_current = \"0.5C\"", "charge_current") == "140 guess");
}

TEST_CASE("what the vocabulary assumes stands where nothing is said, and only there") {
    const Built built("[pack]\n[fixture]\n");
    CHECK(built.value("pack", "parallel") == "1 assumed");
    CHECK(built.value("pack", "indoors") == "yes assumed");
    CHECK(built.value("pack", "practice") == "iec|nec|marine assumed");
    CHECK(built.value("pack", "ambient") == "293.15 (278.15 .. 308.15) assumed");  // 20 °C, 5 °C, 35 °C
    CHECK(built.value("fixture", "nut_factor") == "0.23 (0.15 .. 0.31) assumed recalled");
    CHECK(built.slot("fixture", "nut_factor")->written == "0.15 .. 0.31");
    CHECK(built.slot("fixture", "nut_factor")->span == packproof::text::Span{});
    CHECK(built.value("pack", "series") == "absent");
    CHECK(Built("[fixture]\nnut_factor = \"?\"\n").value("fixture", "nut_factor") == "missing asked");
    CHECK(Built("[fixture]\nnut_factor = \"none\"\n").value("fixture", "nut_factor") == "none");
    CHECK(Built("[pack]\npractice = \"nec\"\n").value("pack", "practice") == "nec");
}

TEST_CASE("a vocabulary that nobody prepared gives the same defaults") {
    Built built("[pack]\n[fixture]\n");
    packproof::model::Vocabulary plain = built.vocabulary;
    for (auto& kind : plain.kinds)
        for (auto& field : kind.fields)
            field.assumed.reset();
    packproof::text::Messages messages;
    const std::string before = built.value("fixture", "nut_factor") + built.value("pack", "ambient") +
                               built.value("pack", "indoors");
    built.model = build_model(*built.description, plain, built.sources, messages);
    REQUIRE(built.model);
    CHECK(built.value("fixture", "nut_factor") + built.value("pack", "ambient") +
              built.value("pack", "indoors") ==
          before);
}

TEST_CASE("a default that cannot be is an error at its field when the vocabulary is prepared") {
    const auto prepared = [](packproof::model::Field::Form form, const char* unit, const char* value) {
        packproof::model::Vocabulary vocabulary;
        packproof::model::Kind kind;
        kind.name = "cell";
        packproof::model::Field field;
        field.name = "x";
        field.form = form;
        field.unit = *packproof::units::read_unit(unit);
        field.choices = {"a", "b"};
        field.assume = value;
        kind.fields.push_back(field);
        vocabulary.kinds.push_back(kind);
        packproof::text::Messages messages;
        prepare(vocabulary, messages);
        return messages.error_count();
    };
    using Form = packproof::model::Field::Form;
    CHECK(prepared(Form::quantity, "mm", "3 mm") == 0);
    CHECK(prepared(Form::quantity, "mm", "3 A") == 1);
    CHECK(prepared(Form::quantity, "mm", "-3 mm") == 1);
    CHECK(prepared(Form::choice, "mm", "a") == 0);
    CHECK(prepared(Form::choice, "mm", "c") == 1);
    CHECK(prepared(Form::count, "mm", "3") == 0);
    CHECK(prepared(Form::count, "mm", "3.5") == 1);
    CHECK(prepared(Form::truth, "mm", "true") == 0);
    CHECK(prepared(Form::truth, "mm", "yes") == 1);
    CHECK(prepared(Form::reference, "mm", "main") == 1);
}

TEST_CASE("references lead to items and to points on them") {
    const Built built(
        "[conductor.c]\nfrom = \"main.load\"\nto = \"bar\"\n[breaker.main]\n[busbar.bar]\n[joint]\nlayers = "
        "[\"bar\", \"c\", \"bar\"]\n");
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("c", "from") == "-> main.load");
    CHECK(built.value("c", "to") == "-> bar");
    CHECK(built.value("joint", "layers") == "-> bar c bar");
    CHECK(Built("[joint]\nlayers = \"bar\"\n[busbar.bar]\n").value("joint", "layers") == "-> bar");
    CHECK(Built("[joint]\nlayers = []\n").value("joint", "layers") == "->");
}

TEST_CASE("sources name documents, for an item or for one field") {
    const Built built(
        "[document.sheet]\ngrade = \"maker\"\n[document.bench]\ngrade = \"measured\"\n"
        "[cell]\nsource = \"sheet, p. 3\"\ncapacity = \"280 Ah\"\n"
        "[conductor.c]\nlength = \"1 m\"\nsection = \"50 mm²\"\nsource.length = \"bench, reading 2\"\n");
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("cell", "capacity") == "1008000 by sheet");
    CHECK(built.value("c", "length") == "1 measured by bench");
    CHECK(built.value("c", "section") == "5e-05");
    CHECK(built.slot("c", "length")->value.basis.measured);
}

TEST_CASE("types say what a field gives") {
    const auto vocabulary = packproof::testing::small_vocabulary();
    const auto name = [&](const char* kind, const char* field) {
        const auto& found = vocabulary.kinds[*vocabulary.kind(kind)];
        return type_name(found.fields[*found.field(field)].type(), vocabulary);
    };
    CHECK(name("cell", "thickness") == "a number in mm");
    CHECK(name("cell", "clamp_force") == "a permitted range in N");
    CHECK(name("cell", "temperature") == "a permitted range of temperature");
    CHECK(name("pack", "ambient") == "a temperature");
    CHECK(name("pack", "series") == "a number");
    CHECK(name("pack", "indoors") == "true or false");
    CHECK(name("pack", "practice") == "text");
    CHECK(name("conductor", "made") == "text");
    CHECK(name("conductor", "from") == "an item of breaker or busbar");
    CHECK(name("joint", "layers") == "items of conductor or busbar");
    CHECK(name("claim", "item") == "an item of any kind");
}
