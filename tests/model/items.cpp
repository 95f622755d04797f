// From text to items: which there are, where they stand, what they are called.
#include <doctest/doctest.h>

#include "tests/document/reading.hpp"
#include "tests/model/small_vocabulary.hpp"

using packproof::testing::Built;

TEST_CASE("a table of a kind with fields is the only item of its kind and bears the kind's name") {
    const Built built("[pack]\nseries = 16\n[cell]\ncapacity = \"280 Ah\"\n[fixture]\n");
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.items() == "pack pack; cell cell; fixture fixture; ");
    CHECK(built.under(built.model->items[1].span) == "cell");
}

TEST_CASE("tables below a kind are items with ids, in the order of the file") {
    const Built good(
        "[conductor.z]\n[busbar.m]\n[conductor.a]\nlength = \"1 m\"\n[breaker]\nb = { poles = 2 }\n");
    REQUIRE_MESSAGE(good.model, good.said());
    CHECK(good.items() == "conductor z; busbar m; conductor a; breaker b; ");
    CHECK(good.under(good.model->items[2].span) == "a");
    CHECK(good.model->items[0].position == 0);
    CHECK(good.model->items[1].position == 0);
    CHECK(good.model->items[2].position == 1);
    CHECK(good.model->of_kind[6] == std::vector<packproof::model::ItemIndex>{0, 2});
}

TEST_CASE("a single kind may have an id, but only one item") {
    CHECK(Built("[pack.mine]\nseries = 4\n").items() == "pack mine; ");
    CHECK(Built("[pack.mine]\n[pack.yours]\n").said() ==
          "pack.toml:2:7: error: there can be only one pack\npack.toml:2:7: note: take all but one out\n");
}

TEST_CASE("a single kind that is not mentioned is an item of which nothing is stated, unless there is none") {
    auto implied = [](const Built& built) {
        std::string kinds;
        for (const packproof::model::Item& item : built.model->items)
            if (!item.stated) kinds += built.vocabulary.kinds[item.kind].name + " ";
        return kinds;
    };
    const Built silent("[cell]\ncapacity = \"280 Ah\"\n");
    REQUIRE(silent.model);
    CHECK(implied(silent) == "pack fixture ");
    const Built none("fixture = \"none\"\n[cell]\ncapacity = \"280 Ah\"\n");
    REQUIRE(none.model);
    CHECK(implied(none) == "pack ");
    CHECK(none.model->of_kind[*none.vocabulary.kind("fixture")].empty());
}

TEST_CASE("items of a base come before those that a variant adds, and keep their order") {
    const packproof::testing::TemporaryFolder folder;
    folder.write("base.toml", "[cell.b]\ncapacity = \"1 Ah\"\n[busbar.x]\n[cell.a]\n");
    const auto path = folder.write(
        "variant.toml", "extends = \"base.toml\"\n[cell.new]\n[cell.a]\nlike = \"b\"\n[breaker.y]\n");
    const auto built = Built::from_file(path);
    REQUIRE_MESSAGE(built->model, built->said());
    CHECK(built->items() == "cell b; busbar x; cell a; cell new; breaker y; ");
    CHECK(built->value("a", "capacity") == "3600");
}

TEST_CASE("a description cut off or changed anywhere becomes a model or messages, never both or neither") {
    const std::string whole =
        "[pack]\nseries = 16\n[cell.c]\ncapacity = \"280 Ah\"\ncharge_current = \"0.5C\"\n[cell.d]\nlike = "
        "\"c\"\n"
        "[document.s]\ngrade = \"maker\"\n[claim.k]\nitem = \"c\"\nfield = \"capacity\"\nvalue = \"270 Ah\"\n"
        "source = \"s, p. 1\"\n[joint.j]\non = \"d\"\nlayers = [\"b\"]\n[busbar]\nb.width = \"20 ± 1 mm\"\n";
    const auto check = [](const std::string& text) {
        const Built built(text);
        CHECK((built.model.has_value() != built.messages.has_errors()));
        for (const auto& message : built.messages.sorted())
            if (message.span.source != packproof::text::no_source) CHECK(message.span.end <= text.size());
    };
    REQUIRE(Built(whole).model);
    for (std::size_t length = 0; length < whole.size(); ++length)
        check(whole.substr(0, length));
    for (std::size_t at = 0; at < whole.size(); ++at)
        for (char c : {'"', 'x', '.', '0', '-', '\n', '\\', '?'}) {
            std::string text = whole;
            text[at] = c;
            check(text);
        }
}

TEST_CASE("like copies what an item does not state, with the places of its origin") {
    const Built built(
        "[conductor.a]\nsection = \"50 mm²\"\nlength = \"1 m\"\nrated_voltage = \"?\"\n"
        "[conductor.b]\nlike = \"a\"\nlength = \"2 m\"\n[conductor.c]\nlike = \"b\"\nsection = \"70 mm²\"\n");
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("b", "section") == "5e-05");
    CHECK(built.value("b", "length") == "2");
    CHECK(built.value("b", "rated_voltage") == "missing asked");
    CHECK(built.value("c", "section") == "7e-05");
    CHECK(built.value("c", "length") == "2");
    CHECK(built.slot("b", "section")->span == built.slot("a", "section")->span);
    CHECK(built.under(built.slot("b", "section")->span) == "\"50 mm²\"");
}

TEST_CASE("like works in whatever order the items stand") {
    const Built built(
        "[conductor.c]\nlike = \"b\"\n[conductor.b]\nlike = \"a\"\n[conductor.a]\nlength = \"3 m\"\n");
    CHECK(built.value("c", "length") == "3");
}

TEST_CASE("a chain of like through thousands of items is followed without recursion") {
    std::string text = "[busbar.b0]\nmaterial = \"copper\"\n";
    for (int i = 1; i < 2000; ++i)
        text += "[busbar.b" + std::to_string(i) + "]\nlike = \"b" + std::to_string(i - 1) + "\"\n";
    const Built built(text);
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("b1999", "material") == "copper");
}

TEST_CASE("parts are active only where an active item leads to them") {
    const std::string parts =
        "[cell.used]\ncapacity = \"100 Ah\"\n[cell.unused]\n[breaker.first]\nbacked_up_by = \"second\"\n"
        "[breaker.second]\n[breaker.third]\nbacked_up_by = "
        "\"second\"\n[document.sheet]\n[busbar.copied]\nsource = \"sheet\"\nwidth = \"20 mm\"\n";
    const Built built(
        "[joint.j]\non = \"used\"\n[conductor.c]\nprotected_by = \"first\"\n[busbar.mine]\npart = "
        "\"copied\"\n",
        parts);
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.items() ==
          "joint j; conductor c; busbar mine; cell used; breaker first; breaker second; document sheet; ");
    CHECK(built.value("mine", "width") == "0.02 by sheet");
    CHECK(built.model->of_kind[7].size() == 2);
    CHECK(built.model->items[built.item("second")].position == 1);
    CHECK_FALSE(built.model->items[built.item("third")].active);
}

TEST_CASE("a reference that is absent and has one possible answer is assumed") {
    const Built built("[cell.c]\n[joint.j]\n[joint.k]\non = \"?\"\n");
    CHECK(built.value("j", "on") == "-> c assumed");
    CHECK(built.value("k", "on") == "missing asked");
    CHECK(Built("[cell.c]\n[cell.d]\n[joint.j]\n").value("j", "on") == "absent");
    CHECK(Built("[joint.j]\n").value("j", "on") == "absent");
    // A part that nothing uses does not count.
    CHECK(Built("[cell.c]\n[joint.j]\n", "[cell.d]\n").value("j", "on") == "-> c assumed");
}

TEST_CASE("a model may be moved: short texts stay what they were") {
    Built built(
        "[pack]\nname = \"x\\u00B1y\"\n[conductor.a]\nfrom = \"b.line\"\n[breaker.b]\n[cell.c]\n[joint.j]\n");
    REQUIRE_MESSAGE(built.model, built.said());
    packproof::model::Model moved = std::move(*built.model);
    built.model.reset();
    std::vector<packproof::model::Model> list;
    list.push_back(std::move(moved));
    list.reserve(10);
    built.model = std::move(list.front());
    list.clear();
    CHECK(built.value("pack", "name") == "x±y");
    CHECK(built.value("pack", "practice") == "iec|nec|marine assumed");
    CHECK(built.value("a", "from") == "-> b.line");
    CHECK(built.slot("j", "on")->written == "c");
}

TEST_CASE("too many items and too many copied values are refused once") {
    std::string many;
    for (int i = 0; i < 20'000; ++i)
        many += "[busbar.b" + std::to_string(i) + "]\n";
    CHECK(Built(many).said() == "pack.toml:2001:9: error: more than 2000 items in one description\n");

    std::string list = "[busbar.a]\n[joint.j0]\nlayers = [";
    for (int i = 0; i < 4000; ++i)
        list += "\"a\", ";
    list += "]\n";
    for (int i = 1; i < 1900; ++i)
        list += "[joint.j" + std::to_string(i) + "]\nlike = \"j0\"\n";
    const Built copies(list);
    CHECK(copies.messages.error_count() == 1);
    CHECK(copies.said().find("copies and defaults make more than 500000 values") != std::string::npos);
}
