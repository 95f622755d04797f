// The build sheet and its drawings: places worked out by hand, harmless words, nothing that fetches.
#include "engine/report/sheet.hpp"

#include <doctest/doctest.h>

#include "engine/report/content_policy.hpp"
#include "engine/report/drawing_labels.hpp"
#include "engine/report/drawing_svg.hpp"
#include "engine/text/safe_print.hpp"
#include "tests/inspect/yard.hpp"

using namespace packproof;
using inspect_test::Inspected;

namespace {

// Five ropes of 10 mm by 20 mm, 30 mm apart, two in a row, rows 50 mm apart, off by 4 mm to and fro.
const std::string loft =
    "[drawing.loft]\ntitle = \"The loft\"\nof = \"yard\"\nto_scale = true\n"
    "basis = [{ status = \"common practice\" }]\n"
    "[[drawing.loft.shape]]\nof = \"rope\"\nform = \"rectangle\"\nx = \"0 mm\"\ny = \"0 mm\"\n"
    "width = \"size\"\nheight = \"2 * size\"\nlabel = \"{number}\"\nvalue = \"pull\"\nadds_up = true\n"
    "times = \"strands\"\nin_row = \"2\"\nacross = \"3 * size\"\ndown = \"5 * size\"\n"
    "alternates = [\"4 mm\", \"-4 mm\"]\n"
    "[[drawing.loft.shape]]\nof = \"rope\"\nform = \"line\"\nx = \"0 mm\"\ny = \"0 mm\"\nto_next = true\n"
    "times = \"strands - 1\"\nin_row = \"2\"\nacross = \"3 * size\"\ndown = \"5 * size\"\n"
    "alternates = [\"4 mm\", \"-4 mm\"]\n";

const std::string ropes =
    "yard = { practice = \"north\" }\n[rope.a]\nsize = \"10 mm\"\npull = \"2 kN\"\nstrands = 5\n";

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

// By hand: rows of two led back, so the five stand at x 0, 30, 30, 0, 0 and y 0, 0, 50, 50, 100; off by +4,
// -4, then -4, +4, then nothing, for the third row has no figure.
TEST_CASE("repeated shapes stand where a hand puts them") {
    const Inspected yard({rules_test::vocabulary, loft}, ropes);
    REQUIRE_MESSAGE(yard.model, yard.trouble());
    const auto figures = inspect::draw(*yard.model, *yard.loaded.set);
    REQUIRE(figures.size() == 1);
    const auto& marks = figures[0].marks;
    REQUIRE(marks.size() == 9);
    const double x[] = {0.0, 0.03, 0.03, 0.0, 0.0};
    const double y[] = {0.004, -0.004, 0.046, 0.054, 0.1};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(marks[i].x == doctest::Approx(x[i]));
        CHECK(marks[i].y == doctest::Approx(y[i]));
        CHECK(marks[i].width == doctest::Approx(0.01));
        CHECK(marks[i].label == std::to_string(i + 1));
    }
    CHECK(marks[2].note == "6 kN");
    // Lines leave on the far side of each and reach the next where that stands.
    const double from_y[] = {-0.004, 0.004, 0.054, 0.046};
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(marks[5 + i].x == doctest::Approx(x[i]));
        CHECK(marks[5 + i].y == doctest::Approx(from_y[i]));
        CHECK(marks[5 + i].to_x == doctest::Approx(x[i + 1]));
        CHECK(marks[5 + i].to_y == doctest::Approx(y[i + 1]));
    }
}

TEST_CASE("what has no size is not drawn, and that is said") {
    const Inspected yard({rules_test::vocabulary, loft}, ropes + "[rope.b]\npull = \"1 kN\"\n");
    REQUIRE_MESSAGE(yard.model, yard.trouble());
    const auto figures = inspect::draw(*yard.model, *yard.loaded.set);
    CHECK(figures.at(0).left_out == std::vector<std::string>{"b"});
    CHECK(has(report::print_drawing(figures), "Not drawn, for a place, an end or a size is not known: b."));
}

TEST_CASE("a size that is only bounded is not drawn as if it were one") {
    const Inspected yard(
        {rules_test::vocabulary, loft},
        "yard = { practice = \"north\" }\n[rope.a]\nsize = \">= 10 mm\"\npull = \"2 kN\"\nstrands = "
        "5\n");
    REQUIRE_MESSAGE(yard.model, yard.trouble());
    const auto figures = inspect::draw(*yard.model, *yard.loaded.set);
    CHECK(figures.at(0).marks.empty());
    CHECK(figures.at(0).left_out == std::vector<std::string>{"a"});
}

TEST_CASE("too many to read are not drawn in part") {
    const Inspected yard(
        {rules_test::vocabulary, loft},
        "yard = { practice = \"north\" }\n[rope.a]\nsize = \"10 mm\"\npull = \"2 kN\"\nstrands = "
        "1000\n");
    REQUIRE_MESSAGE(yard.model, yard.trouble());
    const auto figures = inspect::draw(*yard.model, *yard.loaded.set);
    CHECK(figures.at(0).marks.empty());
    CHECK(has(report::print_drawing(figures), "Not drawn: 1000 of a kind"));
    CHECK(!has(report::print_drawing(figures), "to scale"));
}

// By hand: five posts 2 mm apart; "42 V" takes at least 4 mm at 8 points, so the second shape's labels have
// no room between the single signs of the first.
TEST_CASE("labels that would lie on others are left out, all of their shape, and that is said") {
    inspect::Figure figure;
    for (std::size_t shape = 0; shape < 2; ++shape)
        for (int i = 0; i < 5; ++i) {
            inspect::Mark mark;
            mark.form = rules::ShapeForm::text;
            mark.x = 0.002 * i;
            mark.label = shape == 0 ? "+" : "42 V";
            mark.shape = shape;
            figure.marks.push_back(mark);
        }
    const std::string svg = report::print_drawing(std::span(&figure, 1));
    CHECK(has(svg, ">+</text>"));
    CHECK(!has(svg, ">42 V</text>"));
    CHECK(has(svg, "No room here for labels such as 42 V"));
}

TEST_CASE("what fits the paper at no scale is not drawn, and that is said") {
    inspect::Figure figure;
    figure.to_scale = true;
    figure.marks.resize(1);
    figure.marks[0].width = figure.marks[0].height = 1e29;
    const std::string svg = report::print_drawing(std::span(&figure, 1));
    CHECK(!has(svg, "<rect"));
    CHECK(!has(svg, "to scale 1"));
    CHECK(has(svg, "fits the paper at no scale"));
}

TEST_CASE("a label is broken between values, and none is cut") {
    CHECK(report::label_lines("one of 2 piles; row 600.5 mm to 610.5 mm", 40) ==
          std::vector<std::string>{"one of 2 piles; row 600.5 mm to", "610.5 mm"});
    CHECK(report::shortened("piles of 600.5 mm to 610.5 mm", 24) == "piles of 600.5 mm to …");
}

// By hand: 604 mm in 138 mm of paper is 1 : 5, for 1 : 4 would take 151 mm.
TEST_CASE("the scale is the greatest that fits") {
    CHECK(report::scale_for(0.604, 0.404, {138.0, 84.0, ""}) == 5.0);
    CHECK(report::scale_for(0.1, 0.05, {138.0, 84.0, ""}) == 1.0);
    CHECK(report::scale_for(0.1, 0.085, {138.0, 84.0, ""}) == 2.0);
    CHECK(report::scale_for(3.0, 0.1, {138.0, 84.0, ""}) == 30.0);
    CHECK(report::scale_for(1e6, 0.1, {138.0, 84.0, ""}) == 0.0);
}

// By hand: 40 mm by 128 mm in 190 mm by 100 mm of paper is 1 : 2; 10 mm become 5 mm.
TEST_CASE("a millimetre of the view box is a millimetre of paper") {
    const Inspected yard({rules_test::vocabulary, loft}, ropes);
    REQUIRE_MESSAGE(yard.model, yard.trouble());
    const std::string svg = report::print_drawing(inspect::draw(*yard.model, *yard.loaded.set));
    CHECK(has(svg, "width=\"190mm\""));
    CHECK(has(svg, "viewBox=\"0 0 190 "));
    CHECK(has(svg, "to scale 1 : 2; bar 100 mm"));
    CHECK(has(svg, "width=\"5\" height=\"10\""));
    CHECK(has(svg, "role=\"img\""));
}

TEST_CASE("runs follow the items, each drawn once, rings too") {
    const std::string path =
        "[drawing.path]\ntitle = \"Path\"\nof = \"yard\"\nbasis = [{ status = \"common practice\" }]\n"
        "[[drawing.path.shape]]\nof = \"rope\"\nform = \"runs\"\nfrom = \"this\"\nto = \"hook\"\nlabel = "
        "\"{size}\"\nnote = \"{this}\"\n";
    const Inspected yard({rules_test::vocabulary, path},
                         "[hook.h]\nload = \"1 kN\"\n[rope.a]\nsize = \"6 mm\"\nhook = \"h\"\n"
                         "[rope.b]\nsize = \"8 mm\"\nhook = \"h\"\n[rope.c]\nsize = \"9 mm\"\n");
    REQUIRE_MESSAGE(yard.model, yard.trouble());
    const auto figures = inspect::draw(*yard.model, *yard.loaded.set);
    REQUIRE(figures.size() == 1);
    REQUIRE(figures[0].runs.size() == 2);
    CHECK(figures[0].runs[0].stops.at(1).name == "h");
    CHECK(figures[0].runs[1].legs.at(0).label == "8 mm");
    CHECK(figures[0].left_out == std::vector<std::string>{"c"});
}

TEST_CASE("no word of a stranger acts in the sheet or its drawing") {
    for (const std::string attack : {"<script>alert(1)</script>\"'&", "a\u202Eb\u2066c", "\x1b[2J",
                                     "x\u2028y", "</bdi></svg><img src=x>"}) {
        inspect::BuildSheet sheet;
        sheet.list.title = sheet.list.file = attack;
        sheet.list.stops = sheet.cautions = {attack};
        sheet.list.rules_version = sheet.list.rules_digest = sheet.list.input_digest = attack;
        inspect::SheetLine line;
        line.text = line.expects = line.doubt = line.found = line.stop = line.detail = line.brief = attack;
        for (const auto layout : {rules::SheetLayout::list, rules::SheetLayout::flow,
                                  rules::SheetLayout::table, rules::SheetLayout::beside})
            sheet.list.sheets.push_back({attack, attack, attack, {line}, attack, layout});
        inspect::Figure figure;
        figure.name = figure.title = figure.about = attack;
        inspect::Mark mark;
        mark.label = mark.note = attack;
        figure.marks = {mark};
        figure.runs = {{{{attack, attack, attack}, {attack, attack, attack}}, {{attack, attack}}}};
        sheet.figures = {figure};
        for (const std::string& page : {report::print_sheet(sheet), report::print_drawing(sheet.figures)}) {
            CHECK(!has(page, "<script"));
            CHECK(!has(page, "<img"));
            CHECK(!has(page, "\u202E"));
            CHECK(!has(page, "\u2028"));
            CHECK(!has(page, "\x1b"));
        }
    }
}

TEST_CASE("a long name is cut in a drawing, at a whole character") {
    inspect::Figure figure;
    std::string name;
    for (int i = 0; i < 60; ++i)
        name += "µ";
    figure.runs = {{{{name, "", "a"}, {"b", "c", ""}}, {{"x", name}}}};
    const std::string svg = report::print_drawing(std::span(&figure, 1));
    std::string kept;
    for (int i = 0; i < 39; ++i)
        kept += "µ";
    CHECK(has(svg, ">" + kept + "…</text>"));
    CHECK(!has(svg, kept + "µ"));
}

// The SHA-256 of "" in Base64, as widely printed for empty resources (recalled; openssl dgst -sha256 -binary
// </dev/null | base64 gives it).
TEST_CASE("the policy of a page names its style sheet by its digest") {
    CHECK(has(report::content_policy(""), "style-src 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"));
    CHECK(!has(report::content_policy(""), "script-src"));
    CHECK(has(report::content_policy("", "x"),
              "script-src 'sha256-LXEWQrcmsEQBYnyp+6wy9chTD7GQPMTbAiWHF5IaSIE='"));
}
