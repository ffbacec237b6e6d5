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

inline constexpr Font small{7.5, false, 0.0};  // of tables, notes and feet

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
  [[nodiscard]] double width() const { return canvas_.width() - 2.0 * margin; }

  void title(std::string_view text);
  void heading(std::string_view text);  // never alone at the bottom of a page
  void paragraph(std::string_view text, Font font = {});
  void point(std::string_view text);  // of a list
  void fact(std::string_view name, std::string_view value);
  // A row that is higher than half a page may go on on the next one.
  void table(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows);
  void space(double height) { y_ += height; }
  // What follows needs so much: on the next page where this one has no room.
  void keep(double height);
  // A rectangle of the whole width, on the next page where this one has no room.
  [[nodiscard]] Rect block(double height);

 private:
  static constexpr double margin = 45.0, foot_room = 26.0;

  Sheet(Canvas& canvas, const wording::Words& words, std::string head, std::string foot, int total);
  void foot();
  void new_page();
  // Down to where the foot begins.
  [[nodiscard]] double room() const { return canvas_.height() - margin - foot_room - y_; }
  // Lines as they are broken in the text, and where the width ends.
  [[nodiscard]] std::vector<std::string> wrapped(std::string_view text, double width, Font font) const;
  void wrap_line(std::string_view text, double width, Font font, std::vector<std::string>& out) const;
  void lines(const std::vector<std::string>& all, double x, Font font);
  // A row's cells, wrapped; `at`: where columns begin, and the last one ends.
  [[nodiscard]] std::vector<Cell> fitted(const std::vector<Column>& columns, const std::vector<double>& at,
                                         const std::vector<Cell>& row, Font font) const;
  void cells(const std::vector<Column>& columns, const std::vector<double>& at,
             const std::vector<Cell>& fitted, Font font);

  Canvas& canvas_;
  const wording::Words& words_;
  std::string head_, foot_;
  int total_;
  int page_ = 1;
  double y_ = margin;
};

}  // namespace dryclock::record
