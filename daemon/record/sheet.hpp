// Text and tables that flow down the pages of a canvas, with a head line and page numbers.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "record/canvas.hpp"
#include "record/paper.hpp"
#include "wording/words.hpp"

namespace dryclock::record {

struct Column {
  std::string title;
  double share = 1.0;  // of the width, against the others
  bool right = false;  // figures are set to the right
};
// A cell's lines; long ones are wrapped.
using Cell = std::vector<std::string>;

enum class Fit : unsigned char { as_long_as_it_is, one_page };

class Sheet {
 public:
  // Canvas and sheet of a whole document. Its title stands on top of every page but the first, `foot` at the
  // bottom of every one. `write` is called more than once: only then is the number of pages known, and how
  // small it has to be drawn for Fit::one_page, down to seven tenths.
  [[nodiscard]] static Result<std::string> document(Paper paper, const wording::Words& words,
                                                    const Metadata& metadata, const std::string& foot,
                                                    const std::function<void(Sheet&)>& write,
                                                    Fit fit = Fit::as_long_as_it_is);

  [[nodiscard]] Canvas& canvas() { return canvas_; }
  [[nodiscard]] double left() const { return margin; }
  [[nodiscard]] double width() const { return canvas_.width() - 2.0 * margin; }
  [[nodiscard]] int pages() const { return page_; }

  void title(std::string_view text);
  void heading(std::string_view text);  // never alone at the bottom of a page
  void paragraph(std::string_view text, Font font = {});
  void point(std::string_view text);  // of a list
  void fact(std::string_view name, std::string_view value);
  void table(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows);
  void space(double height) { y_ += height; }
  void new_page();
  // What follows needs so much: on the next page where this one has no room.
  void keep(double height);
  // A rectangle of the whole width, on the next page where this one has no room.
  [[nodiscard]] Rect block(double height);

 private:
  static constexpr double margin = 45.0;

  Sheet(Canvas& canvas, const wording::Words& words, std::string head, std::string foot, int total);
  void foot();
  [[nodiscard]] std::vector<std::string> wrapped(std::string_view text, double width, Font font) const;
  void lines(const std::vector<std::string>& all, double x, Font font);
  void table_head(const std::vector<Column>& columns, const std::vector<double>& at);

  Canvas& canvas_;
  const wording::Words& words_;
  std::string head_, foot_;
  int total_;
  int page_ = 1;
  double y_ = margin;
};

}  // namespace dryclock::record
