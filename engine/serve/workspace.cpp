#include "engine/serve/workspace.hpp"

#include <algorithm>
#include <tuple>

#include "engine/document/read_toml.hpp"
#include "engine/document/readings_file.hpp"
#include "engine/serve/cursor.hpp"
#include "engine/serve/uri.hpp"

namespace packproof::serve {

namespace {

void drop_repeats(std::vector<Told>& told) {
    std::stable_sort(told.begin(), told.end(), [](const Told& a, const Told& b) {
        return std::tie(a.at.extent.start, a.at.extent.end, a.severity, a.code, a.message) <
               std::tie(b.at.extent.start, b.at.extent.end, b.severity, b.code, b.message);
    });
    told.erase(std::unique(told.begin(), told.end(),
                           [](const Told& a, const Told& b) {
                               return a.at == b.at && a.code == b.code && a.message == b.message;
                           }),
               told.end());
}

std::vector<KnownItem> items_in(const model::Model& model) {
    std::vector<KnownItem> items;
    for (std::size_t i = 0; i < model.items.size(); ++i)
        if (model.items[i].stated)
            items.push_back({model.kind_of(static_cast<model::ItemIndex>(i)).name, model.items[i].id});
    return items;
}

bool same_folder(const std::string& a, const std::string& b) {
    return !a.empty() && a.substr(0, a.rfind('/')) == b.substr(0, b.rfind('/'));
}

}  // namespace

Workspace::Workspace(rules::RuleSet built_in, std::vector<std::string> rule_folders,
                     std::vector<std::string> libraries)
    : built_in_(std::move(built_in)),
      rule_folders_(std::move(rule_folders)),
      libraries_(std::move(libraries)) {
    for (const std::string& folder : rule_folders_)
        rule_roots_.push_back(real_path(folder) + "/");
    rules_ = std::make_unique<RuleTexts>();
    rules_->set = built_in_;
    rules_->sound = true;
}

const OpenText* Workspace::text(const std::string& uri) const {
    const auto found =
        std::find_if(texts_.begin(), texts_.end(), [&](const OpenText& one) { return one.uri == uri; });
    return found == texts_.end() ? nullptr : &*found;
}

void Workspace::open(const std::string& uri, std::optional<std::int64_t> version, std::string text) {
    if (change(uri, version, text)) return;
    const auto path = path_of_uri(uri);
    texts_.push_back({uri, path ? real_path(*path) : std::string(), version, std::move(text)});
    touch(texts_.back().path);
}

bool Workspace::change(const std::string& uri, std::optional<std::int64_t> version, std::string text) {
    const auto found =
        std::find_if(texts_.begin(), texts_.end(), [&](const OpenText& one) { return one.uri == uri; });
    if (found == texts_.end()) return false;
    found->version = version;
    const auto old = found_.find(uri);
    if (found->text == text && old != found_.end()) return true;
    found->text = std::move(text);
    // What is known of items stays until there is a newer state without mistakes.
    if (old != found_.end()) {
        if (old->second.rules && old->second.rules->sound)
            old->second.sound_rules = std::move(old->second.rules);
        old->second.description.reset();
        old->second.rules.reset();
    }
    touch(found->path);
    return true;
}

void Workspace::close(const std::string& uri) {
    const OpenText* closed = text(uri);
    if (closed == nullptr) return;
    const std::string path = closed->path;
    std::erase_if(texts_, [&](const OpenText& one) { return one.uri == uri; });
    found_.erase(uri);
    touch(path);
}

void Workspace::files_changed() {
    for (auto& [uri, found] : found_) {
        found.description.reset();
        found.rules.reset();
    }
    rules_stale_ = true;
}

// Forgets what rests on a file: descriptions that read it or that had mistakes (it may have been missing),
// and the rules if it lies among them.
void Workspace::touch(const std::string& path) {
    if (path.empty()) return;  // nothing reads a text that is no file
    if (below_rule_folders(path)) rules_stale_ = true;
    for (const OpenText& one : texts_) {
        const auto found = found_.find(one.uri);
        if (found == found_.end()) continue;
        if (same_folder(one.path, path)) found->second.rules.reset();
        if (!found->second.description) continue;
        const Inspected& of = *found->second.description;
        const bool reads = std::find(of.paths.begin(), of.paths.end(), path) != of.paths.end();
        const bool beside =
            document::readings_file_of(one.path) == path || document::concessions_file_of(one.path) == path;
        if (reads || !of.loaded || beside) found->second.description.reset();
    }
}

bool Workspace::below_rule_folders(const std::string& path) const {
    return std::any_of(rule_roots_.begin(), rule_roots_.end(),
                       [&path](const std::string& root) { return path.starts_with(root); });
}

bool Workspace::is_rule_text(const OpenText& text) const {
    return below_rule_folders(text.path) || looks_like_rules(text.text, rules_->set.vocabulary);
}

bool Workspace::is_description(const OpenText& text) const {
    if (document::is_beside_file(text.path) || is_rule_text(text)) return false;
    return looks_like_description(text.text, rules_->set.vocabulary) || (text.path.empty() && !is_read(text));
}

bool Workspace::is_read(const OpenText& text) const {
    return !text.path.empty() && std::any_of(found_.begin(), found_.end(), [&](const auto& one) {
        const Inspected* of = one.second.description.get();
        return of != nullptr && std::find(of->paths.begin(), of->paths.end(), text.path) != of->paths.end();
    });
}

void Workspace::update_description(const OpenText& text, Found& found) {
    found.description = inspect_text(text, texts_, rules_->set, libraries_, memory_);
    if (found.description->loaded) found.items = items_in(found.description->loaded->model);
    found.told = diagnostics_of(*found.description, encoding_, text.uri);
}

// A rule text, or one of which only the syntax can be judged.
void Workspace::update_other(const OpenText& text, Found& found) {
    found.told.clear();
    if (below_rule_folders(text.path)) return;  // told with its folder
    if (is_rule_text(text)) {
        if (!found.rules) found.rules = load_text(text, texts_, rules_->set);
        for (const text::Message& message : found.rules->read.messages.sorted())
            found.told.push_back(told_of(message, {found.rules->read, encoding_}, text.uri));
        return;
    }
    if (is_read(text)) return;
    Inspected alone;
    alone.uris.push_back(text.uri);
    if (const auto source = document::add_text(text.uri, text.text, alone.sources, alone.messages))
        static_cast<void>(document::read_toml(*source, alone.sources, alone.messages));
    for (const text::Message& message : alone.messages.sorted())
        found.told.push_back(told_of(message, {alone, encoding_}, text.uri));
}

void Workspace::update() {
    if (rules_stale_ && !rule_folders_.empty()) {
        auto loaded = load_folders(rule_folders_, texts_, built_in_);
        // Descriptions point into the rules that they were inspected with: first these go, then those.
        for (auto& [uri, found] : found_) {
            found.description.reset();
            found.rules.reset();
        }
        faulty_.reset();
        if (loaded->sound)
            rules_ = std::move(loaded);
        else
            faulty_ = std::move(loaded);
        const RuleTexts& now = faulty_ ? *faulty_ : *rules_;
        for (const text::Message& message : now.read.messages.sorted())
            if (message.span.source == text::no_source) troubles_.push_back(message.text);
    }
    rules_stale_ = false;
    for (const OpenText& text : texts_)
        if (is_description(text) && !found_[text.uri].description) update_description(text, found_[text.uri]);
    for (const OpenText& text : texts_)
        if (!is_description(text)) {
            found_[text.uri].description.reset();
            update_other(text, found_[text.uri]);
        }
}

std::map<std::string, std::vector<Told>> Workspace::everything() const {
    std::map<std::string, std::vector<Told>> all;
    for (const OpenText& text : texts_)
        all[text.uri];
    for (const auto& [uri, found] : found_)
        for (const Told& told : found.told)
            all[told.at.uri].push_back(told);
    if (!rule_folders_.empty()) {
        const RuleTexts& now = faulty_ ? *faulty_ : *rules_;
        for (const text::Message& message : now.read.messages.sorted())
            if (message.span.source != text::no_source) {
                Told told = told_of(message, {now.read, encoding_}, "");
                all[told.at.uri].push_back(std::move(told));
            }
    }
    for (auto& [uri, told] : all)
        drop_repeats(told);
    return all;
}

std::vector<Publication> Workspace::settle() {
    update();
    auto all = everything();
    std::vector<Publication> publications;
    for (const auto& [uri, told] : all) {
        const OpenText* open = text(uri);
        const auto version = open != nullptr ? open->version : std::nullopt;
        const auto before = published_.find(uri);
        if (before != published_.end() && before->second.first == version && before->second.second == told)
            continue;
        publications.push_back({uri, version, told});
        published_[uri] = {version, told};
    }
    for (auto before = published_.begin(); before != published_.end();) {
        if (all.contains(before->first)) {
            ++before;
            continue;
        }
        publications.push_back({before->first, std::nullopt, {}});
        before = published_.erase(before);
    }
    return publications;
}

std::vector<std::string> Workspace::take_troubles() {
    std::vector<std::string> taken;
    taken.swap(troubles_);
    return taken;
}

const Inspected* Workspace::inspected(const OpenText& text) {
    update();
    const auto own = found_.find(text.uri);
    if (own != found_.end() && own->second.description) return own->second.description.get();
    for (const auto& [uri, found] : found_) {
        const Inspected* of = found.description.get();
        if (of != nullptr && !text.path.empty() &&
            std::find(of->paths.begin(), of->paths.end(), text.path) != of->paths.end())
            return of;
    }
    return nullptr;
}

std::vector<Told> Workspace::told_at(const OpenText& text) {
    update();
    std::vector<Told> told;
    for (auto& [uri, all] : everything())
        for (Told& one : all) {
            const bool fixes_here = std::any_of(one.fixes.begin(), one.fixes.end(),
                                                [&](const Fix& fix) { return fix.at.uri == text.uri; });
            if (uri == text.uri || fixes_here) told.push_back(std::move(one));
        }
    return told;
}

const RuleTexts& Workspace::rules_of(const OpenText* text) {
    update();
    if (text == nullptr) return *rules_;
    const auto found = found_.find(text->uri);
    if (found == found_.end()) return *rules_;
    if (found->second.rules && found->second.rules->sound) return *found->second.rules;
    return found->second.sound_rules ? *found->second.sound_rules : *rules_;
}

std::vector<KnownItem> Workspace::items_of(const OpenText& text) {
    update();
    std::vector<KnownItem> items;
    const auto add = [&items](const KnownItem& item) {
        const bool there = std::any_of(items.begin(), items.end(), [&](const KnownItem& other) {
            return other.kind == item.kind && other.id == item.id;
        });
        if (!there) items.push_back(item);
    };
    for (const Header& header : headers_of(text.text))
        if (header.path.size() == 2) add({header.path[0], header.path[1]});
    const auto own = found_.find(text.uri);
    if (own != found_.end())
        for (const KnownItem& item : own->second.items)
            add(item);
    if (own == found_.end() || own->second.items.empty())
        for (const auto& [uri, found] : found_)
            for (const KnownItem& item : found.items)
                add(item);
    return items;
}

}  // namespace packproof::serve
