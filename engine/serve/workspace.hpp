// The texts that are open in an editor, what was found in each, and the rules in force. Nothing is inspected
// before somebody asks or settle() is called, so that of many changes in a row only the last costs anything.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/serve/inspected.hpp"
#include "engine/serve/rule_texts.hpp"

namespace packproof::serve {

class Workspace {
  public:
    /// Rules of `rule_folders` come on top of `built_in`, open texts below them instead of those on disk.
    Workspace(rules::RuleSet built_in, std::vector<std::string> rule_folders,
              std::vector<std::string> libraries);

    void set_encoding(Encoding encoding) { encoding_ = encoding; }
    [[nodiscard]] Encoding encoding() const { return encoding_; }

    void open(const std::string& uri, std::optional<std::int64_t> version, std::string text);
    /// False: no such text is open.
    bool change(const std::string& uri, std::optional<std::int64_t> version, std::string text);
    void close(const std::string& uri);
    /// Files on disk may have changed.
    void files_changed();

    /// Brings everything up to date and gives what changed since the last time: by URI, all that is to be
    /// told there.
    [[nodiscard]] std::vector<Publication> settle();
    /// What a rule folder has wrong that stands in no file; since the last time.
    [[nodiscard]] std::vector<std::string> take_troubles();

    [[nodiscard]] const OpenText* text(const std::string& uri) const;
    [[nodiscard]] const std::vector<OpenText>& texts() const { return texts_; }
    [[nodiscard]] bool is_rule_text(const OpenText& text) const;

    /// These bring up to date what they give. The inspection of the text or of one that reads it; null: none.
    [[nodiscard]] const Inspected* inspected(const OpenText& text);
    /// Everything that was told of a text, and of others that fixes in this text belong to.
    [[nodiscard]] std::vector<Told> told_at(const OpenText& text);
    /// The rules with those of a rule text (null: those in force), and where their names stand.
    [[nodiscard]] const RuleTexts& rules_of(const OpenText* text);
    /// Items known of a text or of those that it is read with, also from the last state without mistakes.
    [[nodiscard]] std::vector<KnownItem> items_of(const OpenText& text);

  private:
    struct Found {
        std::unique_ptr<Inspected> description;
        std::unique_ptr<RuleTexts> rules;
        std::unique_ptr<RuleTexts> sound_rules;  ///< the last that had no mistakes, where `rules` has some
        std::vector<KnownItem> items;            ///< of the last state without mistakes
        std::vector<Told> told;
    };
    void touch(const std::string& path);
    void update();
    [[nodiscard]] bool is_description(const OpenText& text) const;
    [[nodiscard]] bool below_rule_folders(const std::string& path) const;
    [[nodiscard]] bool is_read(const OpenText& text) const;
    void update_description(const OpenText& text, Found& found);
    void update_other(const OpenText& text, Found& found);
    std::map<std::string, std::vector<Told>> everything() const;

    rules::RuleSet built_in_;
    std::vector<std::string> rule_folders_;
    std::vector<std::string> rule_roots_;  ///< those folders with links resolved, each with a slash
    std::vector<std::string> libraries_;
    facts::SolverMemory memory_;  ///< most keys leave most solvers what they had
    Encoding encoding_ = Encoding::utf16;
    std::vector<OpenText> texts_;
    std::unique_ptr<RuleTexts> rules_;   ///< in force
    std::unique_ptr<RuleTexts> faulty_;  ///< what the folders hold now, if it cannot be loaded
    bool rules_stale_ = true;
    std::map<std::string, Found> found_;  ///< by URI; absent: to be made
    std::map<std::string, std::pair<std::optional<std::int64_t>, std::vector<Told>>> published_;
    std::vector<std::string> troubles_;
};

}  // namespace packproof::serve
