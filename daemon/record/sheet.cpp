#include "record/sheet.hpp"

#include <algorithm>
#include <iterator>

#include "base/utf8.hpp"

namespace dryclock::record {
namespace {

constexpr Font body{};
constexpr Font small_bold{small.size, true, small.grey};
constexpr double leading = 1.32;
constexpr double cell_gap = 6.0, right_gap = 12.0;
constexpr double line_height = small.size * 1.28, below_row = 5.0;  // of a table

double height_of(const std::vector<Cell>& row) {
  std::size_t most = 1;
  for (const auto& cell : row) {
    most = std::max(most, cell.size());
  }
  return static_cast<double>(most) * line_height;
}

// Heads of a table stand on its line.
std::vector<Cell> to_the_bottom(std::vector<Cell> row) {
  const auto most = std::ranges::max_element(row, {}, &Cell::size)->size();
  for (auto& cell : row) {
    cell.insert(cell.begin(), most - cell.size(), "");
  }
  return row;
}

// Takes the first lines off a row's cells.
std::vector<Cell> first_lines(std::vector<Cell>& row, std::size_t most) {
  std::vector<Cell> taken;
  for (auto& cell : row) {
    const auto end = cell.begin() + static_cast<std::ptrdiff_t>(std::min(most, cell.size()));
    taken.emplace_back(cell.begin(), end);
    cell.erase(cell.begin(), end);
  }
  return taken;
}

}  // namespace

Result<std::string> Sheet::document(Paper paper, const wording::Words& words, const Metadata& metadata,
                                    const std::string& foot, const std::function<void(Sheet&)>& write,
                                    Fit fit) {
  const auto [width, height] = size_of(paper);
  constexpr double smallest = 0.7, step = 0.05;
  double scale = 1.0;
  int total = 0;
  while (true) {
    Canvas canvas(width, height, metadata, scale);
    Sheet sheet(canvas, words, metadata.title, foot, 0);
    write(sheet);
    total = sheet.page_;
    if (fit == Fit::as_long_as_it_is || total == 1 || scale < smallest + step) {
      break;
    }
    scale -= step;
  }
  Canvas canvas(width, height, metadata, scale);
  Sheet sheet(canvas, words, metadata.title, foot, total);
  write(sheet);
  sheet.foot();
  return canvas.finish();
}

Sheet::Sheet(Canvas& canvas, const wording::Words& words, std::string head, std::string foot, int total)
    : canvas_(canvas), words_(words), head_(std::move(head)), foot_(std::move(foot)), total_(total) {}

void Sheet::foot() {
  const double y = canvas_.height() - margin + 8.0;
  const auto page = words_.say(
      "record.page", {say::text("n", std::to_string(page_)), say::text("all", std::to_string(total_))});
  canvas_.line({margin, y - 10.0}, {margin + width(), y - 10.0}, {0.4, 0.5, Dash::solid});
  canvas_.text({margin, y}, foot_, small);
  canvas_.text({margin + width() - canvas_.text_width(page, small), y}, page, small);
}

void Sheet::new_page() {
  foot();
  canvas_.next_page();
  ++page_;
  y_ = margin;
  canvas_.text({margin, y_}, head_, small);
  y_ += 16.0;
}

void Sheet::keep(double height) {
  if (height > room()) {
    new_page();
  }
}

std::vector<std::string> Sheet::wrapped(std::string_view text, double width, Font font) const {
  std::vector<std::string> out;
  while (true) {
    const auto end = text.find('\n');
    wrap_line(text.substr(0, end), width, font, out);
    if (end == std::string_view::npos) {
      return out;
    }
    text.remove_prefix(end + 1);
  }
}

void Sheet::wrap_line(std::string_view text, double width, Font font, std::vector<std::string>& out) const {
  out.emplace_back();
  while (!text.empty()) {
    const auto end = text.find(' ');
    std::string word{text.substr(0, end)};
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    std::string longer = out.back().empty() ? word : out.back() + ' ' + word;
    if (canvas_.text_width(longer, font) <= width) {
      out.back() = std::move(longer);
      continue;
    }
    if (!out.back().empty()) {
      out.emplace_back();
    }
    while (canvas_.text_width(word, font) > width && word.size() > 1) {
      std::size_t count = word.size();
      while (count > 1 && canvas_.text_width(word.substr(0, count), font) > width) {
        count = std::max<std::size_t>(1, utf8_head(word, count - 1).size());
      }
      out.back() = word.substr(0, count);
      out.emplace_back();
      word.erase(0, count);
    }
    out.back() = word;
  }
}

void Sheet::lines(const std::vector<std::string>& all, double x, Font font) {
  for (const auto& line : all) {
    keep(font.size * leading);
    y_ += font.size * leading;
    canvas_.text({x, y_}, line, font);
  }
}

void Sheet::title(std::string_view text) {
  constexpr Font font{17.0, true, 0.0};
  lines(wrapped(text, width(), font), margin, font);
  y_ += 4.0;
}

void Sheet::heading(std::string_view text) {
  constexpr Font font{11.0, true, 0.0};
  keep(60.0);
  y_ += 10.0;
  lines({std::string{text}}, margin, font);
  y_ += 3.5;
  canvas_.line({margin, y_}, {margin + width(), y_}, {0.8, 0.0, Dash::solid});
  y_ += 3.0;
}

void Sheet::paragraph(std::string_view text, Font font) {
  lines(wrapped(text, width(), font), margin, font);
  y_ += 3.0;
}

void Sheet::point(std::string_view text) {
  constexpr double indent = 10.0;
  const auto all = wrapped(text, width() - indent, body);
  keep(body.size * leading);
  canvas_.text({margin + 1.0, y_ + body.size * leading}, "\xE2\x80\x93", body);  // en dash
  lines(all, margin + indent, body);
  y_ += 2.0;
}

void Sheet::fact(std::string_view name, std::string_view value) {
  constexpr double indent = 112.0;
  const auto all = wrapped(value, width() - indent, body);
  keep(body.size * leading);
  canvas_.text({margin, y_ + body.size * leading}, name, {body.size, false, 0.3});
  lines(all, margin + indent, body);
}

std::vector<Cell> Sheet::fitted(const std::vector<Column>& columns, const std::vector<double>& at,
                                const std::vector<Cell>& row, Font font) const {
  std::vector<Cell> out;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const double width = at[i + 1] - at[i] - (columns[i].right ? right_gap : cell_gap);
    auto& cell = out.emplace_back();
    for (const auto& line : row[i]) {
      std::ranges::move(wrapped(line, width, font), std::back_inserter(cell));
    }
  }
  return out;
}

void Sheet::cells(const std::vector<Column>& columns, const std::vector<double>& at,
                  const std::vector<Cell>& fitted, Font font) {
  for (std::size_t i = 0; i < fitted.size(); ++i) {
    for (std::size_t k = 0; k < fitted[i].size(); ++k) {
      const auto& line = fitted[i][k];
      const double x = columns[i].right ? at[i + 1] - right_gap - canvas_.text_width(line, font) : at[i];
      canvas_.text({x, y_ + static_cast<double>(k + 1) * line_height}, line, font);
    }
  }
  y_ += height_of(fitted) + 3.0;
}

void Sheet::table(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows) {
  double shares = 0.0;
  for (const auto& column : columns) {
    shares += column.share;
  }
  std::vector<double> at{margin};
  std::vector<Cell> titles;
  for (const auto& column : columns) {
    at.push_back(at.back() + column.share / shares * (width() + cell_gap));
    titles.push_back({column.title});
  }
  const auto head = to_the_bottom(fitted(columns, at, titles, small_bold));
  const auto draw_head = [&] {
    cells(columns, at, head, small_bold);
    canvas_.line({margin, y_}, {margin + width(), y_}, {0.5, 0.0, Dash::solid});
  };
  keep(height_of(head) + 3.0 * line_height);
  draw_head();
  for (const auto& row : rows) {
    auto lines_of_row = fitted(columns, at, row, small);
    const int page = page_;
    keep(std::min(height_of(lines_of_row), canvas_.height() / 2.0) + below_row);
    if (page_ != page) {
      draw_head();
    }
    while (height_of(lines_of_row) + below_row > room()) {
      const auto fit = static_cast<std::size_t>((room() - below_row) / line_height);
      cells(columns, at, first_lines(lines_of_row, fit), small);
      new_page();
      draw_head();
    }
    cells(columns, at, lines_of_row, small);
    canvas_.line({margin, y_}, {margin + width(), y_}, {0.25, 0.6, Dash::solid});
  }
  y_ += below_row;
}

Rect Sheet::block(double height) {
  keep(height);
  const Rect out{margin, y_, width(), height};
  y_ += height;
  return out;
}

}  // namespace dryclock::record
