// A page of text of a given width: headings, labelled lines, paragraphs. The only place where the text form
// writes, so that every word from a file is made harmless here and colour is added after that.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

namespace packproof::report {

enum class Ink { plain, strong, faint, alarm, warning };

class Page {
  public:
    Page(std::size_t width, bool colour);

    void blank();
    /// A thin line across the page.
    void divide();
    /// `left` in ink, then `middle`, and `right` at the right edge if it fits, else below.
    void headline(std::string_view left, Ink ink, std::string_view middle, std::string_view right);
    /// A row of a table: `left` and, at the right edge, `right`; on the next line if both do not fit.
    void row(std::string_view left, std::string_view right);
    /// Text from column `indent` on, further lines `hang` cells deeper.
    void paragraph(std::string_view words, std::size_t indent = 0, std::size_t hang = 0,
                   Ink ink = Ink::plain);
    /// "1   text": the number in the margin.
    void numbered(std::size_t number, std::string_view words);
    /// A label in the margin and text beside it, after `lead` ("  = ") on its first line; further lines stand
    /// `hang` cells deeper. An empty label continues the one above.
    void labelled(std::string_view label, std::string_view words, std::size_t hang = 0,
                  std::string_view lead = {});
    /// Like labelled, with the label right-aligned: for columns of counts.
    void counted_line(std::string_view count, std::string_view words);
    /// Nothing if `words` is empty.
    void labelled_if(std::string_view label, std::string_view words);

    /// Whether the words stand on one line beside a label.
    [[nodiscard]] bool fits_beside_label(std::string_view words) const;
    [[nodiscard]] std::string take() { return std::move(text_); }

  private:
    void at_right_edge(std::size_t taken, std::string_view harmless, Ink ink);
    void put(std::string_view harmless, Ink ink);
    void beside(std::size_t margin, std::string_view words, std::size_t hang, std::string_view lead);

    std::size_t width_;
    bool colour_;
    std::string text_;
};

}  // namespace packproof::report
