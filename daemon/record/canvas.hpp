// Pages of vector graphics, in points (1/72 inch) from the top left corner. Black and greys only: every state
// must be readable without colour. The same calls give the same bytes.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"

namespace dryclock::record {

struct Point {
  double x = 0.0, y = 0.0;
};
struct Rect {
  double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
};

struct Font {
  double size = 9.0;
  bool bold = false;
  double grey = 0.0;  // 0 black, 1 white
};

enum class Dash : unsigned char { solid, dashed, dotted, dash_dot };
struct Stroke {
  double width = 0.6;
  double grey = 0.0;
  Dash dash = Dash::solid;
};

struct Metadata {
  std::string title, author, subject, creator;
  Time made;
};

class Canvas {
 public:
  // `scale`: of all that is drawn, below 1 to get more on the sheet; width() and height() grow by as much.
  Canvas(double width, double height, const Metadata& metadata, double scale = 1.0);
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;
  ~Canvas();

  [[nodiscard]] double width() const { return width_; }
  [[nodiscard]] double height() const { return height_; }

  [[nodiscard]] double text_width(std::string_view text, Font font) const;
  void text(Point baseline, std::string_view text, Font font);
  void line(Point from, Point to, Stroke stroke);
  void path(const std::vector<Point>& points, Stroke stroke);
  void area(const std::vector<Point>& outline, double grey);
  void frame(Rect rect, Stroke stroke);
  void hatch(Rect rect);  // thin slanted lines, 4 pt apart
  // What is drawn until the matching release() is cut at the rectangle.
  void clip(Rect rect);
  void release();
  void next_page();

  // The PDF. Nothing may be drawn after it. Problem: what the library says.
  [[nodiscard]] Result<std::string> finish();

 private:
  struct State;
  double width_, height_;
  std::unique_ptr<State> state_;
};

// The font libraries keep what they have read until they are told that it is over: once, at the end of a
// program, when no thread draws any more. Nothing can be drawn after it.
void release_fonts();

}  // namespace dryclock::record
