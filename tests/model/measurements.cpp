// Readings of a field: combined to its measured value, and compared with what papers state.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/model/small_vocabulary.hpp"

using packproof::model::Origin;
using packproof::testing::Built;

namespace {

/// Readings as they stand in the description, quotes and brackets included.
std::string measurement(const std::string& id, const std::string& item, const std::string& field,
                        const std::string& readings, const std::string& more = "") {
    return "[measurement." + id + "]\nitem = \"" + item + "\"\nfield = \"" + field +
           "\"\nreadings = " + readings + "\n" + more;
}

const char* const caliper = "[instrument.caliper]\nuncertainty = \"0.03 mm\"\nresolution = \"0.01 mm\"\n";
const char* const with_caliper = "instrument = \"caliper\"\n";

struct Ends {
    double low;
    double nominal;
    double high;
};

Ends ends(const Built& built, std::string_view item, std::string_view field) {
    REQUIRE_MESSAGE(built.model, built.said());
    const auto* slot = built.slot(item, field);
    REQUIRE(slot != nullptr);
    const auto* number = slot->value.number();
    REQUIRE(number != nullptr);
    return {number->range.low, number->nominal, number->range.high};
}

std::string error_of(const std::string& text) {
    const Built built(text);
    CHECK_FALSE(built.model);
    return built.said();
}

}  // namespace

// JCGM 100:2008, 4.4.3 and table 1: twenty readings of a temperature, mean 100.145 °C, s of the mean 0.333
// °C. Table G.2: t_95 of 19 degrees of freedom is 2.09 (2.093 to more digits, recalled).
TEST_CASE("twenty readings become their mean with its expanded uncertainty") {
    const Built built(
        "[pack]\n" +
        measurement(
            "air", "pack", "ambient",
            "[\"96.90 °C\", \"98.18 °C\", \"98.25 °C\", \"98.61 °C\", \"99.03 °C\", \"99.49 °C\",\n"
            "\"99.56 °C\", \"99.74 °C\", \"99.89 °C\", \"100.07 °C\", \"100.33 °C\", \"100.42 °C\",\n"
            "\"100.68 °C\", \"100.95 °C\", \"101.11 °C\", \"101.20 °C\", \"101.57 °C\", \"101.84 °C\",\n"
            "\"102.36 °C\", \"102.72 °C\"]"));
    const Ends found = ends(built, "pack", "ambient");
    CHECK(found.nominal - 273.15 == doctest::Approx(100.145).epsilon(0.5e-3 / 100.0));
    CHECK(found.high - found.nominal == doctest::Approx(2.093 * 0.333).epsilon(2e-3));
    CHECK(found.nominal - found.low == doctest::Approx(found.high - found.nominal));
    const auto* slot = built.slot("pack", "ambient");
    CHECK(slot->origin == Origin::measured);
    CHECK(slot->value.basis.measured);
    CHECK(slot->written == "(100.145 ± 0.7) °C");
    const auto* readings = built.model->readings_of(*slot);
    REQUIRE(readings != nullptr);
    CHECK(readings->readings == 20);
    CHECK(readings->measurement == built.item("air"));
    CHECK(readings->instrument == packproof::model::no_item);
    CHECK(built.value("air", "taken") == "20");
}

// JCGM 100, 4.3.7 and F.2.2.1: rectangular limits of ± 0.03 mm are 0.03/√3, a digit of 0.01 mm is 0.005/√3;
// the normal factor for 95 % is 1.960 (table G.2).
TEST_CASE("one reading has the uncertainty of its instrument") {
    const Built built("[cell.c]\n" + std::string(caliper) +
                      measurement("m", "c", "thickness", "\"71.62 mm\"", with_caliper));
    const Ends found = ends(built, "c", "thickness");
    CHECK(found.nominal == doctest::Approx(71.62e-3));
    const double standard = std::sqrt(0.03 * 0.03 / 3.0 + 0.005 * 0.005 / 3.0) * 1e-3;
    CHECK(found.high - found.nominal == doctest::Approx(1.95996 * standard).epsilon(1e-5));
    CHECK(built.model->measured.at(0).instrument == built.item("caliper"));
    CHECK(built.under(built.slot("c", "thickness")->span) == "\"71.62 mm\"");
}

// s of 71.60, 71.62, 71.64 is 0.02 mm, of their mean 0.02/√3 with 2 degrees of freedom. Welch-Satterthwaite
// (JCGM 100, G.2b): ν = 2 (u_c/u_A)^4, here 2 (1 + 0.03²/0.02²)² = 2 · 3.25² = 21.125, so 21: t_95
// = 2.080 (table G.2: 2.09 for 20, 2.07 for 22 recalled).
TEST_CASE("scatter and instrument are combined with the effective degrees of freedom") {
    const Built built("[cell.c]\n[instrument.rule]\nuncertainty = \"0.03 mm\"\n" +
                      measurement("m", "c", "thickness", "[\"71.60 mm\", \"7.162 cm\", \"71.64 mm\"]",
                                  "instrument = \"rule\"\n"));
    const Ends found = ends(built, "c", "thickness");
    CHECK(found.nominal == doctest::Approx(71.62e-3));
    const double standard = std::sqrt(0.02 * 0.02 / 3.0 + 0.03 * 0.03 / 3.0) * 1e-3;
    CHECK(found.high - found.nominal == doctest::Approx(2.080 * standard).epsilon(3e-4));
}

TEST_CASE("a share of the reading and a size are one limit and add up") {
    // 0.5 % of 200 A and 1 A: half width 2 A, rectangular.
    const Built built(
        "[breaker.b]\n[instrument.clamp]\nuncertainty = \"1 A\"\nuncertainty_share = \"0.5 %\"\n" +
        measurement("m", "b", "rated_current", "\"200 A\"", "instrument = \"clamp\"\n"));
    const Ends found = ends(built, "b", "rated_current");
    CHECK(found.high - found.nominal == doctest::Approx(1.95996 * 2.0 / std::sqrt(3.0)).epsilon(1e-5));
}

TEST_CASE(
    "without an instrument's uncertainty one reading counts as it is, several with their scatter alone") {
    for (const char* instrument : {"", "[instrument.i]\n", "[instrument.i]\nuncertainty = \"?\"\n",
                                   "[instrument.i]\nuncertainty = \"none\"\n"}) {
        const std::string uses = *instrument == '\0' ? "" : "instrument = \"i\"\n";
        const Built one("[cell.c]\n" + std::string(instrument) +
                        measurement("m", "c", "thickness", "\"71.62 mm\"", uses));
        REQUIRE_MESSAGE(one.model, one.said());
        CHECK(one.value("c", "thickness") == "0.07162 measured");
        CHECK(one.slot("c", "thickness")->written == "71.62 mm");
        // Two readings: s of the mean is half their difference; t_95 of 1 degree of freedom is 12.71 (table
        // G.2).
        const Built two("[cell.c]\n" + std::string(instrument) +
                        measurement("m", "c", "thickness", "[\"71.60 mm\", \"71.62 mm\"]", uses));
        const Ends found = ends(two, "c", "thickness");
        CHECK(found.high - found.nominal == doctest::Approx(12.71 * 0.01e-3).epsilon(1e-3));
    }
}

TEST_CASE("the measured value is cut to what the field can be") {
    const Built built("[cell.c]\n" + measurement("m", "c", "resistance", "[\"0.1 mΩ\", \"0.2 mΩ\"]"));
    const Ends found = ends(built, "c", "resistance");
    CHECK(found.low == 0.0);
    CHECK(found.nominal == doctest::Approx(0.15e-3));
    CHECK(found.high == doctest::Approx(0.15e-3 + 12.706 * 0.05e-3).epsilon(1e-4));
}

TEST_CASE("readings take the place of what is stated, by paper or none, and both are kept") {
    const std::string item = "[document.sheet]\ngrade = \"measured\"\n[cell.c]\nthickness = \"72.2 mm\"\n";
    for (const char* source : {"", "source = \"sheet\"\n"}) {
        const Built built(item + source + caliper +
                          measurement("m", "c", "thickness", "\"71.62 mm\"", with_caliper));
        CHECK(ends(built, "c", "thickness").nominal == doctest::Approx(71.62e-3));
        REQUIRE(built.model->conflicts.size() == 1);
        const auto& conflict = built.model->conflicts[0];
        CHECK_FALSE(conflict.agree);
        REQUIRE(conflict.sides.size() == 2);
        CHECK(conflict.sides[0].measurement == built.item("m"));
        CHECK(conflict.speaks[0]);
        CHECK(conflict.sides[1].written == "72.2 mm");
        CHECK_FALSE(conflict.speaks[1]);
        CHECK(built.value("m", "agrees") == "no");
    }
}

TEST_CASE("readings agree where the difference lies within both tolerances") {
    const auto agrees = [](const std::string& stated, const std::string& readings) {
        const Built built("[cell.c]\nthickness = \"" + stated + "\"\n" + caliper +
                          measurement("m", "c", "thickness", readings, with_caliper));
        REQUIRE_MESSAGE(built.model, built.said());
        return built.value("m", "agrees");
    };
    // The caliper's expanded uncertainty is 0.0344 mm (see above).
    CHECK(agrees("71.65 mm", "\"71.62 mm\"") == "yes");
    CHECK(agrees("71.66 mm", "\"71.62 mm\"") == "no");
    CHECK(agrees("71.8 ± 0.15 mm", "\"71.62 mm\"") == "yes");
    CHECK(agrees("71.8 ± 0.14 mm", "\"71.62 mm\"") == "no");
}

TEST_CASE("nothing stated is nothing to agree with") {
    for (const char* stated : {"", "thickness = \"?\"\n"}) {
        const Built built("[cell.c]\n" + std::string(stated) +
                          measurement("m", "c", "thickness", "\"71.62 mm\""));
        REQUIRE_MESSAGE(built.model, built.said());
        CHECK(built.value("c", "thickness") == "0.07162 measured");
        CHECK(built.value("m", "agrees") == "absent");
        CHECK(built.value("m", "tolerance_taken") == "absent");
        CHECK(built.model->conflicts.empty());
    }
}

TEST_CASE("how much of the stated tolerance the uncertainty takes") {
    const Built built("[cell.c]\nthickness = \"71.65 ± 0.0688 mm\"\n" + std::string(caliper) +
                      measurement("m", "c", "thickness", "\"71.62 mm\"", with_caliper));
    const Ends found = ends(built, "m", "tolerance_taken");
    CHECK(found.nominal == doctest::Approx(0.0344 / 0.0688).epsilon(1e-3));
    for (const char* stated : {"71.62 mm", "<= 72 mm", ">= 70 mm"}) {
        const Built other("[cell.c]\nthickness = \"" + std::string(stated) + "\"\n" + caliper +
                          measurement("m", "c", "thickness", "\"71.62 mm\"", with_caliper));
        REQUIRE_MESSAGE(other.model, other.said());
        CHECK(other.value("m", "tolerance_taken") == "absent");
        CHECK(other.value("m", "agrees") == "yes");
    }
}

TEST_CASE("two measurements of one field give their hull, and contradict each other where they do not meet") {
    const Built built("[cell.c]\n" + measurement("m", "c", "thickness", "\"71.6 mm\"") +
                      measurement("n", "c", "thickness", "\"71.7 mm\""));
    CHECK(built.value("c", "thickness") == "0.0716 (0.0716 .. 0.0717) measured");
    CHECK(built.value("m", "agrees") == "no");
    CHECK(built.value("n", "agrees") == "no");
    CHECK_FALSE(built.model->conflicts.at(0).agree);
}

TEST_CASE("papers that agree with each other are not blamed for what was measured") {
    const Built built(
        "[document.sheet]\ngrade = \"maker\"\n[document.drawing]\ngrade = \"supplier\"\n"
        "[cell.c]\nthickness = \"72 mm\"\nsource = \"sheet\"\n"
        "[claim.x]\nitem = \"c\"\nfield = \"thickness\"\nvalue = \"72 mm\"\nsource = \"drawing\"\n" +
        measurement("m", "c", "thickness", "\"71.6 mm\""));
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("x", "agrees") == "yes");
    CHECK(built.value("m", "agrees") == "no");
    CHECK(built.value("c", "thickness") == "0.0716 measured");
    CHECK(built.model->conflicts.at(0).sides.size() == 3);
}

TEST_CASE("what is no quantity is read once and taken as it is") {
    const Built built(
        "[breaker.b]\n[busbar.r]\n[cell.c]\n[conductor.w]\n" + measurement("a", "b", "poles", "2") +
        measurement("b2", "b", "polarity", "[\"marked\"]") + measurement("d", "c", "vented", "\"true\"") +
        measurement("e", "c", "clamp_force", "\"2 .. 3 kN\"") +
        measurement("f", "c", "terminal_thread", "\"M6\"") + measurement("g", "w", "protected_by", "\"b\"") +
        measurement("h", "w", "made", "2026-01-31"));
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("b", "poles") == "2 measured");
    CHECK(built.value("b", "polarity") == "marked measured");
    CHECK(built.value("c", "vented") == "yes measured");
    CHECK(built.value("c", "clamp_force") == "[2000] to [3000] measured");
    CHECK(built.value("c", "terminal_thread") == "M6 measured");
    CHECK(built.value("w", "protected_by") == "-> b measured");
    CHECK(built.value("w", "made") == "2026-01-31 measured");
    CHECK(built.value("a", "taken") == "absent");
    CHECK(error_of("[cell.c]\n" + measurement("e", "c", "clamp_force", "\"3 kN\""))
              .find("is a permitted range") != std::string::npos);
    const std::string said = error_of("[breaker.b]\n" + measurement("a", "b", "poles", "[2, 2]") +
                                      measurement("z", "b", "polarity", "[\"marked\", \"marked\"]"));
    CHECK(said.find("pack.toml:5:16: error: poles is read once: it is a whole number") != std::string::npos);
    CHECK(said.find("pack.toml:9:23: error: polarity is read once") != std::string::npos);
}

TEST_CASE("open readings are asked for; those that stand beside them count") {
    const Built asked("[cell.c]\nthickness = \"72 mm\"\n" + measurement("m", "c", "thickness", "\"?\"") +
                      measurement("n", "c", "capacity", "[\"?\", \"?\"]") +
                      measurement("o", "c", "resistance", "\"none\""));
    REQUIRE_MESSAGE(asked.model, asked.said());
    CHECK(asked.value("c", "thickness") == "0.072");
    CHECK(asked.value("m", "readings") == "missing asked");
    CHECK(asked.value("n", "readings") == "missing asked");
    CHECK(asked.value("o", "readings") == "none");
    CHECK(asked.value("c", "capacity") == "absent");
    CHECK(asked.value("c", "resistance") == "absent");
    CHECK(asked.value("m", "taken") == "absent");
    const Built half("[cell.c]\n" + measurement("m", "c", "thickness", "[\"71.6 mm\", \"?\"]"));
    CHECK(half.value("c", "thickness") == "0.0716 measured");
    CHECK(half.value("m", "taken") == "1");
}

TEST_CASE("what starts from an item takes over what was measured of it") {
    const Built built("[cell.c]\n[cell.d]\nlike = \"c\"\n" +
                      measurement("m", "c", "thickness", "\"71.6 mm\""));
    CHECK(built.value("d", "thickness") == "0.0716 measured");
    CHECK(built.model->readings_of(*built.slot("d", "thickness")) != nullptr);
}

TEST_CASE("rates are measured in their own unit, and what they multiply may be measured") {
    const Built built("[cell.c]\ncapacity = \"280 Ah\"\ncharge_current = \"0.5C\"\n" +
                      measurement("m", "c", "capacity", "\"200 Ah\"") +
                      measurement("n", "c", "charge_current", "\"90 A\""));
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("c", "charge_current") == "90 measured");
    CHECK(built.value("n", "agrees") == "no");  // 0.5 / h of 200 Ah are 100 A
    CHECK(error_of("[cell.c]\ncapacity = \"280 Ah\"\n" + measurement("n", "c", "charge_current", "\"0.5C\""))
              .find("pack.toml:6:12: error: a reading of charge_current has its own unit and is no rate") ==
          0);
}

TEST_CASE("an instrument may start from another, and one from a parts file comes in where it is used") {
    const Built built("[cell.c]\n[instrument.mine]\npart = \"caliper\"\n" +
                          measurement("m", "c", "thickness", "\"71.62 mm\"", "instrument = \"mine\"\n"),
                      caliper);
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.slot("c", "thickness")->written == "(71.62 ± 0.035) mm");
    const Built used("[cell.c]\n" + measurement("m", "c", "thickness", "\"71.62 mm\"", with_caliper),
                     caliper);
    CHECK(used.items() == "cell c; measurement m; instrument caliper; ");
}

TEST_CASE("a measurement of a part that nothing uses does not bring it in") {
    const Built built("[pack]\n" + measurement("m", "c", "thickness", "\"71.62 mm\""), "[cell.c]\n");
    CHECK(built.items() == "pack pack; measurement m; ");
}

TEST_CASE("every reading that cannot be is an error at its place, all in one run") {
    const std::string said = error_of(
        "[cell.c]\n[breaker.b]\n" +
        measurement("m", "c", "thickness",
                    "[\"71.6 mm\", \"71.6\", \"71.6 kg\", \"-1 mm\", 71.6, \"71.6 ± 0.1 mm\", \"~ 71 mm\", "
                    "\"none\"]") +
        measurement("n", "b", "polarity", "\"markd\"") + measurement("o", "c", "temperature", "[]") +
        measurement("p", "c", "thicknes", "\"1 mm\"") + measurement("q", "d", "thickness", "\"1 mm\"") +
        "[measurement.r]\nitem = \"c\"\n");
    for (const char* part : {
             "pack.toml:6:25: error: ",
             "pack.toml:6:33: error: ",
             "pack.toml:6:43: error: a thickness of -1 mm makes no sense",
             "pack.toml:6:52: error: thickness is a bare number; its unit is missing",
             "pack.toml:6:58: error: a reading of thickness has no tolerance",
             "pack.toml:6:75: error: a reading of thickness is no guess",
             "pack.toml:6:86: error: a reading of thickness is a value or \"?\"",
             "pack.toml:10:13: error: polarity has no choice \"markd\"",
             "pack.toml:14:12: error: no reading of temperature stands here",
             "pack.toml:17:9: error: cell has no field \"thicknes\"",
             "pack.toml:20:9: error: there is no item \"d\"",
             "pack.toml:23:14: error: this measurement does not say its field and readings",
         })
        CHECK_MESSAGE(said.find(part) != std::string::npos, part, "\n", said);
    CHECK(error_of("[joint.j]\n" + measurement("m", "j", "layers", "\"x\"")).find("error: ") !=
          std::string::npos);
    CHECK(error_of("[cell.c]\n" + measurement("m", "c", "thickness", "\"1 mm\"") +
                   "[measurement.n]\nlike = \"m\"\n")
              .find("measurement is written out whole, without like") != std::string::npos);
}

TEST_CASE("an instrument of another dimension, or whose uncertainty is none, is an error") {
    const auto with = [](const std::string& instrument, const std::string& item, const std::string& field,
                         const std::string& reading) {
        return error_of(
            item + "[instrument.i]\n" + instrument + "\n" +
            measurement("m", item == "[pack]\n" ? "pack" : "c", field, reading, "instrument = \"i\"\n"));
    };
    CHECK(with("uncertainty = \"0.5 V\"", "[cell.c]\n", "thickness", "\"71.6 mm\"")
              .find("pack.toml:3:15: error: uncertainty of \"i\" for thickness: ") == 0);
    CHECK(with("resolution = \"1\"", "[cell.c]\n", "thickness", "\"71.6 mm\"")
              .find("pack.toml:3:14: error: resolution of \"i\" for thickness: ") == 0);
    CHECK(with("uncertainty = \"1 ± 1 mm\"", "[cell.c]\n", "thickness", "\"71.6 mm\"")
              .find("it is one size, not less than nothing") != std::string::npos);
    CHECK(with("uncertainty = \"-1 mm\"", "[cell.c]\n", "thickness", "\"71.6 mm\"")
              .find("it is one size, not less than nothing") != std::string::npos);
    CHECK(
        with("uncertainty_share = \"1 %\"", "[pack]\n", "ambient", "\"25 °C\"")
            .find(
                "pack.toml:8:14: error: uncertainty_share of \"i\" is a share of what it shows, which means "
                "nothing for a temperature") == 0);
    // A temperature's uncertainty is a difference: 1 °C is 1 K.
    const Built built("[pack]\n[instrument.i]\nuncertainty = \"1 °C\"\n" +
                      measurement("m", "pack", "ambient", "\"25 °C\"", "instrument = \"i\"\n"));
    const Ends found = ends(built, "pack", "ambient");
    CHECK(found.high - found.nominal == doctest::Approx(1.95996 / std::sqrt(3.0)).epsilon(1e-5));
}

TEST_CASE("a measurement of itself, or of what the engine fills in, ends") {
    const Built itself("[cell.c]\n" + measurement("m", "m", "date", "2026-01-31") +
                       measurement("n", "m", "taken", "3"));
    REQUIRE_MESSAGE(itself.model, itself.said());
    CHECK(itself.value("m", "date") == "2026-01-31 measured");
}

TEST_CASE("a thousand readings are combined in bounded time") {
    std::string readings = "[";
    for (int i = 0; i < 5000; ++i)
        readings += "\"" + std::to_string(70 + i % 3) + " mm\", ";
    const Built built("[cell.c]\n" + measurement("m", "c", "thickness", readings + "]"));
    CHECK(built.value("m", "taken") == "5000");
}
