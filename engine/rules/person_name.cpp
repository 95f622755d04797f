#include "engine/rules/person_name.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "engine/language/pattern.hpp"
#include "engine/text/utf8.hpp"

namespace packproof::rules {

namespace {

constexpr std::size_t longest_name = 200;  // bytes; patterns have a limit

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

using language::pattern_matches;

/// Letters and digits alone, each group of them a word; what nobody sees splits no word.
std::vector<std::string> words_of(std::string_view name) {
    // Marks, signs of format, and the fillers that count as letters.
    constexpr std::string_view unseen = "[\\pM\\p{Cf}\\x{115F}\\x{1160}\\x{3164}\\x{FFA0}]";
    std::vector<std::string> words;
    bool inside = false;
    for (std::size_t at = 0; at < name.size();) {
        const std::string_view sign = name.substr(at, text::code_point_at(name, at).length);
        at += sign.size();
        if (pattern_matches(unseen, sign)) continue;
        const bool letter = pattern_matches("[\\pL\\pN]", sign);
        if (letter && !inside) words.emplace_back();
        if (letter) words.back() += without_mark(sign);
        inside = letter;
    }
    return words;
}

std::string joined(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words)
        all += word;
    return all;
}

/// Both are letters and digits, which a pattern takes as they are.
bool same_letters(const std::string& one, const std::string& other) {
    return pattern_matches("(?i)" + other, one);
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
    if (text.size() > longest_name) return false;
    const std::string letters = joined(words_of(text));
    if (!pattern_matches(".*\\pL.*", letters)) return false;
    for (const char* nobody : {"none", "nobody", "noone", "na"})
        if (same_letters(letters, nobody)) return false;
    int alphabets = 0;
    for (const char* alphabet : {".*\\p{Latin}.*", ".*\\p{Greek}.*", ".*\\p{Cyrillic}.*"})
        if (pattern_matches(alphabet, letters)) ++alphabets;
    return alphabets <= 1;
}

bool may_be_one_person(std::string_view one, std::string_view other) {
    const std::vector<std::string> words = words_of(one);
    const std::vector<std::string> others = words_of(other);
    if (words.empty() || others.empty()) return false;
    return same_words(words, others) || same_letters(joined(words), joined(others));
}

}  // namespace packproof::rules
