// A small vocabulary of this folder's own, with one field of every form, and the way from text to model.
// Numbers in it are invented.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "engine/document/parts.hpp"
#include "engine/model/build_model.hpp"

namespace packproof::testing {

[[nodiscard]] model::Vocabulary small_vocabulary();

/// A description, what was said of it and what became of it. Not movable: the model points into it.
struct Built {
    explicit Built(const std::string& text, const std::string& parts = {});
    /// From a file, with the name under which messages show its folder.
    static std::unique_ptr<Built> from_file(const std::string& path);

    model::Vocabulary vocabulary;
    text::Sources sources;
    text::Messages messages;
    std::optional<document::Description> description;
    std::optional<model::Model> model;

    [[nodiscard]] std::string said() const;
    /// Every item as "kind id", active ones only.
    [[nodiscard]] std::string items() const;
    [[nodiscard]] model::ItemIndex item(std::string_view id) const;
    [[nodiscard]] const model::Slot* slot(std::string_view id, std::string_view field) const;
    /// A slot in one line: "2500 (1625 .. 3375) stated" in SI units; "absent" if there is none.
    [[nodiscard]] std::string value(std::string_view id, std::string_view field) const;
    [[nodiscard]] std::string_view under(text::Span span) const;

  private:
    Built() = default;
    void build();
};

}  // namespace packproof::testing
