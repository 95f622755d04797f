#include "engine/rules/person_name.hpp"

#include <re2/re2.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "engine/text/utf8.hpp"

namespace packproof::rules {

namespace {

// Letters that are written as one sign with their mark, small and capital, and the letter below the mark: by
// the canonical decompositions of the Unicode Character Database (as of Python's unicodedata), and beside
// them the barred letters, which have none.
struct Row {
    std::string_view letter;
    std::string_view marked;
};
constexpr std::array rows{
    Row{"a", "ÀÁÂÃÄÅàáâãäåĀāĂăĄąǍǎǞǟǠǡǺǻȀȁȂȃȦȧḀḁẠạẢảẤấẦầẨẩẪẫẬậẮắẰằẲẳẴẵẶặ"},
    Row{"b", "ḂḃḄḅḆḇ"},
    Row{"c", "ÇçĆćĈĉĊċČčḈḉ"},
    Row{"d", "ĎďĐđḊḋḌḍḎḏḐḑḒḓ"},
    Row{"e", "ÈÉÊËèéêëĒēĔĕĖėĘęĚěȄȅȆȇȨȩḔḕḖḗḘḙḚḛḜḝẸẹẺẻẼẽẾếỀềỂểỄễỆệ"},
    Row{"f", "Ḟḟ"},
    Row{"g", "ĜĝĞğĠġĢģǦǧǴǵḠḡ"},
    Row{"h", "ĤĥĦħȞȟḢḣḤḥḦḧḨḩḪḫẖ"},
    Row{"i", "ÌÍÎÏìíîïĨĩĪīĬĭĮįİıǏǐȈȉȊȋḬḭḮḯỈỉỊị"},
    Row{"j", "Ĵĵǰ"},
    Row{"k", "ĶķǨǩḰḱḲḳḴḵ"},
    Row{"l", "ĹĺĻļĽľŁłḶḷḸḹḺḻḼḽ"},
    Row{"m", "ḾḿṀṁṂṃ"},
    Row{"n", "ÑñŃńŅņŇňǸǹṄṅṆṇṈṉṊṋ"},
    Row{"o", "ÒÓÔÕÖØòóôõöøŌōŎŏŐőƠơǑǒǪǫǬǭǾǿȌȍȎȏȪȫȬȭȮȯȰȱṌṍṎṏṐṑṒṓỌọỎỏỐốỒồỔổỖỗỘộỚớỜờỞởỠỡỢợ"},
    Row{"p", "ṔṕṖṗ"},
    Row{"r", "ŔŕŖŗŘřȐȑȒȓṘṙṚṛṜṝṞṟ"},
    Row{"s", "ŚśŜŝŞşŠšȘșṠṡṢṣṤṥṦṧṨṩẛ"},
    Row{"t", "ŢţŤťŦŧȚțṪṫṬṭṮṯṰṱẗ"},
    Row{"u", "ÙÚÛÜùúûüŨũŪūŬŭŮůŰűŲųƯưǓǔǕǖǗǘǙǚǛǜȔȕȖȗṲṳṴṵṶṷṸṹṺṻỤụỦủỨứỪừỬửỮữỰự"},
    Row{"v", "ṼṽṾṿ"},
    Row{"w", "ŴŵẀẁẂẃẄẅẆẇẈẉẘ"},
    Row{"x", "ẊẋẌẍ"},
    Row{"y", "ÝýÿŶŷŸȲȳẎẏẙỲỳỴỵỶỷỸỹ"},
    Row{"z", "ŹźŻżŽžẐẑẒẓẔẕ"},
    Row{"æ", "ǢǣǼǽ"},
    Row{"ʒ", "Ǯǯ"},
    Row{"α", "Άά"},
    Row{"ε", "Έέ"},
    Row{"η", "Ήή"},
    Row{"ι", "ΊΐΪίϊ"},
    Row{"ο", "Όό"},
    Row{"υ", "ΎΫΰϋύ"},
    Row{"ω", "Ώώ"},
    Row{"ϒ", "ϓϔ"},
    Row{"а", "ӐӑӒӓ"},
    Row{"г", "Ѓѓ"},
    Row{"е", "ЀЁѐёӖӗ"},
    Row{"ж", "ӁӂӜӝ"},
    Row{"з", "Ӟӟ"},
    Row{"и", "ЍЙйѝӢӣӤӥ"},
    Row{"к", "Ќќ"},
    Row{"о", "Ӧӧ"},
    Row{"у", "ЎўӮӯӰӱӲӳ"},
    Row{"ч", "Ӵӵ"},
    Row{"ы", "Ӹӹ"},
    Row{"э", "Ӭӭ"},
    Row{"і", "Її"},
    Row{"ѵ", "Ѷѷ"},
    Row{"ә", "Ӛӛ"},
    Row{"ө", "Ӫӫ"},
};

std::string_view without_mark(std::string_view sign) {
    if (sign.size() == 1) return sign;
    for (const Row& row : rows)
        if (row.marked.find(sign) != std::string_view::npos) return row.letter;
    return sign;
}

RE2::Options quiet() {
    RE2::Options options;
    options.set_log_errors(false);
    return options;
}

bool finds(std::string_view text, const char* pattern) {
    const RE2 compiled(pattern, quiet());
    return RE2::PartialMatch(re2::StringPiece(text.data(), text.size()), compiled);
}

/// Letters and digits alone, each group of them a word; what nobody sees splits no word.
std::vector<std::string> words_of(std::string_view name) {
    // Marks, signs of format, and the fillers that count as letters.
    static const RE2 unseen("[\\pM\\p{Cf}\\x{115F}\\x{1160}\\x{3164}\\x{FFA0}]+", quiet());
    static const RE2 between("[^\\pL\\pN]+", quiet());
    std::string plain;
    for (std::size_t at = 0; at < name.size();) {
        const text::CodePoint point = text::code_point_at(name, at);
        plain += without_mark(name.substr(at, point.length));
        at += point.length;
    }
    RE2::GlobalReplace(&plain, unseen, "");
    RE2::GlobalReplace(&plain, between, " ");
    std::vector<std::string> words;
    std::string word;
    for (const char c : plain + ' ') {
        if (c != ' ') {
            word += c;
        } else if (!word.empty()) {
            words.push_back(word);
            word.clear();
        }
    }
    return words;
}

std::string joined(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words)
        all += word;
    return all;
}

bool same_letters(const std::string& one, const std::string& other) {
    return RE2::FullMatch(one, RE2("(?i)" + RE2::QuoteMeta(other), quiet()));
}

bool same_words(const std::vector<std::string>& words, std::vector<std::string> others) {
    if (words.size() != others.size()) return false;
    return std::all_of(words.begin(), words.end(), [&others](const std::string& word) {
        const auto same = std::find_if(others.begin(), others.end(), [&word](const std::string& other) {
            return same_letters(word, other);
        });
        if (same == others.end()) return false;
        others.erase(same);
        return true;
    });
}

}  // namespace

bool is_person_name(std::string_view text) {
    const std::string letters = joined(words_of(text));
    if (!finds(letters, "\\pL")) return false;
    for (const char* nobody : {"none", "nobody", "noone", "na"})
        if (same_letters(letters, nobody)) return false;
    int alphabets = 0;
    for (const char* alphabet : {"\\p{Latin}", "\\p{Greek}", "\\p{Cyrillic}"})
        if (finds(letters, alphabet)) ++alphabets;
    return alphabets <= 1;
}

bool may_be_one_person(std::string_view one, std::string_view other) {
    const std::vector<std::string> words = words_of(one);
    const std::vector<std::string> others = words_of(other);
    if (words.empty() || others.empty()) return false;
    return same_words(words, others) || same_letters(joined(words), joined(others));
}

}  // namespace packproof::rules
