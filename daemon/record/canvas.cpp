#include "record/canvas.hpp"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fontconfig/fontconfig.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "record/text.hpp"

namespace dryclock::record {
namespace {

constexpr const char* family = "DejaVu Sans";

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

std::span<const double> pattern(Dash dash) {
  static constexpr std::array dashed{4.0, 2.0};
  static constexpr std::array dotted{0.9, 1.6};
  static constexpr std::array dash_dot{5.0, 1.5, 1.0, 1.5};
  switch (dash) {
    case Dash::solid:
      return {};
    case Dash::dashed:
      return dashed;
    case Dash::dotted:
      return dotted;
    case Dash::dash_dot:
      return dash_dot;
  }
  return {};
}

// What the font has signs for: a no-break space, and what controls a printer and not the page, as a space.
std::string drawn(std::string_view text) {
  std::string out{text};
  for (auto at = out.find(no_break_space); at != std::string::npos; at = out.find(no_break_space, at)) {
    out.replace(at, no_break_space.size(), 1, ' ');
  }
  std::ranges::replace_if(
      out, [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
  return out;
}

}  // namespace

struct Canvas::State {
  std::string bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;

  void use(Stroke stroke) const {
    const auto dash = pattern(stroke.dash);
    cairo_set_source_rgb(cairo, stroke.grey, stroke.grey, stroke.grey);
    cairo_set_line_width(cairo, stroke.width);
    cairo_set_dash(cairo, dash.data(), static_cast<int>(dash.size()), 0.0);
  }
  void use(Font font) const {
    cairo_select_font_face(cairo, family, CAIRO_FONT_SLANT_NORMAL,
                           font.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo, font.size);
    cairo_set_source_rgb(cairo, font.grey, font.grey, font.grey);
  }
  void trace(const std::vector<Point>& points) const {
    cairo_new_path(cairo);
    for (const auto& point : points) {
      cairo_line_to(cairo, point.x, point.y);
    }
  }
};

Canvas::Canvas(double width, double height, const Metadata& metadata, double scale)
    : width_(width / scale), height_(height / scale), state_(std::make_unique<State>()) {
  state_->surface = cairo_pdf_surface_create_for_stream(&append, &state_->bytes, width, height);
  const auto tell = [&](cairo_pdf_metadata_t what, const std::string& text) {
    cairo_pdf_surface_set_metadata(state_->surface, what, text.c_str());
  };
  tell(CAIRO_PDF_METADATA_TITLE, metadata.title);
  tell(CAIRO_PDF_METADATA_AUTHOR, metadata.author);
  tell(CAIRO_PDF_METADATA_SUBJECT, metadata.subject);
  tell(CAIRO_PDF_METADATA_CREATOR, metadata.creator);
  // Else the library takes the time from the machine's clock. It reads whole seconds only.
  const auto made = to_rfc3339(std::chrono::floor<std::chrono::seconds>(metadata.made)).substr(0, 19) + "Z";
  tell(CAIRO_PDF_METADATA_CREATE_DATE, made);
  tell(CAIRO_PDF_METADATA_MOD_DATE, made);
  state_->cairo = cairo_create(state_->surface);
  cairo_scale(state_->cairo, scale, scale);
  cairo_set_line_join(state_->cairo, CAIRO_LINE_JOIN_ROUND);
}

Canvas::~Canvas() {
  cairo_destroy(state_->cairo);
  cairo_surface_destroy(state_->surface);
}

double Canvas::text_width(std::string_view text, Font font) const {
  state_->use(font);
  cairo_text_extents_t extents;
  cairo_text_extents(state_->cairo, drawn(text).c_str(), &extents);
  return extents.x_advance;
}

void Canvas::text(Point baseline, std::string_view text, Font font) {
  state_->use(font);
  cairo_move_to(state_->cairo, baseline.x, baseline.y);
  cairo_show_text(state_->cairo, drawn(text).c_str());
}

void Canvas::line(Point from, Point to, Stroke stroke) {
  path({from, to}, stroke);
}

void Canvas::path(const std::vector<Point>& points, Stroke stroke) {
  state_->use(stroke);
  state_->trace(points);
  cairo_stroke(state_->cairo);
}

void Canvas::area(const std::vector<Point>& outline, double grey) {
  cairo_set_source_rgb(state_->cairo, grey, grey, grey);
  state_->trace(outline);
  cairo_close_path(state_->cairo);
  cairo_fill(state_->cairo);
}

void Canvas::frame(Rect rect, Stroke stroke) {
  state_->use(stroke);
  cairo_rectangle(state_->cairo, rect.x, rect.y, rect.width, rect.height);
  cairo_stroke(state_->cairo);
}

void Canvas::hatch(Rect rect) {
  constexpr double apart = 4.0;
  clip(rect);
  const int lines = static_cast<int>(std::ceil((rect.width + rect.height) / apart));
  for (int i = 0; i < lines; ++i) {
    const double x = rect.x - rect.height + apart * i;
    line({x, rect.y + rect.height}, {x + rect.height, rect.y}, {0.4, 0.45, Dash::solid});
  }
  release();
}

void Canvas::clip(Rect rect) {
  cairo_save(state_->cairo);
  cairo_rectangle(state_->cairo, rect.x, rect.y, rect.width, rect.height);
  cairo_clip(state_->cairo);
}

void Canvas::release() {
  cairo_restore(state_->cairo);
}

void Canvas::next_page() {
  cairo_show_page(state_->cairo);
}

Result<std::string> Canvas::finish() {
  cairo_show_page(state_->cairo);
  cairo_surface_finish(state_->surface);
  auto status = cairo_status(state_->cairo);
  if (status == CAIRO_STATUS_SUCCESS) {
    status = cairo_surface_status(state_->surface);
  }
  if (status != CAIRO_STATUS_SUCCESS) {
    return Problem{std::string{"the PDF cannot be made: "} + cairo_status_to_string(status), {}};
  }
  return {boost::system::in_place_value, std::move(state_->bytes)};
}

void release_fonts() {
  cairo_debug_reset_static_data();
  FcFini();
}

}  // namespace dryclock::record
