#include "engine/report/schema.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "engine/rules/built_in.hpp"

using namespace packproof;
using Json = nlohmann::json;

namespace {

// Every $ref below a value, by RFC 6901.
void check_references(const Json& value, const Json& root, std::size_t& count) {
    if (value.is_object() && value.contains("$ref")) {
        const std::string target = value["$ref"].get<std::string>().substr(1);
        CAPTURE(target);
        CHECK(root.contains(Json::json_pointer(target)));
        ++count;
    }
    for (const Json& child : value)
        if (child.is_structured()) check_references(child, root, count);
}

}  // namespace

TEST_CASE("the schema has every kind with every field, and its references lead somewhere") {
    const rules::RuleSet set = rules::built_in_rules();
    const Json schema = Json::parse(report::print_schema(set.vocabulary));
    std::size_t fields = 0;
    for (const model::Kind& kind : set.vocabulary.kinds) {
        CAPTURE(kind.name);
        REQUIRE(schema["properties"].contains(kind.name));
        CHECK_FALSE(schema["definitions"][kind.name + ".ID"]["additionalProperties"].get<bool>());
        for (const model::Field& field : kind.fields) {
            CAPTURE(field.name);
            CHECK(schema["properties"][kind.name]["properties"].contains(field.name));
            CHECK(schema["definitions"][kind.name + ".ID"]["properties"].contains(field.name));
            ++fields;
        }
    }
    std::size_t references = 0;
    check_references(schema, schema, references);
    CHECK(references >= 2 * (fields - set.vocabulary.kinds.size()));
    CHECK(schema["properties"].size() == set.vocabulary.kinds.size() + 4);  // format, parts, extends, drop
}

TEST_CASE(
    "what a schema can say of a field's bounds and words it says, and words of strangers are harmless") {
    model::Vocabulary vocabulary;
    model::Kind kind;
    kind.name = "thing";
    kind.single = true;
    kind.about = "a \u202Ething\u009B</script>";
    model::Field count;
    count.name = "count";
    count.form = model::Field::Form::count;
    count.least = 1;
    count.most = 9;
    model::Field word;
    word.name = "word";
    word.form = model::Field::Form::choice;
    word.choices = {"none", "a \"b\""};
    kind.fields = {count, word};
    vocabulary.kinds = {kind};
    const std::string text = report::print_schema(vocabulary);
    CHECK(text.find("\u202E") == std::string::npos);
    CHECK(text.find("\u009B") == std::string::npos);
    const Json schema = Json::parse(text);
    CHECK(schema["properties"]["thing"]["description"] == kind.about);
    CHECK(schema["definitions"]["thing.count"]["minimum"] == 1);
    CHECK(schema["definitions"]["thing.count"]["maximum"] == 9);
    CHECK(schema["definitions"]["thing.word"]["enum"] == Json({"none", "a \"b\"", "?"}));
    CHECK(report::print_schema(vocabulary) == text);
}
